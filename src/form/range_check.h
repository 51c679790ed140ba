/// Options that must lie within limits.
#pragma once

#include <fmt/format.h>

#include <string>

#include "propwright/base/problem.h"

namespace propwright::form {

/// Adds a problem where a length is not within its limits, told in mm.
inline void check_length(const std::string& field, double length_m, double least_m, double most_m,
                         base::Problems& problems) {
  if (length_m >= least_m && length_m <= most_m) return;
  problems.push_back({.field = field,
                      .value = fmt::format("{:g} mm", 1e3 * length_m),
                      .allowed = fmt::format("{:g} mm to {:g} mm", 1e3 * least_m, 1e3 * most_m),
                      .remedy = "give a length within these limits",
                      .message = "the length is out of range"});
}

inline void check_count(const std::string& field, int count, int least, int most,
                        base::Problems& problems) {
  if (count >= least && count <= most) return;
  problems.push_back({.field = field,
                      .value = fmt::format("{}", count),
                      .allowed = fmt::format("{} to {}", least, most),
                      .remedy = "give a number within these limits",
                      .message = "the number is out of range"});
}

}  // namespace propwright::form
