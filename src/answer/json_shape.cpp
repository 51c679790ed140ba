#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"
#include "propwright/base/constants.h"
#include "propwright/form/form.h"

namespace propwright::answer {
namespace {

Json design_station(const rotor::DesignStation& s) {
  return {{"radius_m", s.radius_m},
          {"chord_m", s.chord_m},
          {"blade_angle_deg", s.blade_angle_rad / base::degree_rad},
          {"pitch_m", s.pitch_m},
          {"inflow_deg", s.inflow_rad / base::degree_rad},
          {"alpha_deg", s.alpha_rad / base::degree_rad},
          {"re", s.re},
          {"cl", s.cl},
          {"cd", s.cd},
          {"factor", s.factor},
          {"limited", s.limited}};
}

Json blade_stations(const rotor::Blade& blade) {
  Json rows = Json::array();
  for (const rotor::BladeRow& row : blade.rows) {
    rows.push_back({{"radius_m", row.radius_m},
                    {"chord_m", row.chord_m},
                    {"blade_angle_deg", row.angle_rad / base::degree_rad},
                    {"pitch_m", form::local_pitch_m(row.angle_rad, row.radius_m)},
                    {"camber", row.camber}});
  }
  return rows;
}

Json positive_or_null(double value) {
  return value > 0 ? Json(value) : Json(nullptr);
}

/// A candidate against the ideal.
Json candidate_json(const shape::Candidate& c, const shape::Candidate& ideal) {
  const bool form = c.kind == shape::Kind::owned_form;
  const bool cylinder = c.kind == shape::Kind::cylinder;
  const bool both_fly = c.duration_s && ideal.duration_s;
  return {{"kind", shape::to_text(c.kind)},
          {"name", c.name},
          {"label", shape_label(c, units::Profile::metric)},
          {"efficiency", c.efficiency},
          {"efficiency_lost", ideal.efficiency - c.efficiency},
          {"rev_per_s", c.rev_per_s},
          {"torque_Nm", c.torque_Nm},
          {"camber", c.camber},
          {"duration_s", c.duration_s ? Json(*c.duration_s) : Json(nullptr)},
          {"seconds_lost", both_fly ? Json(*ideal.duration_s - *c.duration_s) : Json(nullptr)},
          {"form_pitch_m", positive_or_null(c.form_pitch_m)},
          {"turn_deg", form ? Json(c.turn_rad / base::degree_rad) : Json(nullptr)},
          {"cylinder_diameter_m", cylinder ? Json(c.cylinder_diameter_m) : Json(nullptr)},
          {"skew_deg", cylinder ? Json(c.skew_rad / base::degree_rad) : Json(nullptr)},
          {"gauge_radius_m", c.gauge_radius_m},
          {"gauge_angle_deg", c.gauge_angle_rad / base::degree_rad},
          {"stations", blade_stations(c.blade)},
          {"notes", c.notes}};
}

Json ideal_json(const shape::Shape& shape) {
  Json stations = Json::array();
  for (const auto& station : shape.design.stations) stations.push_back(design_station(station));
  const shape::Candidate& ideal = shape.ideal;
  return {{"efficiency", ideal.efficiency},
          {"induced_efficiency", shape.design.induced_efficiency},
          {"zeta", shape.design.zeta},
          {"torque_Nm", ideal.torque_Nm},
          {"duration_s", ideal.duration_s ? Json(*ideal.duration_s) : Json(nullptr)},
          {"gauge_radius_m", ideal.gauge_radius_m},
          {"gauge_angle_deg", ideal.gauge_angle_rad / base::degree_rad},
          {"stations", stations},
          {"notes", ideal.notes}};
}

std::string angle_text(double angle_rad) {
  return fmt::format("{:.1f}°", angle_rad / base::degree_rad);
}

}  // namespace

std::string shape_label(const shape::Candidate& c, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  const auto length = [&](double si) {
    const auto printed =
        units::print_in(si, units::Dimension::length, inch ? "in" : "mm", inch ? 2 : 0);
    return printed.number + " " + printed.unit;
  };
  switch (c.kind) {
    case shape::Kind::ideal:
      return "least loss, every station at its own pitch";
    case shape::Kind::present:
      return "as it is";
    case shape::Kind::helical:
      return "helical, pitch " + length(c.form_pitch_m);
    case shape::Kind::owned_form:
      return fmt::format("{}, turned {}{}",
                         c.name.empty() ? "form of " + length(c.form_pitch_m)
                                        : fmt::format("{} ({})", c.name, length(c.form_pitch_m)),
                         c.turn_rad > 0 ? "+" : "", angle_text(c.turn_rad));
    case shape::Kind::cylinder:
      break;
  }
  return fmt::format("{} ({}), axis turned {}", c.name, length(c.cylinder_diameter_m),
                     angle_text(c.skew_rad));
}

Json shape_document(const shape::Shape& shape) {
  Json makeable = Json::array();
  for (const auto& candidate : shape.makeable) {
    makeable.push_back(candidate_json(candidate, shape.ideal));
  }
  return {{"speed_m_s", shape.condition.speed_m_s},
          {"rev_per_s", shape.condition.rev_per_s},
          {"revs_at_limit", shape.revs_at_limit},
          {"thrust_N", shape.thrust_N},
          {"ideal", ideal_json(shape)},
          {"present", shape.present ? candidate_json(*shape.present, shape.ideal) : Json(nullptr)},
          {"makeable", makeable},
          {"notes", shape.notes}};
}

std::string shape_json(const shape::Shape& shape) {
  return document(shape_document(shape));
}

}  // namespace propwright::answer
