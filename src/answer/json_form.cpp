#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/answer/form_answer.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

double degrees_of(double angle_rad) {
  return angle_rad / base::degree_rad;
}

Json form_station_json(const form::FormStation& s) {
  return {{"radius_m", s.radius_m},
          {"chord_m", s.chord_m},
          {"angle_deg", degrees_of(s.angle_rad)},
          {"pitch_m", s.pitch_m},
          {"block_height_m", s.block_height_m},
          {"block_width_m", s.block_width_m},
          {"camber_height_m", s.camber_height_m},
          {"sheet_width_m", s.sheet_width_m},
          // One degree wrong there changes the pitch by so much: dP/P = 2 d(angle)/sin(2 angle).
          {"pitch_per_degree", 2 * base::degree_rad / std::sin(2 * s.angle_rad)}};
}

Json cylinder_json(const form::CylinderFit& fit) {
  Json stations = Json::array();
  for (const form::FormedStation& s : fit.stations) {
    stations.push_back({{"radius_m", s.radius_m},
                        {"angle_deg", degrees_of(s.angle_rad)},
                        {"angle_error_deg", degrees_of(s.angle_error_rad)},
                        {"pitch_m", s.pitch_m},
                        {"camber", s.camber}});
  }
  return {{"diameter_m", 2 * fit.cylinder_radius_m},
          {"skew_deg", degrees_of(fit.skew_rad)},
          {"twist_deg_per_m", degrees_of(fit.twist_rad_per_m)},
          {"rms_angle_error_deg", degrees_of(fit.rms_angle_error_rad)},
          {"stations", stations}};
}

Json pattern_summary(const form::FlatPattern& p) {
  return {{"method", p.method == form::PatternMethod::geodesic ? "geodesic" : "least strain"},
          {"worst_stretch", p.worst_stretch},
          {"worst_squeeze", p.worst_squeeze},
          {"worst_radius_m", p.worst_radius_m},
          {"area_ratio", p.area_ratio},
          {"plain_difference_m", p.arc_difference_m},
          {"within_limit", p.within_limit}};
}

}  // namespace

std::string form_json(const FormAnswer& answer, const sheet::PacketFiles& files) {
  Json stations = Json::array(), pattern = Json::array(), list = Json::array();
  for (const auto& station : answer.stations) stations.push_back(form_station_json(station));
  for (const PatternRow& row : pattern_rows(answer.pattern)) {
    pattern.push_back({{"along_m", row.along_m},
                       {"lead_m", row.lead_m},
                       {"trail_m", row.trail_m},
                       {"strain", row.strain}});
  }
  for (const auto& file : files) {
    list.push_back({{"path", file.path}, {"kind", file.kind}, {"pages", file.pages}});
  }
  const bool helical = answer.form_pitch_m > 0;
  return document({{"hand", answer.hand == form::Hand::clockwise ? "clockwise" : "anticlockwise"},
                   {"form_pitch_m", helical ? Json(answer.form_pitch_m) : Json(nullptr)},
                   {"radius_45deg_m", helical ? Json(answer.radius_45_m) : Json(nullptr)},
                   {"turn_deg", degrees_of(answer.reset_turn_rad)},
                   {"set_pitch_m", answer.set_pitch_m},
                   {"gauge_radius_m", answer.gauge_radius_m},
                   {"gauge_angle_deg", degrees_of(answer.gauge_angle_rad)},
                   {"stations", stations},
                   {"flat_pattern", pattern},
                   {"flat_pattern_strain", pattern_summary(answer.pattern)},
                   {"cylinder", answer.cylinder ? cylinder_json(*answer.cylinder) : Json(nullptr)},
                   {"files", list},
                   {"notes", answer.notes}});
}

std::string reset_json(const ResetAnswer& answer) {
  Json rows = Json::array();
  for (const ResetRow& row : answer.rows) {
    rows.push_back({{"radius_m", row.radius_m},
                    {"angle_deg", degrees_of(row.angle_rad)},
                    {"pitch_m", row.pitch_m}});
  }
  return document({{"form_pitch_m", answer.form_pitch_m},
                   {"gauge_radius_m", answer.gauge_radius_m},
                   {"turn_deg", degrees_of(answer.turn_rad)},
                   {"stations", rows}});
}

}  // namespace propwright::answer
