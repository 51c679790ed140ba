/// Round ticks for an axis.
#pragma once

#include <vector>

namespace propwright::sheet {

struct Ticks {
  std::vector<double> values;
  int decimals = 0;  ///< that every value needs
  double step = 0;
};

/// Ticks at multiples of 1, 2 or 5 times a power of ten within [low, high] (a hair of rounding
/// included), about `wanted` of them. high > low.
Ticks round_ticks(double low, double high, int wanted);

/// All multiples of `step` within [low, high]; step a 1, 2 or 5 times a power of ten.
Ticks even_ticks(double low, double high, double step);

/// The largest multiple of the ticks' step not above `value`, and the smallest not below: the ends
/// of an axis that begins and stops at a tick.
double floor_to_step(double value, double step);
double ceil_to_step(double value, double step);

}  // namespace propwright::sheet
