// Flights made comparable: time flown over the time that one and the same propeller should make of
// the flight's conditions and winding.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "flights_said.h"
#include "learned_log.h"
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
    one.left_out = logbook::why_left_out(f);
    if (f.propeller.empty()) {
      one.left_out = "no propeller named";
    } else if (!one.propeller && one.left_out.empty()) {
      one.left_out = "no job with this propeller";
    }
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

/// What the reference should make of the flights: as learned from them, or as its sheet has it
/// where they teach nothing.
base::Expected<ReferenceFlights> reference_of(VerdictQuestion& question, bool& learned,
                                              KnownLearning* known, const StillWanted& wanted) {
  learned = false;
  if (question.learn) {
    const auto found = learned_log(question.flown, known, wanted);
    if (!found) return base::fail(found.error());
    learned = (*found)->posterior.has_value();
    note_turns_past_breaking(question.flown, (*found)->log, question.flown.notes);
    if (learned) return (*found)->reference();
    const base::Problems& why = (*found)->posterior.error();
    if (!why.empty()) {
      question.flown.notes.push_back(
          "The flights taught the model nothing: " + why.front().message + ".");
    }
  }
  const learn::FlownLog log = flown_log(question.flown);
  if (!question.learn) note_turns_past_breaking(question.flown, log, question.flown.notes);
  const auto count = static_cast<Eigen::Index>(log.parameters().size());
  return reference_flights(question.flown, log, Eigen::VectorXd::Zero(count));
}

base::Expected<Reference> reference_of_jobs(VerdictQuestion& question,
                                            std::vector<SharedFlight>& flights,
                                            KnownLearning* known, const StillWanted& wanted) {
  Reference reference;
  reference.propeller = question.propellers.front().name;
  const auto flown = reference_of(question, reference.learned, known, wanted);
  if (!flown) return base::fail(flown.error());
  for (SharedFlight& one : flights) {
    if (!question.flown.flights[one.flight].duration_s) continue;
    one.expected_s = flown->seconds[one.flight];
    if (one.left_out.empty()) one.left_out = flown->left_out[one.flight];
    if (!one.expected_s && one.left_out.empty()) {
      one.left_out = "the model does not fly the reference in its conditions";
    }
  }
  const auto& sheet = question.flown.subjects.front().nominal.flight;
  reference.own = flown->own.value_or(sheet);
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

base::Expected<Shares> shares_of_flights(VerdictQuestion& question, KnownLearning* known,
                                         const StillWanted& wanted) {
  Shares shares;
  shares.flights = taken_flights(question);
  if (question.flown.subjects.empty()) {
    shares.reference = reference_of_log(question, shares.flights);
  } else {
    auto reference = reference_of_jobs(question, shares.flights, known, wanted);
    if (!reference) return base::fail(std::move(reference.error()));
    shares.reference = std::move(*reference);
  }
  if (question.reference_s) {
    shares.reference.duration_s = *question.reference_s;
    shares.reference.what += "; the time under this roof as asked";
  }
  const std::vector<std::size_t> days = days_of_flights(question.flown.flights, shares.days);
  for (SharedFlight& one : shares.flights) one.day = days[one.flight];
  shares.scores.reserve(shares.flights.size());
  shares.score_flight.reserve(shares.flights.size());
  for (SharedFlight& one : shares.flights) {
    const auto& seconds = question.flown.flights[one.flight].duration_s;
    if (seconds && one.expected_s) one.share = *seconds / *one.expected_s;
    if (!one.left_out.empty() || !one.share) continue;
    shares.scores.push_back({*one.propeller, *one.share, one.weight, one.day});
    shares.score_flight.push_back(one.flight);
  }
  return shares;
}

}  // namespace propwright::answer
