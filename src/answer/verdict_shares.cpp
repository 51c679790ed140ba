// Flights made comparable: time flown over the time that one and the same propeller should make of
// the flight's conditions and winding.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/answer/flights_answer.h"
#include "verdict_parts.h"

namespace propwright::answer {
namespace {

double median_of_seconds(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// What the log itself says of each flight.
std::vector<SharedFlight> taken_flights(const VerdictQuestion& question) {
  const auto& flights = question.flown.flights;
  std::vector<SharedFlight> taken(flights.size());
  for (std::size_t i = 0; i < flights.size(); ++i) {
    const logbook::Flight& f = flights[i];
    SharedFlight& one = taken[i];
    one.flight = i;
    one.weight = f.weight.value_or(1) * (f.steered ? question.flown.scatter.steered_weight : 1);
    const auto named = std::find_if(question.propellers.begin(), question.propellers.end(),
                                    [&](const Contestant& c) { return c.name == f.propeller; });
    if (named != question.propellers.end()) {
      one.propeller = static_cast<std::size_t>(named - question.propellers.begin());
    }
    one.left_out = f.propeller.empty() ? "no propeller named"
                   : !one.propeller    ? "no job with this propeller"
                                       : logbook::why_left_out(f);
    if (one.left_out.empty() && !f.duration_s) one.left_out = "no time flown";
    if (one.left_out.empty() && one.weight <= 0) one.left_out = "its weight is nought";
  }
  return taken;
}

std::vector<double> seconds_that_count(const VerdictQuestion& question,
                                       const std::vector<SharedFlight>& flights, bool expected) {
  std::vector<double> seconds;
  seconds.reserve(flights.size());
  for (const SharedFlight& one : flights) {
    if (!one.left_out.empty()) continue;
    const logbook::Flight& f = question.flown.flights[one.flight];
    const auto& value = expected ? f.expected_s : f.duration_s;
    if (value) seconds.push_back(*value);
  }
  return seconds;
}

/// Without jobs: expected_s of the log where it has any, else the same time for all.
Reference reference_of_log(VerdictQuestion& question, std::vector<SharedFlight>& flights) {
  const std::vector<double> expected = seconds_that_count(question, flights, true);
  const std::vector<double> flown = seconds_that_count(question, flights, false);
  Reference reference;
  if (!expected.empty()) {
    reference.duration_s = median_of_seconds(expected);
    reference.what = "the expected times that the log gives; their median here";
    for (SharedFlight& one : flights) {
      one.expected_s = question.flown.flights[one.flight].expected_s;
      if (!one.expected_s && one.left_out.empty()) one.left_out = "no expected time";
    }
    return reference;
  }
  reference.what = "plain times, over their median";
  reference.duration_s = flown.empty() ? 0 : median_of_seconds(flown);
  for (SharedFlight& one : flights) {
    if (reference.duration_s > 0) one.expected_s = reference.duration_s;
  }
  question.flown.notes.push_back(
      "Plain times are compared, since the log has no expected times and no job was given: what "
      "winding, air and roof do from flight to flight counts as scatter.");
  return reference;
}

/// The reference as learned from the flights, or as its sheet has it where they teach nothing.
Eigen::VectorXd mode_of(VerdictQuestion& question, const learn::FlownLog& log, bool& learned) {
  learned = false;
  if (question.learn && !log.used().empty()) {
    const auto posterior = learn::learn(
        log.parameters().size(), log.observed(),
        [&](const std::vector<learn::Query>& queries) { return log.fly(queries); },
        question.flown.beliefs);
    if (posterior) {
      learned = true;
      return posterior->mode;
    }
    question.flown.notes.push_back(
        "The flights taught the model nothing: " + posterior.error().front().message + ".");
  }
  return Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
}

Reference reference_of_jobs(VerdictQuestion& question, std::vector<SharedFlight>& flights) {
  const learn::FlownLog log = flown_log(question.flown);
  Reference reference;
  reference.propeller = question.propellers.front().name;
  const Eigen::VectorXd mode = mode_of(question, log, reference.learned);
  std::vector<std::size_t> timed;
  timed.reserve(flights.size());
  for (const SharedFlight& one : flights) {
    if (question.flown.flights[one.flight].duration_s) timed.push_back(one.flight);
  }
  const auto seconds = log.durations_with(0, mode, timed);
  for (std::size_t i = 0; i < timed.size(); ++i) {
    SharedFlight& one = flights[timed[i]];
    one.expected_s = seconds[i];
    if (!seconds[i] && one.left_out.empty()) {
      one.left_out = "the model does not fly the reference in its conditions";
    }
  }
  const auto own = log.own_flights(0, {mode});
  const auto& sheet = question.flown.subjects.front().nominal.flight;
  reference.own = own[0] ? *own[0] : sheet;
  reference.duration_s = reference.own->duration_s;
  reference.what = fmt::format(
      "what {} should make of each flight\u2019s air, roof and winding, {}; seconds are "
      "those under the roof of its job",
      reference.propeller,
      reference.learned ? "as learned from these flights" : "as its sheet has it");
  return reference;
}

}  // namespace

double sigma_of_range(const verdict::Range& range) {
  return (range.high - range.low) / (2 * 1.6448536);
}

Shares shares_of_flights(VerdictQuestion& question) {
  Shares shares;
  shares.flights = taken_flights(question);
  shares.reference = question.flown.subjects.empty() ? reference_of_log(question, shares.flights)
                                                     : reference_of_jobs(question, shares.flights);
  if (question.reference_s) {
    shares.reference.duration_s = *question.reference_s;
    shares.reference.what += "; the time under this roof as asked";
  }
  shares.scores.reserve(shares.flights.size());
  shares.score_flight.reserve(shares.flights.size());
  for (SharedFlight& one : shares.flights) {
    const auto& seconds = question.flown.flights[one.flight].duration_s;
    if (seconds && one.expected_s) one.share = *seconds / *one.expected_s;
    if (!one.left_out.empty() || !one.share) continue;
    shares.scores.push_back({*one.propeller, *one.share, one.weight});
    shares.score_flight.push_back(one.flight);
  }
  return shares;
}

}  // namespace propwright::answer
