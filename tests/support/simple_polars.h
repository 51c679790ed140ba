/// Polars whose answers are known without a computer.
#pragma once

#include <sstream>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/section/section.h"

namespace propwright::test {

/// cl = slope (alpha - zero_lift) and constant cd between -30 and 30 degrees, without dependence on
/// Re or camber. Points on a line make the monotone cubic that line, so it is exact to rounding.
inline section::Family linear_family(double slope_per_rad, double zero_lift_rad, double cd) {
  std::ostringstream csv;
  csv.precision(16);
  csv << "alpha_deg,cl,cd\n";
  for (int degree = -30; degree <= 30; degree += 2) {
    csv << degree << ',' << slope_per_rad * (degree * base::degree_rad - zero_lift_rad) << ',' << cd
        << '\n';
  }
  auto family = section::Family::read(csv.str(), "linear.csv");
  if (!family) throw std::runtime_error(base::to_line(family.error().front()));
  return *family;
}

}  // namespace propwright::test
