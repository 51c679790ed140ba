// What of a log can be learned from, the parameters it may move, and which of them move a flight.
#include "propwright/learn/flown_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "conditions.h"
#include "owners.h"

namespace propwright::learn {

namespace {

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

}  // namespace propwright::learn
