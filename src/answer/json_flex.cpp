#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "flexing.h"
#include "propwright/answer/flex_answer.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

Json flex_flight_json(const FlexFlight& flight) {
  return {{"duration_s", flight.duration_s},
          {"top_height_m", flight.top_height_m},
          {"turns_at_launch", flight.turns_at_launch},
          {"launch_torque_Nm", flight.launch_torque_Nm},
          {"touches", flight.touches},
          {"free_top_height_m", number_or_null(flight.free_top_height_m)}};
}

Json at_torque_json(const FlexAtTorque& at) {
  Json json = flex_state_json(at.state);
  json["motor_torque_Nm"] = at.motor_torque_Nm;
  json["gauge"] = {{"flare_deg", at.flare_rad / base::degree_rad},
                   {"pitch_m", at.pitch_m},
                   {"pitch_rise_m", at.pitch_rise_m}};
  return json;
}

Json strike_json(const flex::TipStrike& strike) {
  return {{"load_N", strike.load_N},
          {"deflection_m", strike.deflection_m},
          {"energy_J", strike.energy_J},
          {"break_radius_m", strike.break_radius_m}};
}

Json spar_end_json(const FlexSparEnd& row) {
  const auto& flare = row.launch_flare_rad;
  return {{"share", row.end.share},
          {"present", row.present},
          {"blade_mass_kg", row.end.mass_kg},
          {"propeller_mass_change_kg", row.propeller_mass_change_kg},
          {"flapwise", strike_json(row.end.flapwise)},
          {"chordwise", strike_json(row.end.chordwise)},
          {"duration_s", number_or_null(row.duration_s)},
          {"same_mass_s", number_or_null(row.same_mass_s)},
          {"launch_tip_flare_deg", flare ? Json(*flare / base::degree_rad) : Json(nullptr)}};
}

Json flare_json(const flex::FlareChoice& choice) {
  if (!choice.holds) return nullptr;
  return {{"flare_deg", choice.flare_rad / base::degree_rad},
          {"tip_flare_deg", choice.tip_flare_rad / base::degree_rad},
          {"pitch_m", choice.pitch_m},
          {"pitch_rise_m", choice.pitch_rise_m},
          {"rev_per_s", choice.rev_per_s},
          {"thrust_N", choice.thrust_N},
          {"margin", choice.margin}};
}

Json choice_json(const FlexChoice& choice) {
  return {{"spar_position", choice.launch.spar_position},
          {"torsion_factor", choice.launch.torsion_factor},
          {"present", choice.present},
          {"problem", choice.launch.problem},
          {"launch", flare_json(choice.launch)},
          {"cruise", flare_json(choice.cruise)},
          {"flight", choice.flight ? flex_flight_json(*choice.flight) : Json(nullptr)}};
}

}  // namespace

Json flex_document(const FlexAnswer& answer) {
  Json states = Json::array(), ends = Json::array(), choices = Json::array();
  for (const FlexAtTorque& at : answer.states) states.push_back(at_torque_json(at));
  for (const FlexSparEnd& end : answer.spar_ends) ends.push_back(spar_end_json(end));
  for (const FlexChoice& choice : answer.choices) choices.push_back(choice_json(choice));
  return {{"flies_flexing", answer.flies_flexing},
          {"tip_radius_m", answer.tip_radius_m},
          {"roof_m", answer.roof_m},
          {"model_mass_kg", answer.model_mass_kg},
          {"least_mass_kg", number_or_null(answer.least_mass_kg)},
          {"rigid", answer.rigid ? flex_flight_json(*answer.rigid) : Json(nullptr)},
          {"flexing", flex_flight_json(answer.flexing)},
          {"limit", flex_limit_json(answer.limit)},
          {"states", states},
          {"spar_ends", ends},
          {"choices", choices},
          {"notes", answer.notes}};
}

}  // namespace propwright::answer
