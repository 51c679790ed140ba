#include "ticks.h"

#include <algorithm>
#include <cmath>

namespace propwright::sheet {

Ticks even_ticks(double low, double high, double step) {
  constexpr double hair = 1e-9;  // of a step: above the rounding of low/step, below any seen length
  Ticks ticks;
  ticks.step = step;
  ticks.decimals = std::max(0, -static_cast<int>(std::floor(std::log10(step) + hair)));
  const auto first = static_cast<long>(std::ceil(low / step - hair));
  const auto last = static_cast<long>(std::floor(high / step + hair));
  for (long i = first; i <= last; ++i) ticks.values.push_back(static_cast<double>(i) * step);
  return ticks;
}

Ticks round_ticks(double low, double high, int wanted) {
  const double raw = (high - low) / std::max(wanted, 1);
  const double unit = std::pow(10.0, std::floor(std::log10(raw)));
  double step = 10 * unit;
  for (const double factor : {5.0, 2.0, 1.0}) {
    // A step within a tenth of the raw one still gives about the number of ticks wanted.
    if (factor * unit >= 0.9 * raw) step = factor * unit;
  }
  return even_ticks(low, high, step);
}

double floor_to_step(double value, double step) {
  return std::floor(value / step + 1e-9) * step;
}
double ceil_to_step(double value, double step) {
  return std::ceil(value / step - 1e-9) * step;
}

}  // namespace propwright::sheet
