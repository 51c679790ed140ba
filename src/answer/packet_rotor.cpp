// The rotor page: efficiency over advance ratio, torque over revs, angle of attack along the blade.
#include <algorithm>
#include <cmath>

#include "instants.h"
#include "packet_data.h"

namespace propwright::answer {
namespace {

rotor::Flow flow_of(const Prediction& prediction) {
  const air::Air& air = prediction.nominal.assembly.air;
  return {air.density_kg_m3, air.viscosity_Pa_s};
}

/// Loads at the conditions; those of a blade that cannot be solved leave the curve out.
sheet::Series curve(const Prediction& prediction, const std::vector<rotor::Condition>& conditions,
                    const std::vector<double>& x,
                    double (*value)(const rotor::Loads&, const rotor::Condition&, double, double)) {
  const auto loads = prediction.nominal.rotor.solve_all(conditions, flow_of(prediction));
  sheet::Series series;
  if (!loads) return series;
  for (std::size_t i = 0; i < loads->size(); ++i) {
    series.x.push_back(x[i]);
    series.y.push_back(value((*loads)[i], conditions[i], prediction.nominal.rotor.diameter_m(),
                             prediction.nominal.assembly.air.density_kg_m3));
  }
  return series;
}

double efficiency_of(const rotor::Loads& loads, const rotor::Condition& at, double diameter_m,
                     double density_kg_m3) {
  const auto c = rotor::coefficients(loads, at, diameter_m, density_kg_m3);
  return c.efficiency_defined ? c.efficiency : 0;
}

double torque_of(const rotor::Loads& loads, const rotor::Condition&, double, double) {
  return loads.torque_Nm;
}

void add_flown(const Prediction& prediction, sheet::RotorCurves& curves) {
  const double diameter_m = prediction.nominal.rotor.diameter_m();
  bool any = false;
  for (const flight::Instant& at : prediction.nominal.flight.history) {
    if (!driven(at)) continue;
    const double ratio = at.speed_m_s / (at.rev_per_s * diameter_m);
    curves.flown_low = any ? std::min(curves.flown_low, ratio) : ratio;
    curves.flown_high = any ? std::max(curves.flown_high, ratio) : ratio;
    any = true;
  }
}

/// At the cruise's revs, up to zero thrust; where that is not found, a little past what is flown.
double add_efficiency(const Prediction& prediction, sheet::RotorCurves& curves) {
  const double rev_per_s = prediction.nominal.flight.cruise_rev_per_s;
  const auto zero =
      rotor::zero_thrust_advance_ratio(prediction.nominal.rotor, flow_of(prediction), rev_per_s);
  const double last = zero ? *zero : 1.2 * curves.flown_high;
  std::vector<double> ratios;
  std::vector<rotor::Condition> conditions;
  for (int i = 1; i <= drawn_points; ++i) {
    ratios.push_back(last * i / drawn_points);
    conditions.push_back(
        {ratios.back() * rev_per_s * prediction.nominal.rotor.diameter_m(), rev_per_s});
  }
  curves.efficiency = curve(prediction, conditions, ratios, efficiency_of);
  return last;
}

void add_torque(const Prediction& prediction, double last_ratio, sheet::RotorCurves& curves) {
  double low = 0, high = 0;
  for (const flight::Instant& at : prediction.nominal.flight.history) {
    if (!driven(at)) continue;
    low = low > 0 ? std::min(low, at.rev_per_s) : at.rev_per_s;
    high = std::max(high, at.rev_per_s);
  }
  curves.speed_m_s = prediction.nominal.flight.cruise_speed_m_s;
  // Below the revs of zero thrust the propeller brakes: not a place to read torque.
  low =
      std::max(0.6 * low, curves.speed_m_s / (last_ratio * prediction.nominal.rotor.diameter_m()));
  high = std::max(1.15 * high, 1.5 * low);
  std::vector<double> revs;
  std::vector<rotor::Condition> conditions;
  for (int i = 0; i <= drawn_points; ++i) {
    revs.push_back(low + (high - low) * i / drawn_points);
    conditions.push_back({curves.speed_m_s, revs.back()});
  }
  curves.torque_Nm = curve(prediction, conditions, revs, torque_of);
}

void add_condition(const Prediction& prediction, const std::string& name, rotor::Condition at,
                   double motor_torque_Nm, sheet::RotorCurves& curves) {
  const predict::Nominal& nominal = prediction.nominal;
  const auto solved = nominal.rotor.solve(at, flow_of(prediction));
  if (!solved) return;
  const auto c = rotor::coefficients(solved->loads, at, nominal.rotor.diameter_m(),
                                     nominal.assembly.air.density_kg_m3);
  if (!c.defined) return;
  sheet::Condition condition{
      .name = name,
      .advance_ratio = c.advance_ratio,
      .efficiency = c.efficiency_defined ? c.efficiency : 0,
      .rev_per_s = at.rev_per_s,
      .motor_torque_Nm = motor_torque_Nm * (1 - nominal.assembly.friction_fraction),
      .alpha_rad = {}};
  const double least_chord_m = telling_chord_m(nominal.assembly);
  for (const rotor::StationResult& station : solved->stations) {
    if (station.chord_m < least_chord_m) continue;
    condition.alpha_rad.x.push_back(station.radius_m);
    condition.alpha_rad.y.push_back(station.alpha_rad);
  }
  curves.conditions.push_back(std::move(condition));
}

}  // namespace

void add_rotor(const Prediction& prediction, sheet::PacketData& data) {
  const flight::Flight& flight = prediction.nominal.flight;
  if (flight.cruise_rev_per_s <= 0 || flight.history.empty()) return;
  sheet::RotorCurves& curves = data.rotor;
  add_flown(prediction, curves);
  const double last_ratio = add_efficiency(prediction, curves);
  if (last_ratio > 0) add_torque(prediction, last_ratio, curves);
  const flight::Instant& launch = flight.history.front();
  if (driven(launch)) {
    add_condition(prediction, "launch", {launch.speed_m_s, launch.rev_per_s}, launch.torque_Nm,
                  curves);
  }
  add_condition(prediction, "cruise", {flight.cruise_speed_m_s, flight.cruise_rev_per_s},
                flight.cruise_torque_Nm, curves);
  if (const flight::Instant* at = let_down(flight)) {
    add_condition(prediction, "let-down", {at->speed_m_s, at->rev_per_s}, at->torque_Nm, curves);
  }
}

}  // namespace propwright::answer
