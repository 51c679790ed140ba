// Flights of a log that are the same in the model, and those that lend each other their slopes.
#include <algorithm>
#include <map>
#include <tuple>

#include "conditions.h"
#include "lend.h"
#include "propwright/learn/flown_log.h"

namespace propwright::learn {

namespace {

// Flights whose slopes are flown: with fewer, all are; beyond, their neighbours lend them theirs.
constexpr std::size_t most_slopes = 48;
constexpr std::size_t least_slopes_of_group = 4;

/// What flights must share beside their numbers to be the same in the model.
std::string shared_by(const Conditions& c) {
  return c.batch + '\n' + c.unread_day;
}

/// What orders flights with the same propeller, motor, model and roof: the torque they begin with,
/// warmth included.
double launch_torque(const Conditions& c) {
  const flight::LaunchPlan& plan = c.setup.launch;
  if (plan.torque_Nm) return *plan.torque_Nm;
  return rubber::torque_Nm(c.setup.motor, plan.turns.value_or(plan.wound_turns));
}

}  // namespace

void FlownLog::find_same() {
  std::map<std::pair<std::string, std::vector<double>>, std::size_t> known;
  same_as_.reserve(conditions_.size());
  for (std::size_t i = 0; i < conditions_.size(); ++i) {
    const Conditions& c = conditions_[i];
    const rubber::Motor& motor = c.setup.motor;
    const flight::LaunchPlan& plan = c.setup.launch;
    const double none = -1;
    std::vector<double> all{static_cast<double>(c.subject),
                            c.flow.density_kg_m3,
                            c.flow.viscosity_Pa_s,
                            motor.section_m2,
                            motor.length_m,
                            motor.mass_kg,
                            motor.spacer_mass_kg,
                            motor.temperature_K,
                            c.setup.airframe.mass_kg,
                            c.setup.hall.roof_m,
                            plan.height_m,
                            plan.wait_s,
                            plan.wound_turns,
                            plan.margin_m.value_or(none),
                            plan.turns.value_or(none),
                            plan.torque_Nm.value_or(none),
                            c.rev_time_s.value_or(none)};
    same_as_.push_back(known.try_emplace({shared_by(c), std::move(all)}, i).first->second);
  }
}

void FlownLog::find_alike() {
  if (used_.size() <= most_slopes) return;
  using Key = std::tuple<std::size_t, std::string, double, double, double, double, double>;
  std::map<Key, std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < used_.size(); ++i) {
    const Conditions& c = conditions_[i];
    const rubber::Motor& motor = c.setup.motor;
    groups[{c.subject, shared_by(c), motor.section_m2, motor.length_m, motor.mass_kg,
            c.setup.airframe.mass_kg, c.setup.hall.roof_m}]
        .push_back(i);
  }
  const std::size_t lenders = std::max(most_slopes / groups.size(), least_slopes_of_group);
  for (auto& [key, members] : groups) {
    if (members.size() <= lenders) continue;
    std::stable_sort(members.begin(), members.end(), [&](std::size_t a, std::size_t b) {
      return launch_torque(conditions_[a]) < launch_torque(conditions_[b]);
    });
    std::vector<double> torque;
    torque.reserve(members.size());
    for (const std::size_t m : members) torque.push_back(launch_torque(conditions_[m]));
    lend_slopes(members, torque, lenders, observed_);
  }
}

}  // namespace propwright::learn
