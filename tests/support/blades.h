/// Blades and polars that several tests use.
#pragma once

#include <cmath>
#include <string>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"

namespace propwright::support {

inline constexpr rotor::Flow room_air{1.2, 1.81e-5};

/// A helical blade of elliptic-like outline: 390 mm, pitch 700 mm unless told otherwise.
inline rotor::Blade helical_blade(double tip_m = 0.195, double pitch_m = 0.70,
                                  double chord_m = 0.05, double camber = 0.06) {
  rotor::Blade blade;
  const double root = 0.18 * tip_m;
  for (int i = 0; i <= 24; ++i) {
    // Rows crowd towards the tip, where the outline is round.
    const double s = 1 - i / 24.0;
    const double r = tip_m - (tip_m - root) * s * s;
    const double x = (r - root) / (tip_m - root);
    const double chord = chord_m * (0.4 + 0.9 * x) * std::sqrt(std::max(0.0, 1 - std::pow(x, 3)));
    blade.rows.push_back({r, chord, std::atan(pitch_m / (2 * base::pi * r)), camber});
  }
  return blade;
}

/// A polar that knows no Reynolds number: lift of slope `slope` about zero-lift angle -2 degrees up
/// to 14 degrees, constant drag.
inline section::Family fixed_polar(double slope = 5.5, double drag = 0.03) {
  std::string csv = "alpha_deg,cl,cd\n";
  for (int degree = -14; degree <= 14; ++degree) {
    const double lift = slope * (degree + 2) * base::degree_rad;
    csv += std::to_string(degree) + "," + std::to_string(lift) + "," + std::to_string(drag) + "\n";
  }
  return section::Family::read(csv, "fixed polar").value();
}

}  // namespace propwright::support
