/// The blade and conditions of the rotor map benchmark: 390 mm, pitch 700 mm, 40 advance ratios.
#pragma once

#include <cmath>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"

namespace propwright::bench {

inline rotor::Blade blade() {
  rotor::Blade blade;
  const double tip = 0.195;
  for (int i = 0; i <= 20; ++i) {
    const double r = 0.034 + (tip - 0.034) * i / 20;
    const double x = std::abs(r / tip - 0.6) / 0.4;
    const double chord = 0.058 * std::sqrt(std::max(0.0, 1 - std::pow(x, 2.2) * (r / tip > 0.6)));
    blade.rows.push_back({r, chord, std::atan(0.700 / (2 * base::pi * r)), 0.06});
  }
  return blade;
}

inline constexpr rotor::Flow flow{1.2, 1.81e-5};

/// 40 advance ratios from static to a little past zero thrust, at 1.6 rev/s.
inline std::vector<rotor::Condition> map_conditions(const rotor::Rotor& rotor) {
  const double revs = 1.6;
  const double last = 1.03 * rotor::zero_thrust_advance_ratio(rotor, flow, revs).value();
  std::vector<rotor::Condition> conditions;
  for (int i = 0; i < 40; ++i) {
    conditions.push_back({last * i / 39 * revs * rotor.diameter_m(), revs});
  }
  return conditions;
}

}  // namespace propwright::bench
