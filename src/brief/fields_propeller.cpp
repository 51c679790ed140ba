// The fields of [propeller] and the tables below it.
#include "fields.h"
#include "propwright/base/constants.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;
using P = Propeller;

constexpr double degree = base::degree_rad;

std::vector<Field<Job>> blade_shape_fields() {
  const auto in = [](auto member) { return at(&Job::propeller, member); };
  return {
      text("propeller.name", 120, in(&P::name), "Written on the hub; printed on every part."),
      whole("propeller.blades", 2, 4, in(&P::blades), "Number of blades."),
      quantity("propeller.diameter", D::length, 0.06, 0.7, in(&P::diameter_m), "Tip to tip.")
          .needed(),
      words("propeller.hand", {"clockwise", "anticlockwise"}, in(&P::hand),
            "Way it turns, seen from behind the model. Templates of the two hands are mirror "
            "images."),
      quantity("propeller.camber", D::ratio, 0, 0.15, in(&P::camber),
               "Height of the blade's arch over its chord."),
      quantity("propeller.spar_position", D::ratio, 0, 1, in(&P::spar_position),
               "Spar line behind the leading edge, as a fraction of the chord."),
      quantity("propeller.pitch", D::length, 0.05, 2.5, in(&P::pitch_m),
               "Pitch as set, at gauge_radius. With the outline below it states the blade; "
               "[[propeller.station]] or [[propeller.measured_angle]] take its place.")
          .absent("stations or readings state the blade"),
      quantity("propeller.form_pitch", D::length, 0.05, 2.5, in(&P::form_pitch_m),
               "Pitch of the form the blade is made on; the blade is turned from it to the set "
               "pitch.")
          .absent("the set pitch"),
      quantity("propeller.gauge_radius", D::length, 0.01, 0.35, in(&P::gauge_radius_m),
               "Where the pitch is set and checked.")
          .absent("the 45-degree station if it lies between 0.3 and 0.9 of the radius, else 0.7 "
                  "of the radius"),
      quantity("propeller.angle_overbend", D::ratio, 0.8, 1.3, in(&P::angle_overbend),
               "The form's angles are this times the wanted ones, for springback. Learn it from "
               "your own blades."),
      quantity("propeller.camber_overbend", D::ratio, 0.8, 2, in(&P::camber_overbend),
               "The form's camber is this times the wanted one."),
      file("propeller.polar_file", in(&P::polar_file),
           "CSV of section polars with the columns alpha_deg, cl, cd and, if known, re, camber, "
           "cm. Left out: the built-in thin arcs."),

      quantity("propeller.outline.root_radius", D::length, 0.001, 0.3, in(&P::root_radius_m),
               "Inner end of the blade.")
          .absent("*needed* with an outline"),
      quantity("propeller.outline.widest_chord", D::length, 0.003, 0.15, in(&P::widest_chord_m),
               "Largest straight distance between the edges.")
          .absent("*needed* with an outline"),
      quantity("propeller.outline.widest_at", D::ratio, 0.1, 0.95, in(&P::widest_at),
               "Where, as a fraction of the tip radius."),
      quantity("propeller.outline.root_chord", D::length, 0.001, 0.15, in(&P::root_chord_m),
               "Chord at the root radius.")
          .absent("*needed* with an outline"),
      quantity("propeller.outline.tip_roundness", D::ratio, 0.1, 1.5, in(&P::tip_roundness),
               "Shape of the tip: 0.5 like an ellipse, 1 pointed, 0.25 blunt."),
  };
}

std::vector<Field<Job>> blade_build_fields() {
  const auto in = [](auto member) { return at(&Job::propeller, &P::build, member); };
  using B = BladeBuild;
  return {
      words("propeller.blade.kind", {"sheet", "built-up"}, in(&B::kind),
            "`sheet`: formed from sheet wood; `built-up`: outline, ribs and covering."),
      quantity("propeller.blade.sheet_thickness", D::length, 0.0001, 0.003,
               in(&B::sheet_thickness_m), "Of the sheet of a sheet blade."),
      quantity("propeller.blade.wood_density", D::density, 50, 400, in(&B::wood_density_kg_m3),
               "Of sheet, outline and ribs."),
      quantity("propeller.blade.wood_modulus", D::modulus, 0.2e9, 20e9, in(&B::wood_modulus_Pa),
               "Long modulus of that wood, for a blade that flexes.")
          .absent("21.25 MJ/kg times its density"),
      quantity("propeller.blade.outline_size", D::length, 0.0002, 0.003, in(&B::outline_size_m),
               "Side of the square outline strip of a built-up blade."),
      whole("propeller.blade.rib_count", 0, 40, in(&B::rib_count), "Ribs of one blade."),
      quantity("propeller.blade.rib_depth", D::length, 0.0003, 0.006, in(&B::rib_depth_m),
               "Depth of a rib."),
      quantity("propeller.blade.rib_thickness", D::length, 0.0002, 0.003, in(&B::rib_thickness_m),
               "Thickness of a rib."),
      quantity("propeller.blade.covering", D::areal_density, 0, 0.02, in(&B::covering_kg_m2),
               "Film or tissue, per side; 0 for a bare sheet. A built-up blade needs it "
               "(films weigh 0.5 to 0.8 g/m2, tissue 5 to 14 g/m2: common practice)."),
      whole("propeller.blade.covered_sides", 1, 2, in(&B::covered_sides), "Sides covered."),
  };
}

std::vector<Field<Job>> spar_fields() {
  const auto in = [](auto member) { return at(&Job::propeller, &P::spar, member); };
  return {
      quantity("propeller.spar.length", D::length, 0, 0.4, in(&Spar::length_m),
               "Of one spar; 0 without a separate spar."),
      quantity("propeller.spar.root_width", D::length, 0, 0.01, in(&Spar::root_width_m),
               "Along the chord, at the inner end."),
      quantity("propeller.spar.root_depth", D::length, 0, 0.01, in(&Spar::root_depth_m),
               "Across the chord, at the inner end."),
      quantity("propeller.spar.tip_width", D::length, 0, 0.01, in(&Spar::tip_width_m),
               "Along the chord, at the outer end."),
      quantity("propeller.spar.tip_depth", D::length, 0, 0.01, in(&Spar::tip_depth_m),
               "Across the chord, at the outer end."),
      quantity("propeller.spar.density", D::density, 50, 2000, in(&Spar::density_kg_m3),
               "Of the spar wood."),
      quantity("propeller.spar.root_radius", D::length, 0, 0.3, in(&Spar::root_radius_m),
               "Radius at which the spar starts."),
      quantity("propeller.spar.modulus", D::modulus, 0.2e9, 500e9, in(&Spar::modulus_Pa),
               "Long modulus of the spar, as the deflection test tells it.")
          .absent("21.25 MJ/kg times its density"),
  };
}

std::vector<Field<Job>> flex_fields() {
  const auto in = [](auto member) { return at(&Job::propeller, &P::flex, member); };
  using F = FlexTests;
  return {
      flag(
          "propeller.flex.fly", in(&F::fly),
          "Whether the prediction flies the blade as it bends and twists under its loads, by spar, "
          "edges, sheet and film above. False: a rigid blade."),
      quantity("propeller.flex.twist_mass", D::mass, 1e-6, 0.1, in(&F::twist_mass_kg),
               "Twist test of a finished blade, held at its inner end: mass hung on an arm across "
               "it. With it go arm, radius and angle; the torsional stiffness is scaled to it.")
          .absent("torsional stiffness by the parts alone"),
      quantity("propeller.flex.twist_arm", D::length, 0.002, 0.3, in(&F::twist_arm_m),
               "From the spar line to the thread of that mass.")
          .absent("*needed* with twist_mass"),
      quantity("propeller.flex.twist_radius", D::length, 0.01, 0.35, in(&F::twist_radius_m),
               "Where the arm sits, from the shaft axis.")
          .absent("*needed* with twist_mass"),
      quantity("propeller.flex.twist_angle", D::angle, 0.1 * degree, 60 * degree,
               in(&F::twist_angle_rad), "The arm's turn under that mass.")
          .absent("*needed* with twist_mass"),
      quantity(
          "propeller.flex.bend_mass", D::mass, 1e-6, 0.1, in(&F::bend_mass_kg),
          "Bend test square to the chord, held at the inner end: mass hung from the blade. With "
          "it go radius and deflection; the bending stiffness is scaled to it.")
          .absent("bending stiffness by the parts alone"),
      quantity("propeller.flex.bend_radius", D::length, 0.01, 0.35, in(&F::bend_radius_m),
               "Where it hangs and where the deflection is read, from the shaft axis.")
          .absent("*needed* with bend_mass"),
      quantity("propeller.flex.bend_deflection", D::length, 0.0001, 0.1, in(&F::bend_deflection_m),
               "How far the blade goes down there.")
          .absent("*needed* with bend_mass"),
  };
}

std::vector<Field<Job>> hub_fields() {
  const auto in = [](auto member) { return at(&Job::propeller, &P::hub, member); };
  return {
      quantity("propeller.hub.mass", D::mass, 0, 0.005, in(&Hub::mass_kg),
               "Tubes and fittings, without the shaft."),
      quantity("propeller.hub.shaft_diameter", D::length, 0.0001, 0.002, in(&Hub::shaft_diameter_m),
               "Of the wire."),
      quantity("propeller.hub.shaft_length", D::length, 0, 0.2, in(&Hub::shaft_length_m),
               "Of the wire straightened out, hook included."),
      quantity("propeller.hub.arm_diameter", D::length, 0, 0.01, in(&Hub::arm_diameter_m),
               "Of the bare spar or arm between shaft and blade, for its drag; 0 without."),
      quantity("propeller.hub.friction", D::ratio, 0, 0.2, in(&Hub::friction_fraction),
               "Share of the motor's torque lost at the washers (1 to 3 %, judgement)."),
      flag("propeller.hub.freewheels", in(&Hub::freewheels),
           "Whether the propeller turns freely once the motor is done."),
  };
}

}  // namespace

std::vector<Field<Job>> propeller_fields() {
  std::vector<Field<Job>> all = blade_shape_fields();
  for (auto part : {blade_build_fields(), spar_fields(), flex_fields(), hub_fields()}) {
    all.insert(all.end(), part.begin(), part.end());
  }
  return all;
}

const std::vector<Field<Station>>& station_fields() {
  static const std::vector<Field<Station>> fields = {
      quantity<Station>("radius", D::length, 0.001, 0.35, at(&Station::radius_m),
                        "From the shaft axis, increasing; the last is the tip.")
          .needed(),
      quantity<Station>("chord", D::length, 0, 0.15, at(&Station::chord_m),
                        "Straight distance between the edges.")
          .needed(),
      quantity<Station>("angle", D::angle, -20 * degree, 120 * degree, at(&Station::angle_rad),
                        "Of the chord from the disc plane.")
          .needed(),
      quantity<Station>("camber", D::ratio, 0, 0.15, at(&Station::camber),
                        "Height of the arch over the chord.")
          .absent("propeller.camber"),
  };
  return fields;
}

const std::vector<Field<MeasuredAngle>>& measured_angle_fields() {
  static const std::vector<Field<MeasuredAngle>> fields = {
      quantity<MeasuredAngle>("radius", D::length, 0.005, 0.35, at(&MeasuredAngle::radius_m),
                              "Where the gauge stood, increasing.")
          .needed(),
      quantity<MeasuredAngle>("angle", D::angle, 3 * degree, 87 * degree,
                              at(&MeasuredAngle::angle_rad),
                              "Of the chord from the disc plane. One reading is taken for a "
                              "helix; between several the pitch is interpolated.")
          .needed(),
  };
  return fields;
}

const std::vector<Field<MeasuredChord>>& measured_chord_fields() {
  static const std::vector<Field<MeasuredChord>> fields = {
      quantity<MeasuredChord>("radius", D::length, 0.001, 0.35, at(&MeasuredChord::radius_m),
                              "Where the chord was measured, increasing; at least three rows, the "
                              "first at the root.")
          .needed(),
      quantity<MeasuredChord>("chord", D::length, 0, 0.15, at(&MeasuredChord::chord_m),
                              "Straight distance between the edges.")
          .needed(),
  };
  return fields;
}

}  // namespace propwright::brief
