/// Axes of the packet's charts, from the user's units and the data's range.
#pragma once

#include <vector>

#include "chart.h"
#include "quantity.h"

namespace propwright::sheet {

/// Least and greatest of the finite numbers in SI; both 0 when there are none.
struct Range {
  double low = 0, high = 0;
  bool empty = true;
  void include(double value);
  void include(const std::vector<double>& values);
};

/// An axis over `range`, ends as given.
Axis exact_axis(const std::string& title, const PrintUnit& unit, const Range& range, int ticks);
/// An axis widened to whole ticks.
Axis round_axis(const std::string& title, const PrintUnit& unit, const Range& range, int ticks);
/// Flight time in minutes, from 0.
Axis time_axis(double end_s);

}  // namespace propwright::sheet
