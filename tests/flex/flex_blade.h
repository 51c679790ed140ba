/// A blade of the trade's proportions for the tests: 390 mm, pitch 700 mm, a square balsa spar.
#pragma once

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/flex/flex.h"

namespace propwright::flex_test {

inline constexpr rotor::Flow air{1.2, 1.81e-5};
inline constexpr double tip_m = 0.195, hub_m = 0.034;

inline double chord_m(double r) {
  const double x = std::abs(r / tip_m - 0.6) / 0.4;
  return 0.058 * std::sqrt(std::max(0.0, 1 - std::pow(x, 2.2) * (r / tip_m > 0.6)));
}
inline double angle_rad(double r) {
  return std::atan(0.700 / (2 * base::pi * r));
}

inline rotor::Rotor make_rotor() {
  rotor::Blade blade;
  for (int i = 0; i <= 20; ++i) {
    const double r = hub_m + (tip_m - hub_m) * i / 20;
    blade.rows.push_back({r, chord_m(r), angle_rad(r), 0.06});
  }
  return rotor::Rotor::make(blade, section::Family::thin_arc()).value();
}

/// Square spar 2.4 to 1.1 mm, E 1.5 GPa, G/E 0.044, at `position` of the chord, its stiffness times
/// `stiffness`.
inline flex::BladeBeam make_beam(double position = 0.40, double stiffness = 1) {
  flex::BladeBeam beam;
  const double root = 0.006;
  for (int i = 0; i <= 40; ++i) {
    const double r = root + (tip_m - root) * i / 40;
    const double side = 2.4e-3 + (1.1e-3 - 2.4e-3) * (r - root) / (tip_m - root);
    const double fourth = std::pow(side, 4), chord = r < hub_m ? 0 : chord_m(r);
    flex::BeamRow row;
    row.radius_m = r;
    row.flapwise_Nm2 = row.chordwise_Nm2 = stiffness * 1.5e9 * fourth / 12;
    row.torsion_Nm2 = stiffness * 0.044 * 1.5e9 * 0.1406 * fourth;
    row.mass_kg_per_m = 80 * side * side + 0.008 * chord;
    row.inertia_kg_m = 0.008 * chord * chord * chord / 12;
    row.angle_rad = angle_rad(std::max(r, hub_m));
    row.behind_quarter_m = (position - 0.25) * chord;
    row.half_depth_m = row.half_width_m = side / 2;
    row.modulus_Pa = 1.5e9;
    row.rupture_Pa = 10e6;
    beam.rows.push_back(row);
  }
  return beam;
}

}  // namespace propwright::flex_test
