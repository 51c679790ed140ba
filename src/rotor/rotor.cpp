#include "propwright/rotor/rotor.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "blade.h"
#include "prepared.h"
#include "propwright/base/constants.h"
#include "quadrature.h"

namespace propwright::rotor {

using base::pi;

namespace {

State state_of(const Element& e, const ElementState& s, const ElementFlow& flow) {
  if (flow.tangential_m_s == 0) return State::stopped;
  if (count_solutions(e, flow) > 1) return State::bistable;
  if (s.alpha >= e.polar->stall_onset_rad()) return State::stalled;
  if (s.braked) return State::braked;
  if (s.ct < 0) return State::windmill;
  return State::attached;
}

}  // namespace

base::Problem unsolved(const Element& e, const Condition& condition) {
  return {
      .kind = base::Kind::no_solution,
      .field = fmt::format("blade station at {:.1f} mm", 1000 * e.radius_m),
      .value = fmt::format("{:.3f} m/s, {:.3f} rev/s", condition.speed_m_s, condition.rev_per_s),
      .allowed = "conditions with a balance of blade force and induced flow",
      .remedy = "check blade angle and chord at this station",
      .message = "the blade element has no solution"};
}

base::Expected<Rotor> Rotor::make(const Blade& blade, const section::Family& family,
                                  const Options& options, const section::Shift& shift) {
  base::Problems problems = rotor::check(blade, options);
  if (!problems.empty()) return base::fail(std::move(problems));
  auto prepared = std::make_shared<Prepared>();
  prepared->options = options;
  prepared->blades = blade.blades;
  prepared->hub_radius_m =
      blade.hub_radius_m > 0 ? blade.hub_radius_m : blade.rows.front().radius_m;
  prepared->tip_radius_m = blade.tip_radius_m > 0 ? blade.tip_radius_m : blade.rows.back().radius_m;
  prepared->arm_diameter_m = blade.arm_diameter_m;
  const Rule rule = tip_rule(prepared->hub_radius_m, prepared->tip_radius_m, options.stations);
  const std::vector<BladeRow> rows = at_radii(blade, rule.place);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    Element element;
    element.radius_m = rows[i].radius_m;
    element.weight_m = rule.weight[i];
    element.chord_m = rows[i].chord_m;
    element.blade_angle_rad = rows[i].angle_rad;
    element.camber = rounded_camber(rows[i].camber);
    element.solidity = blade.blades * element.chord_m / (2 * pi * element.radius_m);
    auto polar = prepared->polars.find(element.camber);
    if (polar == prepared->polars.end()) {
      polar =
          prepared->polars.emplace(element.camber, family.at_camber(element.camber, shift)).first;
    }
    element.polar = &polar->second;
    element.factor = FactorTable(blade.blades, element.radius_m / prepared->tip_radius_m,
                                 prepared->hub_radius_m / prepared->tip_radius_m, options);
    prepared->elements.push_back(element);
  }
  Rotor rotor;
  rotor.prepared_ = std::move(prepared);
  return rotor;
}

Rotor Rotor::varied(const section::Family& family, const section::Shift& shift,
                    double turn_rad) const {
  auto moved = std::make_shared<Prepared>(*prepared_);
  for (auto& [camber, polar] : moved->polars) polar = family.at_camber(camber, shift);
  for (Element& element : moved->elements) {
    element.blade_angle_rad += turn_rad;
    element.polar = &moved->polars.at(element.camber);
  }
  Rotor rotor;
  rotor.prepared_ = std::move(moved);
  return rotor;
}

Rotor Rotor::twisted(const std::vector<double>& turn_rad) const {
  auto moved = std::make_shared<Prepared>(*prepared_);
  for (std::size_t i = 0; i < moved->elements.size(); ++i) {
    Element& element = moved->elements[i];
    element.blade_angle_rad += turn_rad.at(i);
    element.polar = &moved->polars.at(element.camber);
  }
  Rotor rotor;
  rotor.prepared_ = std::move(moved);
  return rotor;
}

std::vector<Station> Rotor::stations() const {
  std::vector<Station> stations;
  for (const Element& e : prepared_->elements) {
    stations.push_back({e.radius_m, e.weight_m, e.chord_m, e.blade_angle_rad, e.camber});
  }
  return stations;
}

base::Expected<Result> Rotor::solve(const Condition& condition, const Flow& flow) const {
  base::Problems problems = rotor::check(condition, flow);
  if (!problems.empty()) return base::fail(std::move(problems));
  const Prepared& p = *prepared_;
  Result result;
  result.condition = condition;
  result.loads = arm_loads(p.hub_radius_m, p.arm_diameter_m, p.blades, condition, flow);
  for (const Element& e : p.elements) {
    const ElementFlow ef = element_flow(e, condition, flow);
    const ElementState s = solve_element(e, ef, std::numeric_limits<double>::quiet_NaN(), 0);
    if (!s.solved) {
      problems.push_back(unsolved(e, condition));
      continue;
    }
    const ElementLoads loads = loads_of(e, s, p.blades, flow.density_kg_m3);
    result.loads.thrust_N += e.weight_m * loads.thrust_N_per_m;
    result.loads.torque_Nm += e.weight_m * loads.torque_Nm_per_m;
    result.loads.profile_power_W += e.weight_m * loads.profile_W_per_m;
    StationResult station;
    station.radius_m = e.radius_m;
    station.chord_m = e.chord_m;
    station.blade_angle_rad = e.blade_angle_rad;
    station.inflow_rad = s.phi;
    station.alpha_rad = s.alpha;
    station.re = std::exp(s.ln_re);
    station.cl = s.cl;
    station.cd = s.cd;
    station.thrust_N_per_m = loads.thrust_N_per_m;
    station.torque_Nm_per_m = loads.torque_Nm_per_m;
    station.axial_induction =
        condition.speed_m_s > 0 ? s.speed_m_s * s.sine / condition.speed_m_s - 1 : 0;
    station.factor = s.factor;
    station.in_table = e.polar->in_table(s.alpha, s.ln_re);
    station.state = state_of(e, s, ef);
    result.stations.push_back(station);
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return result;
}

base::Expected<std::vector<Loads>> Rotor::solve_all(const std::vector<Condition>& conditions,
                                                    const Flow& flow) const {
  const Prepared& p = *prepared_;
  std::vector<Loads> all(conditions.size());
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    base::Problems problems = rotor::check(conditions[i], flow);
    if (!problems.empty()) return base::fail(std::move(problems));
    all[i] = arm_loads(p.hub_radius_m, p.arm_diameter_m, p.blades, conditions[i], flow);
  }
  // The first condition of a station starts from the neighbouring station's angle of attack.
  double alpha = std::numeric_limits<double>::quiet_NaN();
  double neighbour_ln_re = 0;
  for (const Element& e : p.elements) {
    const double ln_re_per_speed =
        std::log(flow.density_kg_m3 * std::max(e.chord_m, 1e-9) / flow.viscosity_Pa_s);
    Trend phi, ln_re;
    for (std::size_t i = 0; i < conditions.size(); ++i) {
      const Condition& condition = conditions[i];
      const ElementFlow ef{condition.speed_m_s, 2 * pi * condition.rev_per_s * e.radius_m,
                           ln_re_per_speed};
      const double guess = i == 0 ? e.blade_angle_rad - alpha : phi.next();
      const double ln_re_guess = i == 0 ? neighbour_ln_re : ln_re.next();
      const ElementState s = solve_element(e, ef, guess, ln_re_guess);
      if (!s.solved) return base::fail(unsolved(e, condition));
      const ElementLoads loads = loads_of(e, s, p.blades, flow.density_kg_m3);
      all[i].thrust_N += e.weight_m * loads.thrust_N_per_m;
      all[i].torque_Nm += e.weight_m * loads.torque_Nm_per_m;
      all[i].profile_power_W += e.weight_m * loads.profile_W_per_m;
      phi.add(s.phi);
      ln_re.add(s.ln_re);
      if (i == 0) {
        alpha = s.alpha;
        neighbour_ln_re = s.ln_re;
      }
    }
  }
  return all;
}

double Rotor::hub_radius_m() const {
  return prepared_->hub_radius_m;
}
double Rotor::tip_radius_m() const {
  return prepared_->tip_radius_m;
}
int Rotor::blades() const {
  return prepared_->blades;
}
const Options& Rotor::options() const {
  return prepared_->options;
}

}  // namespace propwright::rotor
