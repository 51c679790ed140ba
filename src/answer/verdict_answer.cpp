// Which propeller is the better, as a document.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_cautions.h"
#include "propwright/answer/flights_answer.h"
#include "propwright/rubber/winder.h"
#include "verdict_parts.h"

namespace propwright::answer {
namespace {

using verdict::Decision;
using verdict::Verdict;

// The trade's own arithmetic (common practice).
constexpr double common_scatter = 0.04, common_difference = 0.04;
constexpr int longest_order_each = 12, first_order_each = 4;

const char* decision_word(Decision decision) {
  switch (decision) {
    case Decision::best:
      return "best";
    case Decision::no_matter:
      return "no_matter";
    case Decision::cannot_tell_yet:
      break;
  }
  return "cannot_tell_yet";
}

Json interval_json(const verdict::Range& range) {
  return {range.low, range.high};
}

/// Nothing is known of a propeller without flights, unless something was believed beforehand.
bool has_knowledge(const VerdictQuestion& question, const verdict::Standing& standing) {
  return standing.flights > 0 || question.level_sigma.has_value();
}

Json propellers_json(const VerdictQuestion& question, const Verdict& verdict) {
  double heaviest = 0;
  for (const Contestant& c : question.propellers)
    heaviest = std::max(heaviest, c.mass_kg.value_or(0));
  const auto rivals = std::count_if(verdict.propellers.begin(), verdict.propellers.end(),
                                    [&](const auto& p) { return has_knowledge(question, p); });
  Json list = Json::array();
  for (std::size_t k = 0; k < question.propellers.size(); ++k) {
    const Contestant& c = question.propellers[k];
    const verdict::Standing& p = verdict.propellers[k];
    const bool known = has_knowledge(question, p), compared = known && rivals > 1;
    const auto number = [](bool there, double value) { return there ? Json(value) : Json(); };
    const auto range = [](bool there, const verdict::Range& r) {
      return there ? interval_json(r) : Json();
    };
    list.push_back({{"name", c.name},
                    {"letter", c.letter},
                    {"setting", c.setting},
                    {"flights", p.flights},
                    {"probability_best", p.probability_best},
                    {"share", number(known, p.share.median)},
                    {"share_interval", range(known, p.share)},
                    {"duration_s", number(known, p.duration_s.median)},
                    {"duration_interval_s", range(known, p.duration_s)},
                    {"gain_s", number(compared, p.gain_s.median)},
                    {"interval_s", range(compared, p.gain_s)},
                    {"mass_kg", c.mass_kg ? Json(*c.mass_kg) : Json()},
                    {"ballast_kg", c.mass_kg ? Json(heaviest - *c.mass_kg) : Json()}});
  }
  return list;
}

/// How much the heavy tail let a flight count: (nu + 1)/(nu + z2) of a flight that fits.
double tail_weight(const VerdictQuestion& question, const Verdict& verdict,
                   const SharedFlight& one) {
  if (!question.beliefs.tail_freedom || verdict.scatter.median <= 0) return 1;
  const double nu = *question.beliefs.tail_freedom;
  const double day = verdict.day_shift.empty() ? 0 : verdict.day_shift[one.day];
  const double off = std::log(*one.share / verdict.propellers[*one.propeller].share.median) - day;
  const double z2 = one.weight * off * off / (verdict.scatter.median * verdict.scatter.median);
  return std::min(1.0, (nu + 1) / (nu + z2));
}

Json shares_json(const VerdictQuestion& question, const Shares& shares, const Verdict& verdict) {
  Json list = Json::array();
  for (const SharedFlight& one : shares.flights) {
    const logbook::Flight& f = question.flown.flights[one.flight];
    const bool counts = one.left_out.empty() && one.share;
    Json row = flight_row(question.flown, one.flight);
    row["letter"] = one.propeller ? question.propellers[*one.propeller].letter : "";
    row["duration_s"] = f.duration_s ? Json(*f.duration_s) : Json();
    row["expected_s"] = one.expected_s ? Json(*one.expected_s) : Json();
    row["share"] = one.share ? Json(*one.share) : Json();
    row["sigma"] =
        counts ? Json(*one.share * verdict.scatter.median / std::sqrt(one.weight)) : Json();
    row["weight"] = counts ? one.weight : 0;
    row["fits"] = counts ? Json(tail_weight(question, verdict, one)) : Json();
    row["steered"] = f.steered;
    row["left_out"] = one.left_out;
    list.push_back(std::move(row));
  }
  return list;
}

/// Propellers to fly next: the contenders, and those that have no flights yet.
std::vector<std::size_t> to_fly(const VerdictQuestion& question, const Verdict& verdict) {
  if (verdict.decision != Decision::cannot_tell_yet) return {};
  std::vector<std::size_t> all = verdict.contenders;
  for (std::size_t k = 0; k < question.propellers.size(); ++k) {
    const bool there = std::find(all.begin(), all.end(), k) != all.end();
    if (!there && verdict.propellers[k].flights == 0) all.push_back(k);
  }
  std::sort(all.begin(), all.end());
  return all.size() > 1 ? all : std::vector<std::size_t>{};
}

/// As the Log has it, so that there is one order.
Json order_json(const VerdictQuestion& question, const Json& rows, const Verdict& verdict) {
  const int each = std::clamp(verdict.even_each.value_or(first_order_each), 1, longest_order_each);
  std::vector<std::string> letters;
  for (const std::size_t k : to_fly(question, verdict)) {
    letters.push_back(question.propellers[k].letter);
  }
  return fair_order(rows, letters, each);
}

/// Of each day with flights that count, what it did to all times, as a share.
Json days_json(const Shares& shares, const Verdict& verdict) {
  Json list = Json::array();
  for (std::size_t t = 0; t < shares.days.size(); ++t) {
    const auto flights = std::count_if(shares.scores.begin(), shares.scores.end(),
                                       [t](const verdict::Score& s) { return s.day == t; });
    if (flights == 0) continue;
    const bool apart = t < verdict.day_shift.size();
    list.push_back({{"day", shares.days[t]},
                    {"flights", flights},
                    {"shift", apart ? std::exp(verdict.day_shift[t]) - 1 : 0.0}});
  }
  return list;
}

Json outlook_json(const Verdict& verdict) {
  Json steps = Json::array();
  for (const verdict::Outlook& one : verdict.outlook) {
    steps.push_back({{"each", one.each}, {"settles", one.settles}, {"worth_s", one.worth_s}});
  }
  return {{"even_each", verdict.even_each ? Json(*verdict.even_each) : Json()},
          {"planned_each", verdict.planned_each ? Json(*verdict.planned_each) : Json()},
          {"contenders", verdict.contenders.size()},
          {"steps", steps}};
}

/// Flights of all contenders together that have an even chance of settling it; 0 once settled.
Json more_flights_json(const Verdict& verdict) {
  if (verdict.decision != Decision::cannot_tell_yet) return 0;
  if (!verdict.even_each) return Json();
  return *verdict.even_each * static_cast<int>(verdict.contenders.size());
}

Json power_json(const Verdict& verdict) {
  const int each = verdict::flights_each(common_scatter, common_difference);
  std::string sentence = fmt::format(
      "Common practice: with {:.0f}\u00a0% scatter a difference of {:.0f}\u00a0% takes about {} "
      "flights of each to be seen four times in five, 95\u00a0% sure.",
      100 * common_scatter, 100 * common_difference, each);
  Json own;
  if (verdict.scatter.median > 0) {
    const int seen = verdict::flights_each(verdict.scatter.median, common_difference);
    sentence += fmt::format(" With the {:.1f}\u00a0% seen here it takes about {}.",
                            100 * verdict.scatter.median, seen);
    own = seen;
  }
  return {{"difference", common_difference},
          {"scatter", common_scatter},
          {"flights_each", each},
          {"flights_each_here", own},
          {"sentence", sentence}};
}

Json beliefs_json(const VerdictQuestion& question) {
  const verdict::Beliefs& b = question.beliefs;
  return {{"tail_freedom", b.tail_freedom ? Json(*b.tail_freedom) : Json()},
          {"normal", !b.tail_freedom},
          {"shared_scatter", b.shared_scatter},
          {"scatter_median", b.scatter_median},
          {"scatter_spread", b.scatter_spread ? Json(*b.scatter_spread) : Json()},
          {"flat_scatter", !b.scatter_spread},
          {"day_scatter", b.day_scatter},
          {"level_sigma", question.level_sigma ? Json(*question.level_sigma) : Json()}};
}

Json thresholds_json(const verdict::Thresholds& t) {
  return {{"sure", t.sure},       {"sure_without_one", t.sure_without_one},
          {"margin", t.margin},   {"least_flights", t.least_flights},
          {"planned", t.planned}, {"most_flights", t.most_flights}};
}

/// Winding and launch in whole turns of the winder, with the torque that is left at those.
void put_counted_winding(Json& test, const flight::Flight& own, const rubber::Motor& motor,
                         double ratio) {
  const double launch = rubber::crank_turns(own.turns_at_launch, ratio) * ratio;
  test["wind_turns"] = rubber::crank_turns(own.turns_wound, ratio) * ratio;
  test["launch_turns"] = launch;
  test["launch_torque_Nm"] = own.launch_torque_Nm * rubber::torque_Nm(motor, launch) /
                             std::max(rubber::torque_Nm(motor, own.turns_at_launch), 1e-12);
}

/// What the sheet of a fair test holds alike for all; winding and launch as the verdict's reference
/// flies, learned or not.
Json fair_test_json(const VerdictQuestion& question, const Reference& reference) {
  Json test{{"model", ""},
            {"hall", ""},
            {"motor", ""},
            {"learned", false},
            {"winder_ratio", question.winder_ratio},
            {"wind_turns", Json()},
            {"launch_turns", Json()},
            {"hook_up_torque_Nm", Json()},
            {"launch_torque_Nm", Json()},
            {"caution", cautions::wind}};
  if (question.flown.subjects.empty()) return test;
  const learn::Subject& s = question.flown.subjects.front();
  const auto profile = question.flown.profile();
  const rubber::Motor& motor = s.nominal.setup.motor;
  test["model"] = s.job.model.name;
  test["hall"] = s.job.hall.name;
  test["motor"] = fmt::format(
      "{}{} strands, loop {}, {}", s.job.rubber.name.empty() ? "" : s.job.rubber.name + ", ",
      s.job.motor.strands, units::to_text(motor.length_m, units::Dimension::length, profile),
      units::to_text(motor.mass_kg, units::Dimension::mass, profile));
  const flight::Flight& own = reference.own ? *reference.own : s.nominal.flight;
  test["learned"] = reference.own && reference.learned;
  put_counted_winding(test, own, motor, question.winder_ratio);
  const brief::Launch& launch = s.job.launch;
  test["hook_up_torque_Nm"] =
      test["launch_torque_Nm"].get<double>() * std::exp(launch.relaxation_per_s * launch.wait_s);
  return test;
}

Json odd_flight_json(const Shares& shares, const Verdict& verdict) {
  if (!verdict.score_without_one) return Json();
  return shares.score_flight[*verdict.score_without_one] + 1;
}

}  // namespace

base::Expected<Json> verdict_document(const Json& question_json, KnownLearning* known,
                                      const StillWanted& wanted) {
  auto question = read_verdict_question(question_json);
  if (!question) return base::fail(question.error());
  const auto made = shares_of_flights(*question, known, wanted);
  if (!made) return base::fail(made.error());
  const Shares& shares = *made;
  const Judged judged = judge_all(*question, shares);
  const Verdict& verdict = judged.verdict;
  if (std::string days = days_text(shares, verdict); !days.empty()) {
    question->flown.notes.push_back(std::move(days));
  }
  for (std::string& note : never_shared(*question, shares, verdict)) {
    question->flown.notes.push_back(std::move(note));
  }
  const VerdictWords words = verdict_words(*question, shares, verdict);
  const bool any = !verdict.contenders.empty(), two = any && verdict.runner_up != verdict.leader;
  const auto name = [&](bool there, std::size_t k) {
    return there ? Json(question->propellers[k].name) : Json();
  };
  const Reference& reference = shares.reference;
  Json rows = shares_json(*question, shares, verdict);
  const Json order = order_json(*question, rows, verdict);
  const bool days = !verdict.day_shift.empty();
  Json answer{{"units", question->flown.profile() == units::Profile::inch ? "inch" : "metric"},
              {"headline", words.headline},
              {"sentence", words.sentence},
              {"decision", decision_word(verdict.decision)},
              {"leader", name(any, verdict.leader)},
              {"runner_up", name(two, verdict.runner_up)},
              {"reason", verdict.reason},
              {"reference",
               {{"propeller", reference.propeller},
                {"duration_s", reference.duration_s},
                {"what", reference.what},
                {"learned", reference.learned}}},
              {"propellers", propellers_json(*question, verdict)},
              {"scatter", any ? Json(verdict.scatter.median) : Json()},
              {"scatter_interval", any ? interval_json(verdict.scatter) : Json()},
              {"no_matter_probability", verdict.no_matter_probability},
              {"probability_without_one", verdict.probability_without_one},
              {"flight_without_one", odd_flight_json(shares, verdict)},
              {"odds_history", judged.odds_history},
              {"day_scatter", days ? Json(verdict.day_scatter.median) : Json()},
              {"day_scatter_interval", days ? interval_json(verdict.day_scatter) : Json()},
              {"days", days_json(shares, verdict)},
              {"shares", std::move(rows)},
              {"more_flights", more_flights_json(verdict)},
              {"outlook", outlook_json(verdict)},
              {"order", order},
              {"power", power_json(verdict)},
              {"fair_test", fair_test_json(*question, shares.reference)},
              {"beliefs", beliefs_json(*question)},
              {"thresholds", thresholds_json(question->thresholds)},
              {"notes", question->flown.notes}};
  compact(answer);  // finds numbers that are not finite
  return answer;
}

}  // namespace propwright::answer
