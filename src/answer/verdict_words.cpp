// The verdict in words.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "verdict_parts.h"

namespace propwright::answer {
namespace {

std::string count_word(int count) {
  static const char* const words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                      "seven", "eight", "nine", "ten",   "eleven", "twelve"};
  return count >= 0 && count <= 12 ? words[count] : std::to_string(count);
}

std::string with_capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return text;
}

std::string odds_text(double odds) {
  if (odds > 0.995) return "more than 99 in 100";
  return fmt::format("{:.0f} in 100", 100 * odds);
}

int flown_propellers(const verdict::Verdict& verdict) {
  return static_cast<int>(std::count_if(verdict.propellers.begin(), verdict.propellers.end(),
                                        [](const auto& p) { return p.flights > 0; }));
}

/// "A is ahead by 18 ± 14 s."
std::string ahead_text(const VerdictQuestion& question, const verdict::Verdict& verdict) {
  const verdict::Range& gain = verdict.propellers[verdict.leader].gain_s;
  const std::string& leader = question.propellers[verdict.leader].letter;
  const double sigma = std::max(sigma_of_range(gain), 1.0);
  if (std::abs(gain.median) < 0.5) {
    return fmt::format("{} and {} are level, within ±\u00a0{:.0f}\u00a0s.", leader,
                       question.propellers[verdict.runner_up].letter, sigma);
  }
  return fmt::format("{} is ahead by {:.0f} ± {:.0f}\u00a0s.", leader, gain.median, sigma);
}

std::string settling_text(const VerdictQuestion& question, const verdict::Verdict& verdict) {
  if (!verdict.even_each) {
    return fmt::format(
        "Not even {} more flights of each have an even chance of settling it: the difference is "
        "too "
        "small for the scatter.",
        question.thresholds.most_flights);
  }
  const int flights = *verdict.even_each * static_cast<int>(verdict.contenders.size());
  return fmt::format("{} more {} an even chance of settling it.", with_capital(count_word(flights)),
                     flights == 1 ? "flight has" : "flights have");
}

/// Why no flight of a log counts, by its two commonest reasons; "" without flights.
std::string why_none_counts(const Shares& shares) {
  if (shares.flights.empty()) return {};
  std::vector<std::pair<std::string, int>> reasons;
  for (const SharedFlight& one : shares.flights) {
    const std::string reason = one.left_out.substr(0, one.left_out.find(':'));
    const auto known = std::find_if(reasons.begin(), reasons.end(),
                                    [&](const auto& r) { return r.first == reason; });
    if (known == reasons.end()) {
      reasons.emplace_back(reason, 1);
    } else {
      ++known->second;
    }
  }
  std::stable_sort(reasons.begin(), reasons.end(),
                   [](const auto& x, const auto& y) { return x.second > y.second; });
  std::string text = fmt::format("None of the {} flights of the log counts: {} ({})",
                                 shares.flights.size(), reasons[0].first, reasons[0].second);
  if (reasons.size() > 1) text += fmt::format(", {} ({})", reasons[1].first, reasons[1].second);
  return text + ".";
}

std::string open_text(const VerdictQuestion& question, const Shares& shares,
                      const verdict::Verdict& verdict) {
  const int flown = flown_propellers(verdict);
  if (flown == 0) {
    const std::string why = why_none_counts(shares);
    if (!why.empty()) return why;
    return fmt::format("No flight counts yet: fly each propeller at least {} times, in turn.",
                       count_word(question.thresholds.least_flights));
  }
  if (flown == 1) {
    return fmt::format("Only {} has flights that count: fly the others too, in turn.",
                       question.propellers[verdict.leader].letter);
  }
  std::string text = ahead_text(question, verdict) + " " + settling_text(question, verdict);
  const bool hangs =
      verdict.propellers[verdict.leader].probability_best >= question.thresholds.sure &&
      verdict.score_without_one &&
      verdict.probability_without_one < question.thresholds.sure_without_one;
  if (hangs) {
    text += fmt::format(" It hangs on flight {}: without it the odds are {}.",
                        shares.score_flight[*verdict.score_without_one] + 1,
                        odds_text(verdict.probability_without_one));
  }
  return text;
}

}  // namespace

VerdictWords verdict_words(const VerdictQuestion& question, const Shares& shares,
                           const verdict::Verdict& verdict) {
  if (verdict.decision == verdict::Decision::cannot_tell_yet) {
    return {"Cannot tell yet", open_text(question, shares, verdict)};
  }
  const verdict::Standing& best = verdict.propellers[verdict.leader];
  const std::string& leader = question.propellers[verdict.leader].letter;
  const std::string& second = question.propellers[verdict.runner_up].letter;
  if (verdict.decision == verdict::Decision::no_matter) {
    return {"It does not matter",
            fmt::format("{} and {} differ by less than {:.3g}\u00a0% ({}): choose by strength or "
                        "by ease of building.",
                        leader, second, 100 * question.thresholds.margin,
                        odds_text(verdict.no_matter_probability))};
  }
  const bool two = flown_propellers(verdict) == 2;
  return {fmt::format("{} is {}", leader, two ? "better" : "the best"),
          fmt::format("{} gains {:.0f} ± {:.0f}\u00a0s over {}: {}.", leader, best.gain_s.median,
                      std::max(sigma_of_range(best.gain_s), 1.0),
                      two ? second : "the best of the others", odds_text(best.probability_best))};
}

}  // namespace propwright::answer
