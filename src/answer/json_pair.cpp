#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/answer/pair_answer.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using asbuilt::Aspect;

/// An aspect's difference under the key of its SI unit; angles alone are in degrees, stiffnesses
/// are shares of the design's.
void add_aspect(Json& to, Aspect aspect, double value) {
  switch (aspect) {
    case Aspect::angle:
      to["angle_deg"] = value / base::degree_rad;
      break;
    case Aspect::twist:
      to["twist_deg_per_m"] = value / base::degree_rad;
      break;
    case Aspect::length:
      to["length_m"] = value;
      break;
    case Aspect::camber:
      to["camber"] = value;
      break;
    case Aspect::mass:
      to["mass_kg"] = value;
      break;
    case Aspect::spar_turn:
      to["spar_turn_deg"] = value / base::degree_rad;
      break;
    default:
      to[asbuilt::key_of(aspect) + "_relative"] = std::expm1(value);
  }
}

Json loads_json(const asbuilt::BladeLoads& loads) {
  return {
      {"thrust_N", loads.thrust_N},
      {"torque_Nm", loads.torque_Nm},
      {"root_bending_Nm", loads.root_bending_Nm},
      {"tip_bend_m", loads.tip_bend_m ? Json(*loads.tip_bend_m) : Json(nullptr)},
      {"flare_deg", loads.flare_rad ? Json(*loads.flare_rad / base::degree_rad) : Json(nullptr)}};
}

/// Difference from the design and loads of one blade.
Json blade_json(const PairAnswer& answer, std::size_t index) {
  const asbuilt::BladeDeviation& blade = answer.blades[index];
  Json difference = Json::object();
  for (std::size_t i = 0; i < asbuilt::aspect_count; ++i) {
    if (blade.measured[i]) add_aspect(difference, static_cast<Aspect>(i), blade.value[i]);
  }
  Json states = Json::array();
  for (const asbuilt::PairState& state : answer.states) {
    states.push_back(loads_json(state.blades[index]));
  }
  return {{"id", blade.id}, {"difference", difference}, {"states", states}};
}

Json pair_state(const asbuilt::PairState& s) {
  return {{"speed_m_s", s.condition.speed_m_s},
          {"rev_per_s", s.condition.rev_per_s},
          {"torque_Nm", s.torque_Nm},
          {"difference", loads_json(s.difference)},
          {"shared_thrust_N", s.shared_thrust_N},
          {"independent_thrust_N", s.independent_thrust_N},
          {"rocking_Nm", s.rocking_Nm},
          {"shaking_N", s.shaking_N}};
}

Json flaw_json(const asbuilt::Flaw& flaw) {
  return {{"flaw", flaw.key},
          {"label", flaw.label},
          {"seconds", flaw.computed ? Json(flaw.seconds) : Json(nullptr)},
          {"sigma_s", flaw.computed ? Json(flaw.sigma_s) : Json(nullptr)},
          {"interval_s", flaw.computed ? Json::array({flaw.low_s, flaw.high_s}) : Json(nullptr)},
          {"advice", flaw.advice}};
}

Json tolerance_list(const std::vector<asbuilt::Tolerance>& tolerances) {
  Json rows = Json::array();
  for (const asbuilt::Tolerance& t : tolerances) {
    rows.push_back({{"tolerance", asbuilt::key_of(t.aspect)},
                    {"label", t.label},
                    {"both_s", t.both_s},
                    {"apart_s", t.apart_s},
                    {"sigma_s", t.sigma_s},
                    {"sentence", t.sentence}});
  }
  return rows;
}

}  // namespace

/// One blade as designed, without hub, shaft and glue; null where its parts do not tell.
Json wanted_blade(double mass_kg, double moment_kgm) {
  const bool known = mass_kg > 0;
  return {{"mass_kg", known ? Json(mass_kg) : Json(nullptr)},
          {"centre_of_mass_m", known ? Json(moment_kgm / mass_kg) : Json(nullptr)}};
}

Json pair_document(const PairAnswer& answer) {
  Json states = Json::array(), ledger = Json::array();
  for (const asbuilt::PairState& state : answer.states) states.push_back(pair_state(state));
  for (const asbuilt::Flaw& flaw : answer.ledger.flaws) ledger.push_back(flaw_json(flaw));
  const auto& imbalance = answer.imbalance.moment_kgm;
  return {{"duration_s", answer.ledger.duration_s},
          {"duration_perfect_s", answer.ledger.perfect_s},
          {"ledger", ledger},
          {"ledger_sum_s", answer.ledger.sum_s},
          {"cross_s", answer.ledger.cross_s},
          {"imbalance_kg_m", imbalance ? Json(imbalance->value) : Json(nullptr)},
          {"imbalance_sigma_kg_m", imbalance ? Json(imbalance->sigma) : Json(nullptr)},
          {"wanted", wanted_blade(answer.design.blade_mass_kg, answer.design.blade_moment_kgm)},
          {"blades", Json::array({blade_json(answer, 0), blade_json(answer, 1)})},
          {"states", states},
          {"tolerances", tolerance_list(answer.tolerances)},
          {"notes", answer.notes}};
}

Json tolerance_document(const ToleranceCard& card) {
  return {{"duration_perfect_s", card.perfect_s},
          {"wanted", wanted_blade(card.blade_mass_kg, card.blade_moment_kgm)},
          {"tolerances", tolerance_list(card.tolerances)},
          {"notes", card.notes}};
}

}  // namespace propwright::answer
