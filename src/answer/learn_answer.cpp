// What the flights taught, as a document.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "flights_said.h"
#include "learned_log.h"
#include "learned_table.h"
#include "propwright/answer/flights_answer.h"
#include "propwright/learn/next_propeller.h"

namespace propwright::answer {
namespace {

const char* state_word(learn::State state) {
  switch (state) {
    case learn::State::moved:
      return "moved";
    case learn::State::confirmed:
      return "confirmed";
    case learn::State::unseen:
      break;
  }
  return "unseen";
}

const char* measure_word(learn::Measure measure) {
  switch (measure) {
    case learn::Measure::angle_deg:
      return "angle_deg";
    case learn::Measure::temperature_K:
      return "temperature_K";
    case learn::Measure::factor:
      break;
  }
  return "factor";
}

Json parameters_json(const std::vector<learn::Finding>& findings) {
  Json list = Json::array();
  for (const learn::Finding& f : findings) {
    list.push_back({{"name", f.name},
                    {"key", f.key},
                    {"owner", f.owner},
                    {"label", f.label},
                    {"kind", measure_word(f.measure)},
                    {"prior", f.prior},
                    {"prior_interval", {f.prior_low, f.prior_high}},
                    {"posterior", f.posterior},
                    {"interval", {f.low, f.high}},
                    {"sigma", f.sigma},
                    {"state", state_word(f.state)},
                    {"sentence", f.sentence}});
  }
  return list;
}

/// For each job the table that makes its predictions use what was learned.
Json learned_json(const FlightsQuestion& asked, const learn::FlownLog& log,
                  const learn::Posterior& posterior, const std::vector<learn::Finding>& findings) {
  Json list = Json::array();
  for (std::size_t s = 0; s < asked.subjects.size(); ++s) {
    const brief::Job& job = asked.subjects[s].job;
    // What is known of the model and the rubber comes from the other propellers' flights as well.
    std::vector<const logbook::Flight*> flights;
    for (const std::size_t at : log.used()) {
      if (asked.subjects[log.entries()[at].subject].job.model.name == job.model.name) {
        flights.push_back(&asked.flights[at]);
      }
    }
    const brief::Learned learned =
        learned_of(log, job, s, posterior, findings, flights_told(flights));
    list.push_back({{"propeller", job.propeller.name}, {"table", learned_table(job, learned)}});
  }
  return list;
}

Json left_out_json(const FlightsQuestion& asked, const learn::FlownLog& log) {
  Json list = Json::array();
  for (std::size_t i = 0; i < asked.flights.size(); ++i) {
    const std::string& reason = log.entries()[i].left_out;
    if (reason.empty()) continue;
    Json row = flight_row(asked, i);
    row["reason"] = reason;
    list.push_back(std::move(row));
  }
  return list;
}

Json changes_json(const FlightsQuestion& asked, const std::vector<learn::Change>& changes) {
  Json list = Json::array();
  for (const learn::Change& c : changes) {
    list.push_back({{"propeller", asked.subjects[c.subject].job.propeller.name},
                    {"before_s", c.before_s},
                    {"before_sigma_s", c.before_sigma_s},
                    {"after_s", c.after_s},
                    {"after_sigma_s", c.after_sigma_s},
                    {"flight_sigma_s", c.flight_sigma_s},
                    {"before_top_m", c.before_top_m},
                    {"after_top_m", c.after_top_m},
                    {"before_launch_turns", c.before_launch_turns},
                    {"after_launch_turns", c.after_launch_turns},
                    {"before_turns_left", c.before_turns_left},
                    {"after_turns_left", c.after_turns_left}});
  }
  return list;
}

/// Of the time flown: seconds as logged and as the model has them, residual in units of scatter.
Json residuals_json(const FlightsQuestion& asked, const learn::FlownLog& log,
                    const learn::Posterior& posterior) {
  constexpr auto time = static_cast<std::size_t>(learn::Kind::duration);
  Json list = Json::array();
  for (std::size_t i = 0; i < log.used().size(); ++i) {
    const std::size_t at = log.used()[i];
    const learn::Fit& fit = posterior.fits[i];
    const auto& readings = log.observed()[i].readings;
    const auto reading = std::find_if(readings.begin(), readings.end(), [](const auto& r) {
      return r.kind == learn::Kind::duration;
    });
    const bool compared = fit.flown && reading != readings.end();
    Json row = flight_row(asked, at);
    const auto& seconds = asked.flights[at].duration_s;
    row["observed_s"] = seconds ? Json(*seconds) : Json();
    row["before_s"] = fit.flown ? Json(std::exp(fit.before[time])) : Json();
    row["after_s"] = fit.flown ? Json(std::exp(fit.after[time])) : Json();
    row["residual"] = compared
                          ? Json(fit.residual[static_cast<std::size_t>(reading - readings.begin())])
                          : Json();
    row["weight"] = fit.flown ? fit.weight : 0;
    list.push_back(std::move(row));
  }
  return list;
}

Json misfits_json(const FlightsQuestion& asked, const std::vector<learn::Misfit>& misfits) {
  Json list = Json::array();
  for (const learn::Misfit& m : misfits) {
    Json row = flight_row(asked, m.flight);
    row["weight"] = m.weight;
    row["reasons"] = m.reasons;
    list.push_back(std::move(row));
  }
  return list;
}

/// Whoever waits for the answer, told of parts of the work.
class Waiting {
 public:
  explicit Waiting(const StillWanted& wanted) : wanted_(wanted) {}
  /// For the part of the work from one share of the whole to another.
  StillWanted part(double from, double to) {
    return [this, from, to](double share) {
      if (!gone_ && wanted_ && !wanted_(from + (to - from) * share)) gone_ = true;
      return !gone_;
    };
  }
  bool gone() const { return gone_; }

 private:
  const StillWanted& wanted_;
  bool gone_ = false;
};

Json next_json(const FlightsQuestion& asked, const learn::FlownLog& log,
               const learn::Posterior& posterior, Waiting& waiting) {
  Json list = Json::array();
  for (std::size_t s = 0; s < asked.subjects.size(); ++s) {
    Json candidates = Json::array();
    const double each = 0.5 / static_cast<double>(asked.subjects.size());
    const double from = 0.5 + each * static_cast<double>(s);
    const auto next =
        learn::next_propellers(asked.subjects, s, asked.loaded[s].attachments, log, posterior,
                               on_all_processors, {}, waiting.part(from, from + each));
    for (const learn::Candidate& c : next) {
      candidates.push_back({{"key", c.key},
                            {"change", c.change},
                            {"new_blades", c.new_blades},
                            {"value", c.value},
                            {"bench_hours", c.bench_hours},
                            {"gain_s", c.gain_s},
                            {"sigma_s", c.sigma_s},
                            {"expected_improvement_s", c.expected_improvement_s},
                            {"probability_10_s", c.probability_10_s},
                            {"teaches", c.teaches}});
    }
    list.push_back({{"propeller", asked.subjects[s].job.propeller.name},
                    {"candidates", std::move(candidates)}});
  }
  return list;
}

/// Whether changes and next propellers, the costly parts, are wanted.
bool next_wanted(const Json& question, base::Problems& problems) {
  const Json wanted = question_member(question, "next");
  if (wanted.is_null()) return true;
  if (wanted.is_boolean()) return wanted.get<bool>();
  problems.push_back({.field = "next",
                      .allowed = "true, false",
                      .remedy = "send true or false",
                      .message = "this is neither true nor false"});
  return false;
}

Json scatter_json(const learn::Scatter& s, const learn::Posterior& posterior) {
  const auto seen = [&](learn::Kind kind) {
    return posterior.scatter_factor[static_cast<std::size_t>(kind)];
  };
  using learn::Kind;
  return {{"duration", s.duration * seen(Kind::duration)},
          {"top_height_m", s.top_height_m * seen(Kind::top_height)},
          {"top_height", s.top_height * seen(Kind::top_height)},
          {"turns_left", s.turns_left * seen(Kind::turns_left)},
          {"launch_torque", s.launch_torque * seen(Kind::launch_torque)},
          {"mean_rev", s.mean_rev * seen(Kind::mean_rev)}};
}

void note_learning(const FlightsQuestion& asked, const learn::Posterior& posterior,
                   std::vector<std::string>& notes) {
  notes.push_back(fmt::format(
      "Taken as given: a flight\u2019s time scatters by {:.3g}\u00a0%, its tails are "
      "Student\u2019s "
      "with {:.3g} degrees of freedom, and the doubts of the jobs are what was known before.",
      100 * asked.scatter.duration, asked.beliefs.tail_freedom));
  if (!posterior.converged) {
    notes.push_back(
        "The steps to the most probable values had not come to rest: take them with caution.");
  }
}

base::Problem nothing_to_learn_from(const FlightsQuestion& asked, const learn::FlownLog& log) {
  const std::string why =
      log.entries().empty() ? "" : fmt::format(" (flight 1: {})", log.entries().front().left_out);
  return {.kind = base::Kind::no_solution,
          .field = "flights",
          .value = fmt::format("{} flights", asked.flights.size()),
          .remedy = "log flights with the propeller\u2019s name as in its job, and turns or time",
          .message = "none of the flights can be learned from" + why};
}

}  // namespace

const std::vector<std::string>& learn_members() {
  static const std::vector<std::string> members{"jobs",    "flights",  "csv",
                                                "scatter", "learning", "next"};
  return members;
}

base::Expected<Json> learn_document(const Json& question, KnownLearning* known,
                                    const StillWanted& wanted) {
  base::Problems problems = unknown_members(question, learn_members());
  if (!problems.empty()) return base::fail(std::move(problems));
  const bool next = next_wanted(question, problems);
  auto asked = read_flights_question(question, 1);
  if (!asked) problems.insert(problems.end(), asked.error().begin(), asked.error().end());
  if (!problems.empty()) return base::fail(std::move(problems));
  Waiting waiting(wanted);
  const auto found = learned_log(*asked, known, waiting.part(0, next ? 0.5 : 0.9));
  if (!found) return base::fail(found.error());
  const learn::FlownLog& log = (*found)->log;
  if (log.used().empty()) return base::fail(nothing_to_learn_from(*asked, log));
  const auto& posterior = (*found)->posterior;
  if (!posterior) return base::fail(posterior.error());
  const auto findings = learn::findings(log, *posterior);
  note_turns_past_breaking(*asked, log, asked->notes);
  note_learning(*asked, *posterior, asked->notes);
  Json answer{
      {"units", asked->profile() == units::Profile::inch ? "inch" : "metric"},
      {"flights",
       {{"given", asked->flights.size()},
        {"used", log.used().size()},
        {"left_out", left_out_json(*asked, log)}}},
      {"parameters", parameters_json(findings)},
      {"entangled", learn::entangled(log, *posterior)},
      {"changes", changes_json(*asked, learn::changes(log, asked->subjects.size(), *posterior))},
      {"residuals", residuals_json(*asked, log, *posterior)},
      {"misfits", misfits_json(*asked, learn::misfits(log, asked->flights, *posterior))},
      {"next", next ? next_json(*asked, log, *posterior, waiting) : Json::array()},
      {"learned", learned_json(*asked, log, *posterior, findings)},
      {"scatter", scatter_json(asked->scatter, *posterior)},
      {"converged", posterior->converged},
      {"notes", asked->notes}};
  if (waiting.gone()) return base::fail(learn::learning_stopped());
  compact(answer);  // finds numbers that are not finite
  return answer;
}

}  // namespace propwright::answer
