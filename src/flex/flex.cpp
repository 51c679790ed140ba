#include "propwright/flex/flex.h"

#include <fmt/format.h>

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "propwright/base/constants.h"
#include "state.h"
#include "walker.h"

namespace propwright::flex {

namespace {

base::Problems check_fit(const rotor::Rotor& rotor, const BladeBeam& beam, const Options& options) {
  base::Problems problems;
  const double root = beam.rows.front().radius_m, tip = beam.rows.back().radius_m;
  if (root > rotor.hub_radius_m() * (1 + 1e-9)) {
    problems.push_back(
        {.field = "beam: root",
         .value = fmt::format("{:g} m", root),
         .allowed = fmt::format("up to {:g} m, where the blade begins", rotor.hub_radius_m()),
         .remedy = "start the spar further in",
         .message = "the beam begins outside the blade's root"});
  }
  if (tip < 0.9 * rotor.tip_radius_m() || tip > 1.001 * rotor.tip_radius_m()) {
    problems.push_back({.field = "beam: tip",
                        .value = fmt::format("{:g} m", tip),
                        .allowed = fmt::format("{:g} to {:g} m, the blade's tip",
                                               0.9 * rotor.tip_radius_m(), rotor.tip_radius_m()),
                        .remedy = "give the stiffness out to the tip",
                        .message = "beam and blade do not end together"});
  }
  if (!(options.moment_factor >= 0 && options.moment_factor <= 5)) {
    problems.push_back({.field = "moment factor",
                        .value = fmt::format("{:g}", options.moment_factor),
                        .allowed = "0 to 5",
                        .remedy = "leave it out for 1",
                        .message = "the factor on the sections' moments is out of range"});
  }
  return problems;
}

}  // namespace

base::Expected<FlexRotor> FlexRotor::make(const rotor::Rotor& rotor, const BladeBeam& beam,
                                          const Options& options) {
  auto made = Beam::make(beam, options.elements);
  if (!made) return base::fail(std::move(made.error()));
  base::Problems problems = check_fit(rotor, beam, options);
  if (!problems.empty()) return base::fail(std::move(problems));
  return FlexRotor(rotor, beam, std::move(*made), options);
}

base::Expected<FlexRotor> FlexRotor::varied(const rotor::Rotor& rotor,
                                            const StiffnessFactors& factors,
                                            const Options& options) const {
  BladeBeam beam = blade_;
  for (BeamRow& row : beam.rows) {
    row.flapwise_Nm2 *= factors.flapwise;
    row.chordwise_Nm2 *= factors.chordwise;
    row.torsion_Nm2 *= factors.torsion;
  }
  return make(rotor, beam, options);
}

base::Expected<State> FlexRotor::solve(const rotor::Condition& condition, const rotor::Flow& flow,
                                       const std::vector<double>& start_rad) const {
  Walker walker(*this, flow);
  if (!start_rad.empty()) {
    if (start_rad.size() != walker.stations().size()) {
      return base::fail({.field = "start",
                         .value = fmt::format("{} twists", start_rad.size()),
                         .allowed = fmt::format("{}, one each station", walker.stations().size()),
                         .remedy = "leave it out to start untwisted",
                         .message = "the start does not fit the stations"});
    }
    walker.set_twist(start_rad);
  }
  const auto outcome = walker.settle(condition);
  if (outcome != Walker::Outcome::settled) {
    return base::fail(not_held(*this, condition, flow, outcome, walker.problems()));
  }
  auto result = rotor_.twisted(walker.twist_rad()).solve(condition, flow);
  if (!result) return base::fail(std::move(result.error()));
  return make_state(*this, walker, std::move(*result));
}

base::Expected<std::vector<rotor::Loads>> FlexRotor::solve_all(
    const std::vector<rotor::Condition>& conditions, const rotor::Flow& flow) const {
  Walker walker(*this, flow);
  std::vector<rotor::Loads> all;
  all.reserve(conditions.size());
  for (const rotor::Condition& condition : conditions) {
    const auto outcome = walker.go(condition);
    if (outcome != Walker::Outcome::settled) {
      return base::fail(not_held(*this, condition, flow, outcome, walker.problems()));
    }
    all.push_back(walker.loads());
  }
  return all;
}

base::Expected<State> solve_for_torque(const FlexRotor& flex, double torque_Nm, double speed_m_s,
                                       const rotor::Flow& flow, double highest_rev_per_s) {
  base::Problems problems;
  const auto excess = [&](double rev_per_s) {
    const auto loads = flex.solve_all({{speed_m_s, rev_per_s}}, flow);
    if (loads) return loads->front().torque_Nm - torque_Nm;
    problems = loads.error();
    return 0.0;
  };
  double low = 0.05, low_excess = excess(low);
  for (double high = 0.25; high < 1.25 * highest_rev_per_s && problems.empty(); high *= 1.25) {
    high = std::min(high, highest_rev_per_s);
    const double high_excess = excess(high);
    if (problems.empty() && low_excess < 0 && high_excess >= 0) {
      std::uintmax_t steps = 60;
      const auto bracket =
          boost::math::tools::toms748_solve(excess, low, high, low_excess, high_excess,
                                            boost::math::tools::eps_tolerance<double>(30), steps);
      if (!problems.empty()) break;
      return flex.solve({speed_m_s, (bracket.first + bracket.second) / 2}, flow);
    }
    if (high == highest_rev_per_s) break;
    low = high;
    low_excess = high_excess;
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return base::fail({.kind = base::Kind::no_solution,
                     .field = "torque",
                     .value = fmt::format("{:.3f} mN m", 1000 * torque_Nm),
                     .allowed = "torques the propeller takes at this speed",
                     .remedy = "check torque, pitch and flight speed",
                     .message = "no shaft speed makes the propeller take this torque"});
}

}  // namespace propwright::flex
