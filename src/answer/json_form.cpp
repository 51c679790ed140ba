#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/answer/form_document.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

double degrees_of(double angle_rad) {
  return angle_rad / base::degree_rad;
}

Json form_station_json(const FormRow& row) {
  const form::FormStation& s = row.form;
  return {{"radius_m", s.radius_m},
          {"chord_m", s.chord_m},
          {"angle_deg", degrees_of(s.angle_rad)},
          {"pitch_m", s.pitch_m},
          {"set_angle_deg", degrees_of(row.set_angle_rad)},
          {"set_pitch_m", row.set_pitch_m},
          // One degree wrong there changes the set pitch by so much of itself.
          {"pitch_per_degree", row.pitch_per_degree},
          {"block_height_m", s.block_height_m},
          {"block_width_m", s.block_width_m},
          {"camber", row.camber},
          {"camber_height_m", s.camber_height_m},
          {"sheet_width_m", s.sheet_width_m},
          {"at_45deg", row.at_45}};
}

Json or_null(double value) {
  return value > 0 ? Json(value) : Json(nullptr);
}

Json cylinder_json(const form::CylinderFit& fit, const std::string& name) {
  Json stations = Json::array();
  for (const form::FormedStation& s : fit.stations) {
    stations.push_back({{"radius_m", s.radius_m},
                        {"angle_deg", degrees_of(s.angle_rad)},
                        {"angle_error_deg", degrees_of(s.angle_error_rad)},
                        {"pitch_m", s.pitch_m},
                        {"camber", s.camber}});
  }
  return {{"name", name},
          {"diameter_m", 2 * fit.cylinder_radius_m},
          {"skew_deg", degrees_of(fit.skew_rad)},
          {"twist_deg_per_m", degrees_of(fit.twist_rad_per_m)},
          {"rms_angle_error_deg", degrees_of(fit.rms_angle_error_rad)},
          {"stations", stations}};
}

Json pattern_summary(const form::FlatPattern& p, double limit) {
  return {{"method", p.method == form::PatternMethod::geodesic ? "geodesic" : "least strain"},
          {"worst_stretch", p.worst_stretch},
          {"worst_squeeze", p.worst_squeeze},
          {"worst_radius_m", p.worst_radius_m},
          {"worst_at_m", {p.worst_at.along_m, p.worst_at.across_m}},
          {"area_ratio", p.area_ratio},
          {"plain_difference_m", p.arc_difference_m},
          {"within_limit", p.within_limit},
          {"limit", limit}};
}

Json built_up_json(const BuiltUp& built) {
  Json rows = Json::array();
  for (const form::Rib& rib : built.ribs) {
    Json along = nullptr;
    for (const form::SparSlot& slot : built.slots) {
      if (slot.rib == rib.number) along = slot.along_m;
    }
    rows.push_back({{"number", rib.number},
                    {"radius_m", rib.radius_m},
                    {"chord_m", rib.chord_m},
                    {"camber", rib.camber},
                    {"arc_m", rib.arc_m},
                    {"trimmed_m", rib.trimmed_m},
                    {"lead_cut_deg", degrees_of(rib.lead_cut_rad)},
                    {"trail_cut_deg", degrees_of(rib.trail_cut_rad)},
                    {"along_spar_m", along}});
  }
  return {{"thickness_m", built.wood.thickness_m},
          {"depth_m", built.slices.depth_m},
          {"slices", built.slices.slices},
          {"cuts", built.slices.cuts},
          {"blank_arc_m", built.slices.blank_arc_m},
          {"blank_radius_m", built.slices.arc_radius_m},
          {"sheet_width_m", built.slices.sheet_width_m},
          {"slice_steps", built.slices.steps},
          {"step_m", built.slice_step_m},
          {"stops_m", built.slices.stops_m},
          {"blank_cambers", built.slices.cambers},
          {"rows", rows}};
}

Json strip_json(const form::OutlineStrip& strip) {
  return {{"length_m", strip.length_m},
          {"with_allowance_m", strip.cut_length_m},
          {"tightest_radius_m", or_null(strip.tightest_radius_m)},
          {"tightest_at_m", strip.tightest_at_m},
          {"bending_strain", strip.bending_strain},
          {"corner_at_tip", strip.corner_at_tip}};
}

Json frame_json(const form::CoveringFrame& frame) {
  Json sticks = Json::array();
  for (std::size_t i = 0; i < frame.crosses.size(); ++i) {
    sticks.push_back({{"name", "cross " + std::to_string(i + 1)},
                      {"count", 1},
                      {"radius_m", frame.crosses[i].radius_m},
                      {"length_m", frame.cross_length_m()},
                      {"angle_deg", degrees_of(frame.crosses[i].angle_rad)}});
  }
  const auto rail = [&](const char* name, const std::vector<form::FrameRail>& pieces) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      sticks.push_back({{"name", std::string(name) + " rail " + std::to_string(i + 1)},
                        {"count", 1},
                        {"radius_m", nullptr},
                        {"length_m", pieces[i].length_m},
                        {"angle_deg", degrees_of(pieces[i].inner_angle_rad)}});
    }
  };
  rail("leading", frame.lead);
  rail("trailing", frame.trail);
  return {{"sticks", sticks},
          {"worst_angle_error_deg", degrees_of(frame.worst_angle_error_rad)},
          {"worst_at_m", frame.worst_at_m}};
}

Json pattern_json(const form::FlatPattern& pattern) {
  Json rows = Json::array();
  for (const PatternRow& row : pattern_rows(pattern)) {
    rows.push_back({{"along_m", row.along_m},
                    {"lead_m", row.lead_m},
                    {"trail_m", row.trail_m},
                    {"strain", row.strain}});
  }
  return rows;
}

Json block_json(const form::Block& block) {
  return {{"length_m", block.length_m}, {"width_m", block.width_m}, {"height_m", block.height_m}};
}

Json ribbed_json(const form::Ribbed& ribbed) {
  return {{"sheet_m", ribbed.sheet_m},    {"slot_m", ribbed.slot_m},
          {"ribs", ribbed.ribs.size()},   {"spines", ribbed.spines.size()},
          {"parts", ribbed.parts.size()}, {"pages", ribbed.pages.size()}};
}

Json solid_json(const solid::FormOptions& how) {
  return {{"base_tilt_deg", degrees_of(how.base_tilt_rad)},
          {"tolerance_m", how.tolerance_m},
          {"parts", how.split_radius_m ? 2 : 1}};
}

}  // namespace

Json form_facts(const FormAnswer& answer) {
  Json stations = Json::array();
  for (const FormRow& row : answer.stations) stations.push_back(form_station_json(row));
  Json facts{{"hand", answer.hand == form::Hand::clockwise ? "clockwise" : "anticlockwise"},
             {"form_pitch_m", or_null(answer.form_pitch_m)},
             {"radius_45deg_m", or_null(answer.radius_45_m)},
             {"turn_deg", degrees_of(answer.reset_turn_rad)},
             {"set_pitch_m", answer.set_pitch_m},
             {"gauge_radius_m", answer.gauge_radius_m},
             {"gauge_angle_deg", degrees_of(answer.gauge_angle_rad)},
             {"set_radius_45deg_m", or_null(answer.set_radius_45_m)},
             {"flying_pitch_m", or_null(answer.flying_pitch_m)},
             {"stations", stations},
             {"flat_pattern", pattern_json(answer.pattern)},
             {"flat_pattern_strain", pattern_summary(answer.pattern, answer.strain_limit)},
             {"notes", answer.notes}};
  facts["block"] = answer.block ? block_json(*answer.block) : Json(nullptr);
  facts["ribbed"] = answer.ribbed ? ribbed_json(*answer.ribbed) : Json(nullptr);
  facts["solid"] = answer.solid ? solid_json(*answer.solid) : Json(nullptr);
  facts["cylinder"] =
      answer.cylinder ? cylinder_json(*answer.cylinder, answer.cylinder_name) : Json(nullptr);
  const auto& built = answer.built_up;
  facts["ribs"] = built && !built->ribs.empty() ? built_up_json(*built) : Json(nullptr);
  facts["strip"] = built ? strip_json(built->strip) : Json(nullptr);
  facts["covering"] = built ? Json{{"area_m2", built->covering.area_m2},
                                   {"cut_area_m2", built->covering.cut_area_m2},
                                   {"mass_kg", built->covering_mass_kg}}
                            : Json(nullptr);
  facts["frame"] = built ? frame_json(built->frame) : Json(nullptr);
  return facts;
}

std::string form_json(const FormAnswer& answer, const sheet::PacketFiles& files) {
  Json list = Json::array();
  for (const auto& file : files) {
    list.push_back({{"path", file.path}, {"kind", file.kind}, {"pages", file.pages}});
  }
  Json facts = form_facts(answer);
  facts["files"] = list;
  return document(facts);
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
