#include "launch.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "integrate.h"

namespace propwright::flight {

namespace {

base::Problem out_of_range(const char* field, std::string value, std::string allowed,
                           const char* remedy) {
  return {.field = field,
          .value = std::move(value),
          .allowed = std::move(allowed),
          .remedy = remedy,
          .message = "the launch cannot be made so"};
}

/// A torque is asked for at the moment of launch, so the waiting time has already cost its share.
double torque_before_wait_Nm(const LaunchPlan& plan) {
  return *plan.torque_Nm * std::exp(plan.relaxation_per_s * plan.wait_s);
}

/// Top of the climb without a roof, for launch control.
base::Expected<double> top_height(const Setup& setup, const ClimbTable& table, double turns) {
  RunOptions options;
  options.stop_at_top = true;
  options.heed_roof = false;
  options.keep_history = false;
  const auto climb = run(setup, table, turns, options);
  if (!climb) return base::fail(climb.error());
  return climb->top_height_m;
}

/// The most turns up to which the motor never gives more than the table's greatest torque: above it
/// the propeller cannot follow.
double highest_turns(const Setup& setup, const ClimbTable& table) {
  const double wound = setup.launch.wound_turns, highest = table.highest_torque_Nm();
  const auto within = [&](double turns) {
    return rubber::greatest_torque_Nm(setup.motor, turns) <= highest * (1 + 1e-9);
  };
  if (within(wound)) return wound;
  double low = 0, high = wound;
  while (high - low > 1e-6 * wound) {
    const double middle = (low + high) / 2;
    (within(middle) ? low : high) = middle;
  }
  return low;
}

base::Expected<LaunchDecision> by_margin(const Setup& setup, const ClimbTable& table,
                                         double margin_m) {
  const double wanted = setup.hall.roof_m - margin_m;
  if (wanted <= setup.launch.height_m) {
    return base::fail(
        out_of_range("launch.margin", fmt::format("{:.2f} m", margin_m),
                     fmt::format("below {:.2f} m, so that the top is above the launch",
                                 setup.hall.roof_m - setup.launch.height_m),
                     "give a smaller margin"));
  }
  LaunchDecision decision;
  const double most = highest_turns(setup, table);
  base::Problems problems;
  const auto excess = [&](double turns) {
    const auto top = top_height(setup, table, turns);
    if (top) return *top - wanted;
    problems = top.error();
    return 0.0;
  };
  const double at_most = excess(most);
  if (!problems.empty()) return base::fail(std::move(problems));
  if (at_most <= 0) {
    decision.turns = most;
    const bool all = most == setup.launch.wound_turns;
    decision.warnings.push_back(fmt::format(
        "{} the model tops out {:.2f} m under the roof, below the margin asked for: it is launched "
        "{}.",
        all ? "Even fully wound" : "Even with all the torque its propeller takes",
        setup.hall.roof_m - (wanted + at_most), all ? "without backing off" : "with that torque"));
    return decision;
  }
  double low = 0;
  const double level = table.level_torque_Nm();
  if (const auto turns = rubber::turns_at_torque(setup.motor, level, most)) low = 0.98 * *turns;
  const double at_low = excess(low);
  if (at_low >= 0) {
    decision.turns = low;
    return decision;
  }
  std::uintmax_t iterations = 40;
  // A thousandth of a turn is far below what a winder counts.
  const auto close = [](double a, double b) { return std::abs(a - b) < 1e-3; };
  const auto bracket =
      boost::math::tools::toms748_solve(excess, low, most, at_low, at_most, close, iterations);
  if (!problems.empty()) return base::fail(std::move(problems));
  decision.turns = bracket.first;  // the side that stays under the margin
  return decision;
}

}  // namespace

double greatest_torque_Nm(const Setup& setup) {
  const LaunchPlan& plan = setup.launch;
  // Nothing at or above the launch turns is flown with.
  double most_turns = std::min(plan.turns.value_or(plan.wound_turns), plan.wound_turns);
  if (plan.torque_Nm) {
    most_turns = rubber::turns_at_torque(setup.motor, torque_before_wait_Nm(plan), most_turns)
                     .value_or(most_turns);
  }
  return rubber::greatest_torque_Nm(setup.motor, most_turns);
}

base::Expected<ClimbTable> table_for(const Setup& setup) {
  const double wanted = greatest_torque_Nm(setup);
  auto table = ClimbTable::make(setup, wanted);
  if (table || setup.launch.turns || setup.launch.torque_Nm) return table;
  // A fully wound motor may have more torque than any propeller of this size takes; backing off
  // brings it down. Look for the highest torque with a steady flight.
  double low = 0, high = wanted;
  for (int i = 0; i < 24; ++i) {
    const double middle = (low + high) / 2;
    (equilibrium(setup, middle) ? low : high) = middle;
  }
  if (low <= 0.05 * wanted) return table;
  return ClimbTable::make(setup, 0.98 * low);
}

base::Expected<LaunchDecision> launch_turns(const Setup& setup, const ClimbTable& table) {
  const LaunchPlan& plan = setup.launch;
  if (plan.turns) {
    if (!(*plan.turns > 0 && *plan.turns <= plan.wound_turns)) {
      return base::fail(
          out_of_range("launch.turns", fmt::format("{:.0f} turns", *plan.turns),
                       fmt::format("1 to {:.0f} turns, those wound", plan.wound_turns),
                       "launch with fewer turns, or wind more"));
    }
    return LaunchDecision{*plan.turns, {}};
  }
  if (plan.torque_Nm) {
    const double before_wait = torque_before_wait_Nm(plan);
    const auto turns = rubber::turns_at_torque(setup.motor, before_wait, plan.wound_turns);
    if (!turns) {
      return base::fail(out_of_range(
          "launch.torque", fmt::format("{:.3f} mN m", 1000 * *plan.torque_Nm),
          fmt::format("up to {:.3f} mN m with {:.0f} turns wound",
                      1000 * rubber::torque_Nm(setup.motor, plan.wound_turns), plan.wound_turns),
          "wind more, or ask for less torque"));
    }
    return LaunchDecision{*turns, {}};
  }
  return by_margin(setup, table, plan.margin_m.value_or(0.5));
}

}  // namespace propwright::flight
