// How the blade bends and twists, by what it is built of and by tests of it.
#include "propwright/brief/stiffness.h"

#include "parts.h"
#include "propwright/base/constants.h"

namespace propwright::brief {

flex::Parts blade_parts(const Propeller& p, const rotor::Blade& blade) {
  flex::Parts parts;
  for (const rotor::BladeRow& row : blade.rows) {
    parts.plan.push_back({row.radius_m, row.chord_m, row.angle_rad, row.camber});
  }
  const BladeBuild& b = p.build;
  const flex::Wood wood{b.wood_density_kg_m3, b.wood_modulus_Pa};
  if (b.kind == BladeKind::sheet) {
    parts.sheet = flex::SheetPart{b.sheet_thickness_m, wood};
  } else {
    parts.built_up =
        flex::BuiltUpPart{b.outline_size_m, b.rib_count, b.rib_depth_m, b.rib_thickness_m, wood};
  }
  parts.film = {b.covering_kg_m2, b.covered_sides};
  const Spar& s = p.spar;
  if (s.length_m > 0) {
    const auto section = [](double width_m, double depth_m) {
      return spar::Section{spar::Shape::rectangular, width_m, depth_m, 0};
    };
    parts.spar = flex::SparPart{spar::taper(section(s.root_width_m, s.root_depth_m), {},
                                            section(s.tip_width_m, s.tip_depth_m), s.length_m),
                                s.root_radius_m,
                                p.spar_position,
                                {s.density_kg_m3, s.modulus_Pa}};
  }
  return parts;
}

namespace {

/// The fields behind a problem of the module, so that the user finds them.
base::Problems in_fields(base::Problems problems, const char* test) {
  for (base::Problem& problem : problems) {
    problem.field = test ? test : "propeller.flex.fly";
    if (!test) problem.remedy += "; or fly the blade rigid (propeller.flex.fly = false)";
  }
  return problems;
}

}  // namespace

base::Expected<flex::BladeBeam> make_beam(const Propeller& propeller, const rotor::Blade& blade) {
  auto beam = flex::beam_of(blade_parts(propeller, blade));
  if (!beam) return base::fail(in_fields(std::move(beam.error()), nullptr));
  const FlexTests& tests = propeller.flex;
  if (tests.twist_mass_kg) {
    const double torque_Nm = *tests.twist_mass_kg * base::gravity_m_s2 * *tests.twist_arm_m;
    beam = flex::scaled_to(
        *beam, flex::TwistCheck{*tests.twist_radius_m, torque_Nm, *tests.twist_angle_rad});
    if (!beam) {
      return base::fail(in_fields(std::move(beam.error()), "propeller.flex.twist_angle"));
    }
  }
  if (tests.bend_mass_kg) {
    beam = flex::scaled_to(
        *beam, flex::BendCheck{*tests.bend_radius_m, *tests.bend_mass_kg * base::gravity_m_s2,
                               *tests.bend_deflection_m});
    if (!beam) {
      return base::fail(in_fields(std::move(beam.error()), "propeller.flex.bend_deflection"));
    }
  }
  return beam;
}

}  // namespace propwright::brief
