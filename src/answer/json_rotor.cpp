#include <nlohmann/json.hpp>

#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

Json station_of(const rotor::StationResult& s) {
  return {{"radius_m", s.radius_m},
          {"chord_m", s.chord_m},
          {"blade_angle_deg", s.blade_angle_rad / base::degree_rad},
          {"inflow_deg", s.inflow_rad / base::degree_rad},
          {"alpha_deg", s.alpha_rad / base::degree_rad},
          {"re", s.re},
          {"cl", s.cl},
          {"cd", s.cd},
          {"thrust_N_per_m", s.thrust_N_per_m},
          {"torque_Nm_per_m", s.torque_Nm_per_m},
          {"factor", s.factor},
          {"in_table", s.in_table},
          {"state", rotor::to_text(s.state)}};
}

Json or_null(bool defined, double value) {
  return defined ? Json(value) : Json(nullptr);
}

/// What --fine adds to a point.
void add_quick(Json& to, const std::optional<QuickPart>& quick) {
  to["model"] = quick ? "fine" : "quick";
  to["quick"] = nullptr;
  to["difference"] = nullptr;
  if (!quick) return;
  const auto& c = quick->coefficients;
  const auto& d = quick->difference;
  to["quick"] = {{"thrust_N", quick->loads.thrust_N},
                 {"torque_Nm", quick->loads.torque_Nm},
                 {"efficiency", or_null(c.efficiency_defined, c.efficiency)}};
  to["difference"] = {{"thrust_N", d.thrust_N},
                      {"torque_Nm", d.torque_Nm},
                      {"efficiency", or_null(d.efficiency_defined, d.efficiency)}};
}

Json point_of(const RotorPoint& point, bool fine) {
  const auto& c = point.coefficients;
  Json stations = Json::array();
  for (const auto& station : point.result.stations) stations.push_back(station_of(station));
  Json json = {{"speed_m_s", point.result.condition.speed_m_s},
               {"rev_per_s", point.result.condition.rev_per_s},
               {"advance_ratio", or_null(c.defined, c.advance_ratio)},
               {"thrust_N", point.result.loads.thrust_N},
               {"torque_Nm", point.result.loads.torque_Nm},
               {"efficiency", or_null(c.efficiency_defined, c.efficiency)},
               {"ct", or_null(c.defined, c.ct)},
               {"cp", or_null(c.defined, c.cp)},
               {"profile_power_W", point.result.loads.profile_power_W},
               {"stations", stations}};
  if (fine) add_quick(json, point.quick);
  return json;
}

}  // namespace

std::string rotor_json(const RotorAnswer& answer) {
  Json points = Json::array();
  for (const RotorPoint& point : answer.points) points.push_back(point_of(point, answer.fine));
  return document({{"diameter_m", answer.diameter_m},
                   {"blades", answer.blades},
                   {"density_kg_m3", answer.flow.density_kg_m3},
                   {"viscosity_Pa_s", answer.flow.viscosity_Pa_s},
                   {"points", points},
                   {"warnings", answer.warnings},
                   {"notes", answer.notes}});
}

}  // namespace propwright::answer
