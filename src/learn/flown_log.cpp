#include "propwright/learn/flown_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "conditions.h"
#include "fly_many.h"
#include "lend.h"

namespace propwright::learn {

namespace {

// Flights whose slopes are flown: with fewer, all are; beyond, their neighbours lend them theirs.
constexpr std::size_t most_slopes = 48;
constexpr std::size_t least_slopes_of_group = 4;

std::string owner_of(predict::Owner owner, const brief::Job& job, const std::string& batch,
                     const std::string& unread_day = {}) {
  switch (owner) {
    case predict::Owner::section:
      return job.propeller.polar_file;
    case predict::Owner::propeller:
      return job.propeller.name;
    case predict::Owner::model:
      return job.model.name;
    case predict::Owner::rubber:
      return batch;
    case predict::Owner::day:
      return unread_day;
  }
  return {};
}

// More turns than such a multiple of the doubt about breaking turns allows are miscounted, or the
// motor is another.
constexpr double most_deviations = 3;

/// Deviation of the logarithm of a subject's breaking turns.
double turns_doubt(const Subject& subject) {
  for (const predict::Doubt& doubt : predict::doubts_of(subject.job, subject.nominal)) {
    if (std::string_view(doubt.key) == "rubber_turns") return doubt.sigma;
  }
  return 0;
}

bool of_the_blade(predict::Owner owner) {
  return owner == predict::Owner::section || owner == predict::Owner::propeller;
}

/// What flights must share beside their numbers to be the same in the model.
std::string shared_by(const Conditions& c) {
  return c.batch + '\n' + c.unread_day;
}

}  // namespace

FlownLog::FlownLog(const std::vector<Subject>& subjects,
                   const std::vector<logbook::Flight>& flights, const Scatter& scatter,
                   EachOf each_of)
    : subjects_(subjects), flights_(flights), scatter_(scatter), each_of_(std::move(each_of)) {
  find_entries();
  find_parameters();
  find_days();
  find_observed();
  find_same();
  find_alike();
}

void FlownLog::find_entries() {
  entries_.resize(flights_.size());
  for (std::size_t i = 0; i < flights_.size(); ++i) {
    const logbook::Flight& flight = flights_[i];
    Entry& entry = entries_[i];
    const auto named = std::find_if(subjects_.begin(), subjects_.end(), [&](const Subject& s) {
      return s.job.propeller.name == flight.propeller;
    });
    if (named != subjects_.end()) {
      entry.subject = static_cast<std::size_t>(named - subjects_.begin());
      entry.subject_known = true;
    } else if (!flight.propeller.empty() || subjects_.size() > 1) {
      entry.left_out =
          flight.propeller.empty() ? "no propeller named" : "no job with this propeller";
      continue;
    }
    const Conditions made = conditions_of(flight, subjects_[entry.subject], entry.subject);
    entry.breaking_turns = breaking_turns_passed(flight, made);
    entry.left_out = why_not(flight, made, entry);
    if (!entry.left_out.empty()) continue;
    used_.push_back(i);
    conditions_.push_back(made);
  }
}

/// Empty where it can be learned from.
std::string FlownLog::why_not(const logbook::Flight& flight, const Conditions& conditions,
                              const Entry& entry) const {
  const std::string flagged = logbook::why_left_out(flight);
  if (!flagged.empty()) return flagged;
  const Subject& subject = subjects_[entry.subject];
  if (of_another_model(flight, subject.job)) {
    return "flown with another model: " + flight.model;
  }
  if (entry.breaking_turns) {
    const double turns =
        std::max(flight.turns_wound.value_or(0), flight.turns_at_launch.value_or(0));
    const double most = *entry.breaking_turns * std::exp(most_deviations * turns_doubt(subject));
    if (turns > most) {
      return fmt::format(
          "more turns than its motor takes: {:.0f}, and as its job has it it breaks at {:.0f}",
          turns, *entry.breaking_turns);
    }
  }
  return readings_of(flight, conditions, scatter_).empty() ? "nothing read of it" : "";
}

void FlownLog::find_parameters() {
  const auto add = [&](const predict::Doubt& doubt, const std::string& owner) {
    const bool known = std::any_of(parameters_.begin(), parameters_.end(), [&](const auto& p) {
      return std::string_view(p.doubt.key) == doubt.key && p.owner == owner;
    });
    if (!known) parameters_.push_back({doubt, owner});
  };
  for (std::size_t s = 0; s < subjects_.size(); ++s) {
    const brief::Job& job = subjects_[s].job;
    for (const predict::Doubt& doubt : predict::doubts_of(job, subjects_[s].nominal)) {
      if (doubt.owner == predict::Owner::day || doubt.sigma <= 0) continue;
      add(doubt, owner_of(doubt.owner, job, job.rubber.name));
      if (doubt.owner != predict::Owner::rubber) continue;
      for (const Conditions& conditions : conditions_) {
        if (conditions.subject == s) add(doubt, conditions.batch);
      }
    }
  }
}

/// Each day whose temperature was not read may have been warmer or colder than the job says.
void FlownLog::find_days() {
  const double sigma = scatter_.unread_temperature_K;
  if (sigma <= 0) return;
  std::vector<std::string> days;
  days.reserve(conditions_.size());
  for (const Conditions& c : conditions_) {
    if (!c.unread_day.empty()) days.push_back(c.unread_day);
  }
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  parameters_.reserve(parameters_.size() + days.size());
  for (const std::string& day : days) {
    parameters_.push_back({predict::temperature_of_a_day(sigma), day});
  }
}

FlownLog::Shares FlownLog::shares_of(const Conditions& c) const {
  return shares_of(c.subject, c.flown_as, c.batch, c.unread_day);
}

FlownLog::Shares FlownLog::shares_of(std::size_t subject, std::size_t flown_as,
                                     const std::string& batch,
                                     const std::string& unread_day) const {
  Shares shares;
  for (std::size_t p = 0; p < parameters_.size(); ++p) {
    const predict::Owner owner = parameters_[p].doubt.owner;
    const brief::Job& job = subjects_[of_the_blade(owner) ? subject : flown_as].job;
    if (parameters_[p].owner == owner_of(owner, job, batch, unread_day)) shares.push_back(p);
  }
  // Those that ask for another map of the propeller first, then those that ask for other steady
  // states; the air may ask for both.
  const auto cost = [&](std::size_t p) {
    const predict::Owner owner = parameters_[p].doubt.owner;
    if (of_the_blade(owner)) return 0;
    return owner == predict::Owner::day ? 1 : owner == predict::Owner::model ? 2 : 3;
  };
  std::stable_sort(shares.begin(), shares.end(),
                   [&](std::size_t a, std::size_t b) { return cost(a) < cost(b); });
  return shares;
}

void FlownLog::find_observed() {
  observed_.resize(used_.size());
  for (std::size_t i = 0; i < used_.size(); ++i) {
    const logbook::Flight& flight = flights_[used_[i]];
    Observed& observed = observed_[i];
    observed.readings = readings_of(flight, conditions_[i], scatter_);
    observed.weight = flight.steered ? scatter_.steered_weight : 1;
    observed.parameters = shares_of(conditions_[i]);
    observed.slopes_of = i;
  }
}

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

namespace {

/// What orders flights with the same propeller, motor, model and roof: the torque they begin with,
/// warmth included.
double launch_torque(const Conditions& c) {
  const flight::LaunchPlan& plan = c.setup.launch;
  if (plan.torque_Nm) return *plan.torque_Nm;
  return rubber::torque_Nm(c.setup.motor, plan.turns.value_or(plan.wound_turns));
}

}  // namespace

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
