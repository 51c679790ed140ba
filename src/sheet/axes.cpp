#include "axes.h"

#include <algorithm>
#include <cmath>

namespace propwright::sheet {

void Range::include(double value) {
  if (!std::isfinite(value)) return;
  low = empty ? value : std::min(low, value);
  high = empty ? value : std::max(high, value);
  empty = false;
}

void Range::include(const std::vector<double>& values) {
  for (const double value : values) include(value);
}

Axis exact_axis(const std::string& title, const PrintUnit& unit, const Range& range, int ticks) {
  const double factor = unit.si_per_unit();
  Axis axis{title, unit.symbol(), factor, range.low / factor, range.high / factor, ticks};
  // A range of no extent still needs an axis to stand on.
  if (!(axis.high > axis.low)) axis.high = axis.low + std::max(1.0, std::abs(axis.low));
  return axis;
}

Axis round_axis(const std::string& title, const PrintUnit& unit, const Range& range, int ticks) {
  return widen_to_ticks(exact_axis(title, unit, range, ticks));
}

Axis time_axis(double end_s) {
  const PrintUnit minutes{units::Dimension::time, "min", 0};
  Range range;
  range.include(0.0);
  range.include(end_s);
  return round_axis("time", minutes, range, 8);
}

}  // namespace propwright::sheet
