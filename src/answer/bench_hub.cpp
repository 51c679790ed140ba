// The hub: what it weighs and what each fault of alignment does.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"
#include "bench_parts.h"
#include "propwright/base/constants.h"
#include "propwright/bench/tube.h"

namespace propwright::answer {
namespace {

using bench::HubCheck;
using D = units::Dimension;

constexpr const char* hub_keys[] = {"hook",     "shaft",       "track",   "socket_line",
                                    "root_fit", "bearing_fit", "friction"};
constexpr const char* hub_labels[] = {
    "Hook on the axis", "Shaft straight",   "Blades in one plane",
    "Sockets in line",  "Root in the tube", "Shaft in the bearing",
    "Washers"};
constexpr const char* hub_statuses[] = {"ok", "suspect", "cannot_tell", "not_measured"};

void read_root_circle(BenchReader& reader, bench::HubReading& hub) {
  const bool round = reader.word("spar_shape", {"round", "square"}) != "square";
  const auto side_m = reader.length("spar_root", {1e-4, 0.02});
  if (!side_m) return;
  hub.root_circle_m = bench::root_circle_m({*side_m, *side_m, round ? *side_m / 2 : 0.0});
}

bench::HubReading read_hub(BenchReader& reader) {
  bench::HubReading hub;
  hub.bore_m = reader.length("tube_bore", {1e-4, 0.02});
  read_root_circle(reader, hub);
  hub.wire_diameter_m = reader.length("wire_diameter", {1e-4, 0.003});
  hub.wire_length_m = reader.length("wire_length", {1e-3, 0.5});
  hub.bearing_hole_m = reader.length("bearing_hole", {1e-4, 0.005});
  hub.washer_radius_m = reader.length("washer_radius", {1e-4, 0.01});
  hub.washers = reader.count("washers", 0, 20).value_or(0);
  hub.washer_mass_kg = reader.mass("washer_mass", {0, 1e-3}).value_or(0);
  hub.tubes_mass_kg = reader.mass("tubes_mass", {0, 0.02}).value_or(0);
  hub.glue_mass_kg = reader.mass("glue_mass", {0, 0.02}).value_or(0);
  hub.weighed_mass_kg = reader.mass("weighed", {1e-8, 0.05});
  hub.hook_run_out_m = reader.length("hook_run_out", {0, 0.05});
  hub.shaft_bow_m = reader.length("shaft_bow", {0, 0.02});
  hub.shaft_length_m = reader.length("shaft_length", {1e-3, 0.5});
  hub.socket_a_rad = reader.angle("socket_a", 45, 135);
  hub.socket_b_rad = reader.angle("socket_b", 45, 135);
  hub.socket_line_rad = reader.angle("socket_line", 90, 270);
  return hub;
}

/// Left out, those of the job and of the blades of the same question.
bench::HubLoads read_loads(BenchReader& reader, const BenchContext& context) {
  bench::HubLoads loads;
  loads.motor_pull_N = reader.quantity("tension", D::force, bench_force_N).value_or(0);
  double torque_Nm = 0, tip_m = 0;
  if (context.job) {
    torque_Nm = context.job->nominal.flight.cruise_torque_Nm;
    tip_m = context.job->loaded.job.propeller.diameter_m / 2;
  }
  loads.motor_torque_Nm = reader.quantity("torque", D::torque, {0, 0.5}).value_or(torque_Nm);
  for (const auto& blade : context.blades) {
    if (tip_m == 0 && blade) tip_m = blade->length_m;
  }
  loads.tip_radius_m = reader.length("tip_radius", bench_radius_m).value_or(tip_m);
  for (const auto& figures : context.blade_figures) {
    if (figures && figures->moment_kgm) loads.blade_moment_kgm = figures->moment_kgm->value;
  }
  return loads;
}

/// The unit as the answer has it; angles in degrees.
struct HubAmount {
  Json value, sigma;
  std::string unit;
};
HubAmount amount_of(const HubCheck& check) {
  const bool rad = check.amount_unit == "rad",
             known = check.status != HubCheck::Status::not_measured;
  const auto shown = [&](double si) {
    if (!known) return Json(nullptr);
    return Json(rad ? bench_degrees(si) : si);
  };
  std::string unit = rad ? "deg" : check.amount_unit == "N m" ? "N_m" : check.amount_unit;
  if (unit.empty()) unit = "1";
  return {shown(check.amount.value), shown(check.amount.sigma), unit};
}

Json hub_checks(const bench::HubFigures& figures, const BenchContext& context) {
  Json list = Json::array();
  for (const HubCheck& check : figures.checks) {
    const auto i = static_cast<std::size_t>(check.subject);
    const HubAmount amount = amount_of(check);
    list.push_back({{"key", hub_keys[i]},
                    {"label", hub_labels[i]},
                    {"verdict", hub_statuses[static_cast<std::size_t>(check.status)]},
                    {"value", amount.value},
                    {"sigma", amount.sigma},
                    {"unit", amount.unit},
                    {"effect", value_or_null(check.effect)},
                    {"effect_sigma", sigma_or_null(check.effect)},
                    {"effect_unit", check.effect_unit},
                    {"formula", check.formula},
                    {"sentence", context.worded(check.sentence)}});
  }
  return list;
}

std::vector<std::string> hub_sentences(const bench::HubFigures& figures,
                                       const BenchContext& context) {
  std::vector<std::string> sentences;
  if (figures.planned_mass_kg > 0) {
    std::string text = "The parts add up to " + context.mass(figures.planned_mass_kg);
    if (figures.over_mass_kg) {
      const double over_kg = figures.over_mass_kg->value;
      text += fmt::format("; the hub weighs {} {}", context.mass(std::abs(over_kg)),
                          over_kg >= 0 ? "more" : "less");
    }
    sentences.push_back(text + ".");
  }
  for (const HubCheck& check : figures.checks) {
    if (check.status == HubCheck::Status::suspect)
      sentences.push_back(context.worded(check.sentence));
  }
  return sentences;
}

}  // namespace

Json bench_hub(const Json& table, BenchContext& context) {
  BenchReader reader(table, "hub",
                     {"tube_bore",    "spar_root", "spar_shape",   "wire_diameter", "wire_length",
                      "bearing_hole", "washers",   "washer_mass",  "washer_radius", "tubes_mass",
                      "glue_mass",    "weighed",   "hook_run_out", "shaft_bow",     "shaft_length",
                      "socket_a",     "socket_b",  "socket_line",  "tension",       "torque",
                      "tip_radius"});
  const bench::HubReading hub = read_hub(reader);
  const bench::HubLoads loads = read_loads(reader, context);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  auto figures = bench::hub_figures(hub, loads, context.instruments);
  if (!figures) {
    context.add(bench_fields(figures.error(), "hub",
                             {{"bore_m", "tube_bore"},
                              {"root_circle_m", "spar_root"},
                              {"weighed_mass_kg", "weighed"},
                              {"motor_pull_N", "tension"},
                              {"motor_torque_Nm", "torque"},
                              {"loads", ""}}));
    return nullptr;
  }
  context.hub = std::move(*figures);
  const bench::HubFigures& f = *context.hub;
  return {{"hook_offset_m", value_or_null(f.hook_offset_m)},
          {"hook_offset_sigma_m", sigma_or_null(f.hook_offset_m)},
          {"wire_mass_kg", number_or_null(f.wire_mass_kg)},
          {"planned_mass_kg", f.planned_mass_kg},
          {"over_mass_kg", value_or_null(f.over_mass_kg)},
          {"over_mass_sigma_kg", sigma_or_null(f.over_mass_kg)},
          {"checks", hub_checks(f, context)},
          {"caution", cautions::wire},
          {"sentences", hub_sentences(f, context)}};
}

}  // namespace propwright::answer
