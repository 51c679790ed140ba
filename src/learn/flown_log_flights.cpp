// The flights of a log flown in the model, at points of its parameters.
#include <map>

#include "conditions.h"
#include "fly_many.h"
#include "owners.h"
#include "propwright/learn/flown_log.h"

namespace propwright::learn {

predict::Draw FlownLog::draw_with(const Shares& shares, const Eigen::VectorXd& z) const {
  predict::Draw draw;
  for (const std::size_t p : shares) {
    parameters_[p].doubt.set(draw, z[static_cast<Eigen::Index>(p)]);
  }
  return draw;
}

std::vector<std::size_t> FlownLog::parameters_of(std::size_t subject) const {
  return shares_of(subject, subject, subjects_[subject].job.rubber.name);
}

predict::Draw FlownLog::draw_of(std::size_t subject, const std::string& batch,
                                const Eigen::VectorXd& z) const {
  return draw_with(shares_of(subject, subject, batch), z);
}

ToFly FlownLog::to_fly(const Conditions& conditions, const Eigen::VectorXd& z) const {
  const Shares shares = shares_of(conditions);
  ToFly one{&conditions, draw_with(shares, z)};
  for (const std::size_t p : shares) {
    if (of_the_blade(parameters_[p].doubt.owner)) {
      one.blade.push_back(z[static_cast<Eigen::Index>(p)]);
    }
  }
  return one;
}

std::vector<std::optional<flight::Flight>> FlownLog::fly_conditions(
    const std::vector<const Conditions*>& conditions, const std::vector<const Eigen::VectorXd*>& z,
    const predict::Nominal* design, bool mean_touch) const {
  std::vector<ToFly> all;
  all.reserve(conditions.size());
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    all.push_back(to_fly(*conditions[i], *z[i]));
    all.back().mean_touch = mean_touch;
  }
  return fly_many(subjects_, design, all, each_of_);
}

std::vector<std::optional<Outcome>> FlownLog::fly(const std::vector<Query>& queries) const {
  // Flights that are the same but for what was read of them are flown once.
  std::vector<ToFly> all;
  all.reserve(queries.size());
  std::vector<std::size_t> place(queries.size());
  std::map<std::size_t, std::size_t> latest;  // query that flew those of one kind
  for (std::size_t i = 0; i < queries.size(); ++i) {
    const Query& query = queries[i];
    const auto [at, fresh] = latest.try_emplace(same_as_[query.flight], i);
    const Query& before = queries[at->second];
    if (!fresh && before.z == query.z && before.slope == query.slope &&
        before.touch_by_touch == query.touch_by_touch) {
      place[i] = place[at->second];
      continue;
    }
    at->second = i;
    place[i] = all.size();
    all.push_back(to_fly(conditions_[query.flight], query.z));
    all.back().slope = query.slope;
    all.back().roofless_top = true;
    all.back().mean_touch = !query.touch_by_touch;
  }
  const auto flown = fly_many(subjects_, nullptr, all, each_of_);
  std::vector<std::optional<Outcome>> outcomes(queries.size());
  for (std::size_t i = 0; i < queries.size(); ++i) {
    if (!flown[place[i]]) continue;
    outcomes[i] = outcome_of(*flown[place[i]], conditions_[queries[i].flight]);
  }
  return outcomes;
}

std::vector<std::optional<double>> FlownLog::durations_with(
    std::size_t subject, const Eigen::VectorXd& z, const std::vector<std::size_t>& flights) const {
  std::vector<Conditions> made;
  made.reserve(flights.size());
  for (const std::size_t i : flights) {
    const bool known = entries_[i].subject_known;
    const std::size_t own = known ? entries_[i].subject : subject;
    made.push_back(conditions_of(flights_[i], subjects_[own], own));
    exchange_propeller(made.back(), subjects_[subject], subject);
  }
  std::vector<const Conditions*> conditions;
  conditions.reserve(made.size());
  for (const Conditions& c : made) conditions.push_back(&c);
  const auto flown = fly_conditions(
      conditions, std::vector<const Eigen::VectorXd*>(made.size(), &z), nullptr, true);
  std::vector<std::optional<double>> durations(made.size());
  for (std::size_t i = 0; i < made.size(); ++i) {
    if (flown[i]) durations[i] = flown[i]->duration_s;
  }
  return durations;
}

std::vector<std::optional<flight::Flight>> FlownLog::own_flights(
    std::size_t subject, const std::vector<Eigen::VectorXd>& z,
    std::optional<double> turns_at_launch) const {
  Conditions own;
  own.subject = own.flown_as = subject;
  own.batch = subjects_[subject].job.rubber.name;
  own.flow = own_flow(subjects_[subject]);
  own.setup = subjects_[subject].nominal.setup;
  if (turns_at_launch) {
    own.setup.launch.margin_m.reset();
    own.setup.launch.torque_Nm.reset();
    own.setup.launch.turns = *turns_at_launch;
  }
  std::vector<const Eigen::VectorXd*> points;
  points.reserve(z.size());
  for (const Eigen::VectorXd& one : z) points.push_back(&one);
  return fly_conditions(std::vector<const Conditions*>(z.size(), &own), points);
}

std::vector<std::optional<flight::Flight>> FlownLog::flights_of(
    std::size_t subject, const predict::Nominal& design,
    const std::vector<Eigen::VectorXd>& z) const {
  Conditions own;
  own.subject = own.flown_as = subject;
  own.batch = subjects_[subject].job.rubber.name;
  own.flow = own_flow(subjects_[subject]);
  own.setup = design.setup;
  std::vector<const Eigen::VectorXd*> points;
  points.reserve(z.size());
  for (const Eigen::VectorXd& one : z) points.push_back(&one);
  return fly_conditions(std::vector<const Conditions*>(z.size(), &own), points, &design);
}

}  // namespace propwright::learn
