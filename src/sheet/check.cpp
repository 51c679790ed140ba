#include "check.h"

#include <fmt/format.h>

#include <cmath>

#include "quantity.h"

namespace propwright::sheet {
namespace {

/// Collects problems; every test names its field.
class Checker {
 public:
  void finite(const std::string& field, double value) {
    if (std::isfinite(value)) return;
    problems_.push_back({.field = field,
                         .value = fmt::format("{}", value),
                         .allowed = "a finite number",
                         .remedy = "correct the input it comes from",
                         .message = "the number cannot be printed"});
  }
  void finite(const std::string& field, const std::vector<double>& values) {
    for (const double value : values) {
      if (std::isfinite(value)) continue;
      finite(field, value);
      return;
    }
  }
  void series(const std::string& field, const Series& curve) {
    finite(field, curve.x);
    finite(field, curve.y);
    same_size(field, curve.x.size(), curve.y.size());
  }
  void same_size(const std::string& field, std::size_t a, std::size_t b) {
    if (a == b) return;
    problems_.push_back({.field = field,
                         .value = fmt::format("{} and {} values", a, b),
                         .allowed = "lists of one length",
                         .remedy = "give every x its y",
                         .message = "a curve has lists of unequal length"});
  }
  void add(base::Problems more) {
    for (base::Problem& problem : more) problems_.push_back(std::move(problem));
  }
  base::Problems take() { return std::move(problems_); }

 private:
  base::Problems problems_;
};

void check_facts(Checker& checker, const PacketData& data) {
  const Headline& h = data.headline;
  checker.finite("headline", {h.duration_s, h.sigma_s, h.low_s, h.high_s, h.bound_s, h.top_height_m,
                              h.top_time_s, h.turns_left});
  checker.finite("hall.roof", data.job.roof_m);
  const PropellerFacts& p = data.propeller;
  checker.finite("propeller",
                 {p.diameter_m, p.form_pitch_m, p.set_pitch_m, p.gauge_radius_m, p.gauge_angle_rad,
                  p.turn_rad, p.radius_45_m, p.widest_chord_m, p.camber, p.mass_kg});
  const MotorFacts& m = data.motor;
  checker.finite("motor", {m.strip_width_m, m.strip_thickness_m, m.loop_length_m, m.mass_kg,
                           m.breaking_turns, m.wind_turns, m.wind_torque_Nm, m.backed_off_turns,
                           m.launch_turns, m.launch_torque_Nm, m.wait_s});
}

void check_curves(Checker& checker, const PacketData& data) {
  checker.series("flight.height", data.flight.height_m);
  checker.series("flight.revs", data.flight.rev_per_s);
  checker.series("flight.torque", data.flight.torque_Nm);
  checker.series("flight.band", {data.flight.band_time_s, data.flight.band_low_m});
  checker.series("flight.band", {data.flight.band_time_s, data.flight.band_high_m});
  for (const EnergyPart& part : data.energy) checker.finite("energy." + part.label, part.energy_J);
  checker.series("rotor.efficiency", data.rotor.efficiency);
  checker.series("rotor.torque", data.rotor.torque_Nm);
  checker.finite("rotor", {data.rotor.flown_low, data.rotor.flown_high, data.rotor.speed_m_s});
  for (const Condition& at : data.rotor.conditions) {
    checker.finite("rotor." + at.name,
                   {at.advance_ratio, at.efficiency, at.rev_per_s, at.motor_torque_Nm});
    checker.series("rotor." + at.name + ".attack", at.alpha_rad);
  }
  checker.series("winding.unwinding", data.winding.unwinding_Nm);
  checker.series("winding.winding", data.winding.winding_Nm);
  for (const BackOffRow& row : data.winding.back_off) {
    checker.finite("winding.back_off",
                   {row.backed_off_turns, row.launch_turns, row.launch_torque_Nm,
                    row.top_height_m.value_or(0), row.duration_s.value_or(0)});
  }
}

void check_tables(Checker& checker, const PacketData& data) {
  for (const StationRow& s : data.stations) {
    checker.finite("stations", {s.radius_m, s.chord_m, s.angle_rad, s.pitch_m, s.gauge_angle_rad,
                                s.form_angle_rad, s.block_height_m, s.block_width_m,
                                s.camber_height_m, s.sheet_width_m, s.lead_m, s.trail_m});
  }
  checker.finite("spar", {data.spar.density_kg_m3, data.spar.mass_kg});
  for (const SparRow& row : data.spar.rows) {
    checker.finite("spar.rows", {row.along_m, row.width_m, row.depth_m});
  }
  for (const CutItem& item : data.spar.cut_list) {
    checker.finite("spar.cut_list." + item.name,
                   {item.length_m, item.width_m, item.depth_m, item.mass_kg});
  }
  for (const WeightRow& row : data.weights) checker.finite("weights." + row.part, row.mass_kg);
}

}  // namespace

base::Problems check(const PacketOptions& options) {
  base::Problems problems;
  constexpr double least_m = 0.095, most_m = 0.105;
  if (options.bar_measured_m &&
      !(*options.bar_measured_m >= least_m && *options.bar_measured_m <= most_m)) {
    problems.push_back(
        {.field = "bar_measured",
         .value = fmt::format("{:g} mm", 1000 * *options.bar_measured_m),
         .allowed = "95 to 105 mm",
         .remedy = "print at 100 %, no fitting to the page, and measure the 100 mm bar again",
         .message = "a bar this far out is a print at the wrong size, not a printer's error"});
  }
  if (!is_iso_date(options.date)) {
    problems.push_back({.field = "date",
                        .value = options.date,
                        .allowed = "year-month-day, e.g. 2026-11-25",
                        .remedy = "give the date in this form",
                        .message = "the date of the packet cannot be read"});
  }
  return problems;
}

base::Problems check(const form::Template& drawing) {
  Checker checker;
  bool any = false;
  for (const form::TemplateLine& line : drawing.lines) {
    for (const auto& [x, y] : line.points_m) {
      checker.finite("template " + drawing.name, {x, y});
      any = true;
    }
  }
  for (const form::TemplateText& text : drawing.texts) {
    checker.finite("template " + drawing.name, {text.x_m, text.y_m, text.angle_deg, text.value_m});
  }
  base::Problems problems = checker.take();
  const bool plain = !drawing.name.empty() && drawing.name.front() != '.' &&
                     drawing.name.find_first_not_of(
                         "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRST"
                         "UVWXYZ0123456789-_.") == std::string::npos;
  if (!plain || !any) {
    problems.push_back({.field = "template",
                        .value = drawing.name,
                        .allowed = "a name of letters, digits, '-', '_' and '.', and some line",
                        .remedy = "name the template and give it points",
                        .message = "the template cannot be drawn"});
  }
  return problems;
}

base::Problems check(const PacketData& data) {
  Checker checker;
  check_facts(checker, data);
  check_curves(checker, data);
  check_tables(checker, data);
  if (data.outline) checker.add(check(*data.outline));
  for (const RadiusTemplate& item : data.form_stations) checker.add(check(item.drawing));
  for (const RadiusTemplate& item : data.ribs) checker.add(check(item.drawing));
  return checker.take();
}

}  // namespace propwright::sheet
