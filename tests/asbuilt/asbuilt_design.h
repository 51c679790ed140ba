/// Designs for the tests: the project's example as designed, rigid and with a balsa spar.
#pragma once

#include <cmath>

#include "jobs.h"
#include "propwright/asbuilt/blade.h"
#include "propwright/base/constants.h"
#include "propwright/predict/predict.h"

namespace propwright::asbuilt_test {

/// "lantern46", launched as it plans.
inline asbuilt::Design rigid_design() {
  const brief::Job job = support::example("lantern46");
  const auto nominal = predict::predict(job, support::attachments(job)).value();
  asbuilt::Design design;
  design.blade = nominal.assembly.blade;
  design.family = nominal.assembly.family;
  design.options = nominal.assembly.rotor_options;
  design.flow = {nominal.assembly.air.density_kg_m3, nominal.assembly.air.viscosity_Pa_s};
  design.blade_mass_kg = 150e-6;
  design.blade_moment_kgm = 150e-6 * 0.09;
  design.setup = nominal.setup;
  return design;
}

/// The same on a square spar of 2.4 to 1.1 mm, E 1.5 GPa, G/E 0.044, at 0.40 of the chord.
inline asbuilt::Design flexing_design() {
  asbuilt::Design design = rigid_design();
  flex::BladeBeam beam;
  const auto& rows = design.blade.rows;
  const double hub = rows.front().radius_m, tip = rows.back().radius_m;
  for (const rotor::BladeRow& row : rows) {
    const double side = 2.4e-3 - 1.3e-3 * (row.radius_m - hub) / (tip - hub);
    const double fourth = std::pow(side, 4);
    beam.rows.push_back({.radius_m = row.radius_m,
                         .flapwise_Nm2 = 1.5e9 * fourth / 12,
                         .chordwise_Nm2 = 1.5e9 * fourth / 12,
                         .torsion_Nm2 = 0.044 * 1.5e9 * 0.1406 * fourth,
                         .mass_kg_per_m = 5e-4,
                         .inertia_kg_m = 1e-7,
                         .angle_rad = row.angle_rad,
                         .behind_quarter_m = 0.15 * row.chord_m});
  }
  design.beam = beam;
  return design;
}

inline asbuilt::BladeDeviation off_by(asbuilt::Aspect aspect, double value, double sigma = 0) {
  asbuilt::BladeDeviation d;
  const auto i = static_cast<std::size_t>(aspect);
  d.value[i] = value;
  d.sigma[i] = sigma;
  d.measured[i] = true;
  return d;
}

}  // namespace propwright::asbuilt_test
