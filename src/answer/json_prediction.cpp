#include <nlohmann/json.hpp>

#include "flexing.h"
#include "live_parts.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"
#include "propwright/base/constants.h"

namespace propwright::answer {

Json energy_json(const flight::Energy& energy) {
  Json json{{"at_break", energy.at_break}};
  for (const LedgerLine& part : ledger(energy)) json[part.key] = part.energy_J;
  json["residual"] = energy.residual;
  return json;
}

namespace {

Json history_of(const flight::Flight& flight) {
  Json list = Json::array();
  for (const flight::Instant& at : flight.history) {
    list.push_back({{"time_s", at.time_s},
                    {"height_m", at.height_m},
                    {"rev_per_s", at.rev_per_s},
                    {"torque_Nm", at.torque_Nm},
                    {"speed_m_s", at.speed_m_s},
                    {"climb_m_s", at.climb_m_s},
                    {"turns", at.turns},
                    {"thrust_N", at.thrust_N}});
  }
  return list;
}

void add_interval(Json& json, const std::optional<predict::Spread>& spread) {
  if (!spread) {
    for (const char* key : {"duration_sigma_s", "duration_interval_s", "top_height_interval_m",
                            "touch_probability", "samples", "samples_failed"}) {
      json[key] = nullptr;
    }
    return;
  }
  json["duration_sigma_s"] = spread->sigma_s;
  json["duration_interval_s"] = spread->duration_s;
  json["top_height_interval_m"] = spread->top_height_m;
  json["touch_probability"] = spread->touch_probability;
  json["samples"] = spread->samples;
  json["samples_failed"] = spread->failed;
}

Json match_of(const Prediction& prediction) {
  if (!prediction.match) return nullptr;
  const brief::Motor& motor = prediction.loaded.job.motor;
  const flight::MotorMatch& match = *prediction.match;
  return {{"section_m2", match.section_m2},
          {"strip_width_m", match.section_m2 / (motor.strip_thickness_m * motor.strands)},
          {"loop_length_m", match.length_m},
          {"duration_s", match.flight.duration_s},
          {"at_limit", match.at_limit}};
}

Json propeller_of(const brief::Assembly& a) {
  const double degree = base::degree_rad;
  return {{"diameter_m", 2 * a.blade.tip_radius_m},
          {"set_pitch_m", a.set_pitch_m},
          {"form_pitch_m", a.form.pitch_m},
          {"gauge_radius_m", a.gauge_radius_m},
          {"gauge_angle_deg", a.gauge_angle_rad / degree},
          {"turn_deg", a.reset_turn_rad / degree},
          {"radius_45deg_m", a.radius_45_m > 0 ? Json(a.radius_45_m) : Json(nullptr)},
          {"mass_kg", a.propeller_mass_kg}};
}

Json launch_of(const flight::Setup& setup, const flight::Flight& flight) {
  return {{"height_m", setup.launch.height_m},
          {"breaking_turns", setup.motor.breaking_turns},
          {"backed_off_turns", flight.turns_wound - flight.turns_at_launch},
          {"wait_s", setup.launch.wait_s}};
}

const char* end_of(flight::End end) {
  return end == flight::End::landed ? "landed" : "roof";
}

}  // namespace

std::string prediction_json(const Prediction& prediction) {
  const flight::Flight& f = prediction.nominal.flight;
  Json json{{"headline", headline(prediction)}, {"duration_s", f.duration_s}};
  add_interval(json, prediction.spread);
  json["bound_s"] = prediction.nominal.bound_s;
  json["top_height_m"] = f.top_height_m;
  json["top_time_s"] = f.top_time_s;
  json["touches"] = f.touches;
  json["end"] = end_of(f.end);
  json["turns_wound"] = f.turns_wound;
  json["turns_at_launch"] = f.turns_at_launch;
  json["turns_left"] = f.turns_left;
  json["launch_torque_Nm"] = f.launch_torque_Nm;
  json["mean_rev_per_s"] = f.mean_rev_per_s;
  json["cruise_speed_m_s"] = f.cruise_speed_m_s;
  json["cruise_rev_per_s"] = f.cruise_rev_per_s;
  json["cruise_torque_Nm"] = f.cruise_torque_Nm;
  json["cruise_thrust_N"] = f.cruise_thrust_N;
  json["launch"] = launch_of(prediction.nominal.setup, f);
  json["propeller"] = propeller_of(prediction.nominal.assembly);
  json["flex"] = flexing_json(prediction);
  json["motor_match"] = match_of(prediction);
  json["energy_J"] = energy_json(f.energy);
  json["warnings"] = prediction.warnings;
  json["notes"] = prediction.nominal.assembly.notes;
  json["history"] = history_of(f);
  return document(json);
}

std::string files_json(const sheet::PacketFiles& files) {
  Json list = Json::array();
  for (const sheet::PacketFile& file : files) {
    list.push_back({{"path", file.path}, {"kind", file.kind}, {"pages", file.pages}});
  }
  return document({{"files", list}});
}

}  // namespace propwright::answer
