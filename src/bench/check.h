/// How this module says what is wrong with a number. Private to the module.
#pragma once

#include <cmath>
#include <string>
#include <utility>

#include "propwright/base/problem.h"

namespace propwright::bench {

/// Collects the problems of one set of inputs.
class Checks {
 public:
  /// `shown` is the value in the trade's unit, e.g. "-3 mg".
  void within(double value, double low, double high, std::string field, std::string shown,
              std::string allowed, std::string remedy) {
    if (std::isfinite(value) && value >= low && value <= high) return;
    add(std::move(field), std::move(shown), std::move(allowed), std::move(remedy),
        std::isfinite(value) ? "out of range" : "not a number");
  }
  void add(std::string field, std::string shown, std::string allowed, std::string remedy,
           std::string message) {
    problems_.push_back({.field = std::move(field),
                         .value = std::move(shown),
                         .allowed = std::move(allowed),
                         .remedy = std::move(remedy),
                         .message = std::move(message)});
  }
  void add(base::Problems problems, const std::string& prefix = {}) {
    for (base::Problem& problem : problems) {
      problem.field = prefix + problem.field;
      problems_.push_back(std::move(problem));
    }
  }
  bool sound() const { return problems_.empty(); }
  base::Problems take() { return std::move(problems_); }

 private:
  base::Problems problems_;
};

inline double squared(double x) {
  return x * x;
}

/// A number in the trade's unit for messages: "12.5 mm", "31 mg", "1.25 degrees".
std::string in_mm(double length_m);
std::string in_mg(double mass_kg);
std::string in_degrees(double angle_rad);

// The bounds that many inputs share: what a part of an indoor model can be.
inline constexpr double least_mass_kg = 1e-9, greatest_mass_kg = 1.0;
inline constexpr double least_length_m = 1e-4, greatest_length_m = 10.0;
inline constexpr double least_thickness_m = 1e-7, greatest_thickness_m = 0.1;

void check_mass(Checks& checks, double mass_kg, const std::string& field);
void check_length(Checks& checks, double length_m, const std::string& field);
void check_thickness(Checks& checks, double thickness_m, const std::string& field);

}  // namespace propwright::bench
