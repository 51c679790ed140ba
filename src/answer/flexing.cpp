#include "flexing.h"

#include <nlohmann/json.hpp>

#include "propwright/answer/prediction.h"
#include "propwright/base/constants.h"

namespace propwright::answer {

std::optional<Flexing> flexing(const Prediction& prediction) {
  const predict::Nominal& nominal = prediction.nominal;
  if (!nominal.flexing) return std::nullopt;
  const rotor::Flow flow{nominal.assembly.air.density_kg_m3, nominal.assembly.air.viscosity_Pa_s};
  const auto at = [&](double speed_m_s, double rev_per_s) -> std::optional<flex::State> {
    auto state = nominal.flexing->solve({speed_m_s, rev_per_s}, flow);
    return state ? std::optional(std::move(*state)) : std::nullopt;
  };
  const flight::Flight& f = nominal.flight;
  Flexing blade;
  if (!f.history.empty()) {
    blade.launch = at(f.history.front().speed_m_s, f.history.front().rev_per_s);
  }
  blade.cruise = at(f.cruise_speed_m_s, f.cruise_rev_per_s);
  blade.limit = nominal.flex_limit;
  return blade;
}

namespace {

Json flex_station(const flex::StationState& s) {
  return {{"radius_m", s.radius_m},
          {"flare_deg", s.flare_rad / base::degree_rad},
          {"pitch_m", s.pitch_m},
          {"pitch_rise_m", s.pitch_rise_m},
          {"out_of_disc_m", s.out_of_disc_m},
          {"in_disc_m", s.in_disc_m},
          {"flapwise_Nm", s.flapwise_Nm},
          {"chordwise_Nm", s.chordwise_Nm},
          {"twist_Nm", s.twist_Nm},
          {"stress_Pa", s.stress_Pa}};
}

}  // namespace

Json flex_state_json(const flex::State& s) {
  Json stations = Json::array();
  for (const flex::StationState& station : s.stations) stations.push_back(flex_station(station));
  Json strength = nullptr;
  if (s.strength.known) {
    strength = {{"stress_Pa", s.strength.stress_Pa},
                {"radius_m", s.strength.radius_m},
                {"margin", s.strength.margin},
                {"root_stress_Pa", s.strength.root_stress_Pa},
                {"root_margin", s.strength.root_margin}};
  }
  return {{"speed_m_s", s.rotor.condition.speed_m_s},
          {"rev_per_s", s.rotor.condition.rev_per_s},
          {"thrust_N", s.rotor.loads.thrust_N},
          {"torque_Nm", s.rotor.loads.torque_Nm},
          {"tip",
           {{"flare_deg", s.tip.twist_rad / base::degree_rad},
            {"out_of_disc_m", s.tip.out_of_disc_m},
            {"in_disc_m", s.tip.in_disc_m}}},
          {"root",
           {{"out_of_disc_Nm", s.root.out_of_disc_Nm},
            {"in_disc_Nm", s.root.in_disc_Nm},
            {"twist_Nm", s.root.twist_Nm},
            {"tension_N", s.root.tension_N}}},
          {"strength", strength},
          {"divergence_factor", s.divergence_factor ? Json(*s.divergence_factor) : Json(nullptr)},
          {"stations", stations}};
}

Json flex_limit_json(const std::optional<flex::Limit>& limit) {
  if (!limit) return nullptr;
  return {{"torque_Nm", limit->torque_Nm},
          {"rev_per_s", limit->condition.rev_per_s},
          {"reason", limit->reason}};
}

Json flexing_json(const Prediction& prediction) {
  const auto blade = flexing(prediction);
  if (!blade) return nullptr;
  const auto state = [](const std::optional<flex::State>& s) {
    return s ? flex_state_json(*s) : Json(nullptr);
  };
  return {{"launch", state(blade->launch)},
          {"cruise", state(blade->cruise)},
          {"limit", flex_limit_json(blade->limit)}};
}

}  // namespace propwright::answer
