/// A random valid job, drawn field by field from the table of fields.
#pragma once

#include <rapidcheck.h>

#include <algorithm>

#include "fields.h"
#include "propwright/brief/assemble.h"

namespace propwright::brief {

template <class Owner>
Value random_value(const Field<Owner>& field) {
  static const std::vector<std::string> texts = {
      "plain", "with \"quotes\" and \\", "Flügel № 3 – 45°", " spaces ", "#no remark", "x = 1"};
  constexpr int steps = 1000003;
  switch (field.kind) {
    case Kind::quantity:
    case Kind::difference:
      return field.low + (field.high - field.low) * *rc::gen::inRange(0, steps + 1) / steps;
    case Kind::whole:
      return *rc::gen::inRange(static_cast<int>(field.low), static_cast<int>(field.high) + 1);
    case Kind::words:
      return *rc::gen::inRange(0, static_cast<int>(field.words.size()));
    case Kind::flag:
      return *rc::gen::arbitrary<bool>();
    case Kind::text:
    case Kind::file:
      break;
  }
  return *rc::gen::elementOf(texts);
}

template <class Owner>
void fill(const std::vector<Field<Owner>>& fields, Owner& owner) {
  for (const auto& field : fields) {
    if (field.required || *rc::gen::arbitrary<bool>()) field.set(owner, random_value(field));
  }
}

/// `count` rows at increasing radii, the last at the tip.
template <class Row>
std::vector<Row> random_rows(const std::vector<Field<Row>>& fields, int count, double tip_m) {
  std::vector<Row> rows(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    Row& row = rows[static_cast<std::size_t>(i)];
    fill(fields, row);
    row.radius_m = tip_m * (i + 1) / count;
  }
  return rows;
}

inline void agree_on_site(Job& job) {
  if (job.air.pressure_is_reduced) {
    job.air.pressure_Pa = job.air.pressure_Pa.value_or(101000);
    job.air.altitude_m = job.air.altitude_m.value_or(120);
  }
  Model& model = job.model;
  if (model.wing_chord_m) model.wing_chord_m = std::min(*model.wing_chord_m, model.wing_span_m);
  model.wing_area_m2.reset();
  if (!model.wing_chord_m)
    model.wing_area_m2 = std::min(model.wing_span_m * model.wing_span_m / 3, 1.0);
}

inline void agree_on_motor(Job& job) {
  Rubber& rubber = job.rubber;
  if (rubber.test_file.empty()) {
    rubber.test_section_m2 = rubber.test_length_m = rubber.test_mass_kg = {};
    rubber.test_temperature_K = {};
  } else {
    rubber.energy_J_per_kg = Rubber{}.energy_J_per_kg;
    rubber.turns_constant = Rubber{}.turns_constant;
    rubber.density_kg_m3 = Rubber{}.density_kg_m3;
    rubber.test_section_m2 = rubber.test_section_m2.value_or(5e-6);
    rubber.test_length_m = rubber.test_length_m.value_or(0.3);
    rubber.test_mass_kg = rubber.test_mass_kg.value_or(0.0014);
  }
  if (!job.motor.mass_kg) job.motor.strip_width_m = job.motor.strip_width_m.value_or(0.002);
  Launch& launch = job.launch;
  job.hall.roof_height_m = std::max(job.hall.roof_height_m, 6.0);
  if (launch.margin_m) launch.margin_m = std::min(*launch.margin_m, 1.0);
  if (launch.margin_m) launch.turns.reset();
  if (launch.margin_m || launch.turns) launch.torque_Nm.reset();
  if (launch.wound_turns) launch.wind_fraction = Launch{}.wind_fraction;
  if (launch.turns && launch.wound_turns) {
    launch.turns = std::min(*launch.turns, *launch.wound_turns);
  }
}

inline void clear_outline(Propeller& p) {
  const Propeller untouched;
  p.root_radius_m = untouched.root_radius_m;
  p.widest_chord_m = untouched.widest_chord_m;
  p.widest_at = untouched.widest_at;
  p.root_chord_m = untouched.root_chord_m;
  p.tip_roundness = untouched.tip_roundness;
}

inline void agree_on_outline(Propeller& p) {
  const double tip_m = p.diameter_m / 2;
  p.root_radius_m = std::clamp(p.root_radius_m, 0.001, 0.2 * tip_m);
  p.widest_at = std::max(p.widest_at, 0.25);
  p.widest_chord_m = std::clamp(p.widest_chord_m, 0.003, std::min(0.15, 0.9 * tip_m));
  p.root_chord_m = std::clamp(p.root_chord_m, 0.001, p.widest_chord_m);
}

inline void agree_on_propeller(Propeller& p) {
  const double tip_m = p.diameter_m / 2;
  const bool chords = *rc::gen::arbitrary<bool>();
  p.source = static_cast<BladeSource>(*rc::gen::inRange(0, 3));
  if (p.source == BladeSource::stations) {
    p.stations = random_rows(station_fields(), *rc::gen::inRange(3, 8), tip_m);
  } else if (p.source == BladeSource::measured) {
    p.measured_angles = random_rows(measured_angle_fields(), *rc::gen::inRange(1, 5), tip_m);
    if (chords) p.measured_chords = random_rows(measured_chord_fields(), 4, tip_m);
  }
  if (p.source == BladeSource::pitch) {
    p.pitch_m = p.pitch_m.value_or(0.6);
  } else {
    p.pitch_m.reset();
  }
  const bool no_outline = p.source == BladeSource::stations || !p.measured_chords.empty();
  no_outline ? clear_outline(p) : agree_on_outline(p);
  if (p.gauge_radius_m) p.gauge_radius_m = 0.7 * tip_m;
  Spar& s = p.spar;
  s.root_radius_m = std::min(s.root_radius_m, 0.1 * tip_m);
  s.length_m = std::min(s.length_m, 0.9 * tip_m);
  for (double* size : {&s.root_width_m, &s.root_depth_m, &s.tip_width_m, &s.tip_depth_m}) {
    *size = s.length_m > 0 ? std::max(*size, 0.0004) : 0;
  }
  FlexTests& f = p.flex;
  for (auto* radius : {&f.twist_radius_m, &f.bend_radius_m}) {
    if (*radius) *radius = std::min(**radius, tip_m);
  }
  if (!f.twist_mass_kg) f.twist_arm_m = f.twist_radius_m = f.twist_angle_rad = {};
  if (f.twist_mass_kg) {
    f.twist_arm_m = f.twist_arm_m.value_or(0.02);
    f.twist_radius_m = f.twist_radius_m.value_or(0.8 * tip_m);
    f.twist_angle_rad = f.twist_angle_rad.value_or(0.1);
  }
  if (!f.bend_mass_kg) f.bend_radius_m = f.bend_deflection_m = {};
  if (f.bend_mass_kg) {
    f.bend_radius_m = f.bend_radius_m.value_or(0.8 * tip_m);
    f.bend_deflection_m = f.bend_deflection_m.value_or(0.005);
  }
  if (p.build.kind == BladeKind::built_up) {
    p.build.covering_kg_m2 = std::max(p.build.covering_kg_m2, 0.0005);
  }
}

/// Up to three directions, each of length 1.
inline std::vector<LearnedDirection> random_directions() {
  std::vector<LearnedDirection> directions(static_cast<std::size_t>(*rc::gen::inRange(0, 4)));
  for (LearnedDirection& direction : directions) {
    const auto first = static_cast<std::size_t>(*rc::gen::inRange(0, 12));
    const auto step = static_cast<std::size_t>(*rc::gen::inRange(1, 12));
    direction.left = *rc::gen::inRange(1, 10001) / 1e4;
    direction.*(learned_keys()[first].component) = 0.6;
    direction.*(learned_keys()[(first + step) % learned_count].component) = -0.8;
  }
  return directions;
}

inline Job random_job() {
  Job job;
  fill(job_fields(), job);
  agree_on_site(job);
  agree_on_motor(job);
  agree_on_propeller(job.propeller);
  job.learned.directions = random_directions();
  return job;
}

}  // namespace propwright::brief
