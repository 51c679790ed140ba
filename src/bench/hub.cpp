#include "propwright/bench/hub.h"

#include <fmt/format.h>

#include <cmath>

#include "check.h"

namespace propwright::bench {
namespace {

using Status = HubCheck::Status;
using Subject = HubCheck::Subject;

void check_hub_lengths(Checks& checks, const HubReading& h) {
  const auto length = [&](const std::optional<double>& value, double low, const char* field) {
    if (!value) return;
    checks.within(*value, low, 1.0, field, in_mm(*value),
                  low > 0 ? "above 0, at most 1 m" : "0 to 1 m", "measure again and give the unit");
  };
  constexpr double thin = 1e-5;
  length(h.bore_m, thin, "bore_m");
  length(h.root_circle_m, thin, "root_circle_m");
  length(h.wire_diameter_m, thin, "wire_diameter_m");
  length(h.wire_length_m, thin, "wire_length_m");
  length(h.bearing_hole_m, thin, "bearing_hole_m");
  length(h.washer_radius_m, thin, "washer_radius_m");
  length(h.shaft_length_m, thin, "shaft_length_m");
  length(h.hook_run_out_m, 0, "hook_run_out_m");
  length(h.shaft_bow_m, 0, "shaft_bow_m");
  if (h.shaft_bow_m && !h.shaft_length_m) {
    checks.add("shaft_length_m", "missing", "above 0, at most 1 m",
               "give the length over which the bow was read", "a bow needs its length");
  }
}

base::Problems hub_problems(const HubReading& h, const HubLoads& l, const Instruments& i) {
  Checks checks;
  checks.add(problems_of(i));
  check_hub_lengths(checks, h);
  const auto mass = [&](double value, const char* field) {
    checks.within(value, 0, greatest_mass_kg, field, in_mg(value), "0 to 1 kg", "weigh again");
  };
  mass(h.washer_mass_kg, "washer_mass_kg");
  mass(h.tubes_mass_kg, "tubes_mass_kg");
  mass(h.glue_mass_kg, "glue_mass_kg");
  if (h.weighed_mass_kg) mass(*h.weighed_mass_kg, "weighed_mass_kg");
  checks.within(h.washers, 0, 20, "washers", fmt::format("{}", h.washers), "0 to 20", "count them");
  const auto angle = [&](const std::optional<double>& value, const char* field, double about) {
    if (!value) return;
    checks.within(*value, about - 0.6, about + 0.6, field, in_degrees(*value),
                  fmt::format("{:.0f} degrees, within 34", about / base::degree_rad),
                  "read the angle again");
  };
  angle(h.socket_a_rad, "socket_a_rad", base::pi / 2);
  angle(h.socket_b_rad, "socket_b_rad", base::pi / 2);
  angle(h.socket_line_rad, "socket_line_rad", base::pi);
  const auto load = [&](double value, double high, const char* field, const char* unit) {
    checks.within(value, 0, high, field, fmt::format("{:g} {}", value, unit),
                  fmt::format("0 to {:g} {}", high, unit), "0 when not known");
  };
  load(l.motor_pull_N, 1000, "loads.motor_pull_N", "N");
  load(l.motor_torque_Nm, 10, "loads.motor_torque_Nm", "N m");
  load(l.tip_radius_m, 10, "loads.tip_radius_m", "m");
  load(l.blade_moment_kgm, 1, "loads.blade_moment_kgm", "kg m");
  load(l.wire_density_kg_m3, 30000, "loads.wire_density_kg_m3", "kg/m3");
  load(l.washer_friction, 2, "loads.washer_friction", "");
  return checks.take();
}

Status status_of(Figure amount, double tolerance) {
  switch (within(amount, tolerance)) {
    case Within::yes:
      return Status::ok;
    case Within::no:
      return Status::suspect;
    case Within::cannot_tell:
      break;
  }
  return Status::cannot_tell;
}

HubCheck not_measured(Subject subject, const char* sentence) {
  return {.subject = subject, .status = Status::not_measured, .sentence = sentence};
}

std::optional<Figure> scaled(Figure amount, double by) {
  if (by == 0) return std::nullopt;
  return Figure{std::abs(amount.value) * by, amount.sigma * by};
}

const char* word_of(Status status) {
  return status == Status::ok        ? "in order"
         : status == Status::suspect ? "suspect"
                                     : "cannot be told with this reading";
}

HubCheck hook_check(const std::optional<Figure>& offset, const HubLoads& l, double tolerance_m) {
  if (!offset) {
    return not_measured(Subject::hook, "Turn the shaft once and read how far the hook swings.");
  }
  HubCheck c{.subject = Subject::hook, .status = status_of(*offset, tolerance_m)};
  c.amount = *offset;
  c.amount_unit = "m";
  c.effect = scaled(*offset, l.motor_pull_N);
  c.effect_unit = "N m";
  c.formula = "moment once per turn = hook offset x motor pull";
  c.sentence =
      fmt::format("The hook stands {} off the axis: {}.", in_mm(offset->value), word_of(c.status));
  return c;
}

HubCheck shaft_check(const HubReading& h, const HubLoads& l, const Instruments& i,
                     double tolerance_rad) {
  if (!h.shaft_bow_m) {
    return not_measured(Subject::shaft, "Lay the shaft on a flat and read the daylight under it.");
  }
  // An arc of length L and height f: its ends lean by 4 f/L from the chord.
  const double per_m = 4 / *h.shaft_length_m;
  HubCheck c{.subject = Subject::shaft};
  c.amount = {per_m * *h.shaft_bow_m, per_m * reading_sigma(i.micrometer_resolution_m, 0)};
  c.amount_unit = "rad";
  c.status = status_of(c.amount, tolerance_rad);
  c.effect = scaled(c.amount, l.tip_radius_m);
  c.effect_unit = "m";
  c.formula = "lean = 4 x bow / length; tips out of track = lean x tip radius";
  c.sentence = fmt::format("The shaft's ends lean by {}: {}.", in_degrees(c.amount.value),
                           word_of(c.status));
  return c;
}

HubCheck track_check(const HubReading& h, const HubLoads& l, const Instruments& i,
                     double tolerance_rad) {
  if (!h.socket_a_rad || !h.socket_b_rad) {
    return not_measured(Subject::track, "Measure both sockets against the shaft.");
  }
  HubCheck c{.subject = Subject::track};
  c.amount = {*h.socket_a_rad - *h.socket_b_rad,
              std::sqrt(2.0) * reading_sigma(i.angle_resolution_rad, i.angle_repeatability_rad)};
  c.amount_unit = "rad";
  c.status = status_of(c.amount, tolerance_rad);
  c.effect = scaled(c.amount, l.tip_radius_m);
  c.effect_unit = "m";
  c.formula = "tips out of track = difference of the sockets x tip radius";
  c.sentence = fmt::format("The sockets differ by {} against the shaft: {}.",
                           in_degrees(c.amount.value), word_of(c.status));
  return c;
}

HubCheck line_check(const HubReading& h, const HubLoads& l, const Instruments& i,
                    double tolerance_rad) {
  if (!h.socket_line_rad) {
    return not_measured(Subject::socket_line,
                        "Look along the shaft: do the sockets make one line?");
  }
  HubCheck c{.subject = Subject::socket_line};
  c.amount = {base::pi - *h.socket_line_rad,
              reading_sigma(i.angle_resolution_rad, i.angle_repeatability_rad)};
  c.amount_unit = "rad";
  c.status = status_of(c.amount, tolerance_rad);
  c.effect = scaled(c.amount, l.blade_moment_kgm);
  c.effect_unit = "kg m";
  c.formula = "static imbalance, square to the blades = first moment of a blade x angle";
  c.sentence = fmt::format("Seen along the shaft the sockets are {} out of one line: {}.",
                           in_degrees(c.amount.value), word_of(c.status));
  return c;
}

HubCheck fit_check(Subject subject, const std::optional<double>& hole,
                   const std::optional<double>& wood, const Instruments& i,
                   const HubTolerances& t) {
  const bool root = subject == Subject::root_fit;
  if (!hole || !wood) {
    return not_measured(subject, root ? "Measure the tube's bore and the root across its corners."
                                      : "Measure the bearing's hole and the wire.");
  }
  HubCheck c{.subject = subject};
  c.amount = {*hole - *wood, std::sqrt(2.0) * reading_sigma(i.micrometer_resolution_m, 0)};
  c.amount_unit = "m";
  const double middle = (t.least_clearance_m + t.greatest_clearance_m) / 2;
  c.status = status_of({c.amount.value - middle, c.amount.sigma}, t.greatest_clearance_m - middle);
  const char* loose = root ? "loose: the blade's angle can creep" : "loose: the shaft can wander";
  const char* tight = root ? "tight: thin the root, do not force it" : "tight: it will rub";
  c.sentence = fmt::format("Clearance {}: {}.", in_mm(c.amount.value),
                           c.status != Status::suspect ? word_of(c.status)
                           : c.amount.value > middle   ? loose
                                                       : tight);
  c.formula = root ? "clearance = bore - circle around the root" : "clearance = hole - wire";
  return c;
}

HubCheck friction_check(const HubReading& h, const HubLoads& l, const HubTolerances& t) {
  if (!h.washer_radius_m || l.motor_pull_N == 0 || l.motor_torque_Nm == 0) {
    return not_measured(Subject::friction,
                        "Needs the washer's radius, the motor's pull and its torque in cruise.");
  }
  // PTFE 0.04 to 0.10: a third of the value either way.
  const double torque = l.washer_friction * l.motor_pull_N * *h.washer_radius_m;
  HubCheck c{.subject = Subject::friction, .status = Status::ok};
  c.amount = {torque, 0.3 * torque};
  c.amount_unit = "N m";
  c.status = status_of(c.amount, t.friction_share * l.motor_torque_Nm);
  c.formula = "torque lost = friction x motor pull x mean radius of the washer";
  c.sentence = fmt::format("The washers take {:.1f} % of the torque: {}.",
                           100 * torque / l.motor_torque_Nm, word_of(c.status));
  return c;
}

void weigh_hub(HubFigures& f, const HubReading& h, const HubLoads& l, const Instruments& i) {
  f.planned_mass_kg = h.tubes_mass_kg + h.glue_mass_kg + h.washers * h.washer_mass_kg;
  if (h.wire_diameter_m && h.wire_length_m) {
    f.wire_mass_kg =
        l.wire_density_kg_m3 * base::pi / 4 * squared(*h.wire_diameter_m) * *h.wire_length_m;
    f.planned_mass_kg += *f.wire_mass_kg;
  }
  if (h.weighed_mass_kg) {
    f.over_mass_kg = Figure{*h.weighed_mass_kg - f.planned_mass_kg, net_mass_sigma_kg(i)};
  }
}

}  // namespace

base::Expected<HubFigures> hub_figures(const HubReading& hub, const HubLoads& loads,
                                       const Instruments& instruments,
                                       const HubTolerances& tolerances) {
  if (auto problems = hub_problems(hub, loads, instruments); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  HubFigures f;
  weigh_hub(f, hub, loads, instruments);
  if (hub.hook_run_out_m) {
    // The run-out is the difference of two readings, the offset half of it.
    f.hook_offset_m = Figure{*hub.hook_run_out_m / 2,
                             reading_sigma(instruments.rule_resolution_m, 0) / std::sqrt(2.0)};
  }
  f.checks = {hook_check(f.hook_offset_m, loads, tolerances.hook_offset_m),
              shaft_check(hub, loads, instruments, tolerances.shaft_slope_rad),
              track_check(hub, loads, instruments, tolerances.socket_rad),
              line_check(hub, loads, instruments, tolerances.socket_rad),
              fit_check(Subject::root_fit, hub.bore_m, hub.root_circle_m, instruments, tolerances),
              fit_check(Subject::bearing_fit, hub.bearing_hole_m, hub.wire_diameter_m, instruments,
                        tolerances),
              friction_check(hub, loads, tolerances)};
  return f;
}

}  // namespace propwright::bench
