#include <fmt/format.h>

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

std::string to_text(State state) {
  switch (state) {
    case State::attached:
      return "attached";
    case State::stalled:
      return "stalled";
    case State::bistable:
      return "bistable";
    case State::windmill:
      return "windmill";
    case State::braked:
      return "braked";
    case State::stopped:
      return "stopped";
  }
  return "";
}

Coefficients coefficients(const Loads& loads, const Condition& condition, double diameter_m,
                          double density_kg_m3) {
  Coefficients c;
  const double n = condition.rev_per_s;
  if (n > 0) {
    const double nd = n * diameter_m;
    const double force = density_kg_m3 * nd * nd * diameter_m * diameter_m;
    c.defined = true;
    c.advance_ratio = condition.speed_m_s / nd;
    c.ct = loads.thrust_N / force;
    c.cp = 2 * base::pi * loads.torque_Nm / (force * diameter_m);
  }
  if (n > 0 && loads.thrust_N > 0 && loads.torque_Nm > 0) {
    c.efficiency_defined = true;
    c.efficiency = loads.thrust_N * condition.speed_m_s / (2 * base::pi * n * loads.torque_Nm);
  }
  return c;
}

base::Expected<double> zero_thrust_advance_ratio(const Rotor& rotor, const Flow& flow,
                                                 double rev_per_s) {
  const double tip_speed = rev_per_s * rotor.diameter_m();
  base::Problems problems;
  const auto thrust = [&](double j) {
    const auto loads = rotor.solve_all({{j * tip_speed, rev_per_s}}, flow);
    if (loads) return loads->front().thrust_N;
    problems = loads.error();
    return 0.0;
  };
  double low = 0.05;
  double low_thrust = thrust(low);
  for (double high = 0.2; high < 12 && problems.empty(); high += 0.15) {
    const double high_thrust = thrust(high);
    if (low_thrust > 0 && high_thrust <= 0) {
      std::uintmax_t iterations = 60;
      const auto bracket = boost::math::tools::toms748_solve(
          thrust, low, high, low_thrust, high_thrust, boost::math::tools::eps_tolerance<double>(40),
          iterations);
      return (bracket.first + bracket.second) / 2;
    }
    low = high;
    low_thrust = high_thrust;
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return base::fail({.kind = base::Kind::no_solution,
                     .field = "blade",
                     .allowed = "a blade whose thrust falls to zero between J = 0.05 and 12",
                     .remedy = "check the blade angles",
                     .message = "no advance ratio of zero thrust exists"});
}

}  // namespace propwright::rotor
