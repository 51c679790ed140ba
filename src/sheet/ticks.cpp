#include "ticks.h"

#include <algorithm>
#include <cmath>

namespace propwright::sheet {

Ticks round_ticks(double low, double high, int wanted) {
  const double raw = (high - low) / std::max(wanted, 1);
  const double power = std::floor(std::log10(raw));
  const double unit = std::pow(10.0, power);
  Ticks ticks;
  ticks.step = 10 * unit;
  int exponent = static_cast<int>(power) + 1;
  for (const double factor : {1.0, 2.0, 5.0}) {
    // A step within a tenth of the raw one still gives about the number of ticks wanted.
    if (factor * unit < 0.9 * raw) continue;
    ticks.step = factor * unit;
    exponent = static_cast<int>(power);
    break;
  }
  ticks.decimals = std::max(0, -exponent);
  const double hair = 1e-9;  // of a step: above the rounding of low/step, below any visible length
  const auto first = static_cast<long>(std::ceil(low / ticks.step - hair));
  const auto last = static_cast<long>(std::floor(high / ticks.step + hair));
  for (long i = first; i <= last; ++i) ticks.values.push_back(static_cast<double>(i) * ticks.step);
  return ticks;
}

double floor_to_step(double value, double step) {
  return std::floor(value / step + 1e-9) * step;
}
double ceil_to_step(double value, double step) {
  return std::ceil(value / step - 1e-9) * step;
}

}  // namespace propwright::sheet
