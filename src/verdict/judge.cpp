#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "comparison.h"
#include "plan.h"

namespace propwright::verdict {

namespace {

// A propeller with worse odds than one in twenty is not worth further flights.
constexpr double contender_odds = 0.05;

std::vector<std::size_t> with_knowledge(const std::vector<int>& flights, const Beliefs& beliefs) {
  std::vector<std::size_t> active;
  for (std::size_t k = 0; k < flights.size(); ++k) {
    const bool prior = k < beliefs.levels.size() && beliefs.levels[k];
    if (flights[k] > 0 || prior) active.push_back(k);
  }
  return active;
}

std::vector<int> counted(const std::vector<Score>& scores, std::size_t propellers) {
  std::vector<int> flights(propellers, 0);
  for (const Score& score : scores) {
    if (score.weight > 0) ++flights[score.propeller];
  }
  return flights;
}

void fill_standings(Verdict& verdict, const Levels& levels, const std::vector<std::size_t>& active,
                    double reference_s) {
  const std::vector<double> odds = best_odds(levels.nodes, levels.grid.step);
  for (std::size_t k = 0; k < active.size(); ++k) {
    Standing& standing = verdict.propellers[active[k]];
    standing.probability_best = std::clamp(odds[k], 0.0, 1.0);
    const auto share = [&](double of) { return std::exp(level_quantile(levels, k, of)); };
    standing.share = {share(0.5), share(0.05), share(0.95)};
    standing.duration_s = {reference_s * standing.share.median, reference_s * standing.share.low,
                           reference_s * standing.share.high};
    if (active.size() < 2) continue;
    // One of two gains what the other loses.
    const bool mirrored = active.size() == 2 && k == 1;
    const Range gain = mirrored ? Range{} : gain_range(levels, k);
    standing.gain_s = {reference_s * gain.median, reference_s * gain.low, reference_s * gain.high};
    if (!mirrored) continue;
    const Range& other = verdict.propellers[active[0]].gain_s;
    standing.gain_s = {-other.median, -other.high, -other.low};
  }
}

/// The propellers by their odds, the best first.
std::vector<std::size_t> ranked(const Verdict& verdict, std::vector<std::size_t> active) {
  std::stable_sort(active.begin(), active.end(), [&](std::size_t a, std::size_t b) {
    return verdict.propellers[a].probability_best > verdict.propellers[b].probability_best;
  });
  return active;
}

void fill_without_one(Verdict& verdict, const Levels& levels, std::size_t leader_place) {
  verdict.probability_without_one = verdict.propellers[verdict.leader].probability_best;
  for (const Variant& variant : levels.variants) {
    const double odds = best_odds(variant.nodes, levels.grid.step)[leader_place];
    if (odds >= verdict.probability_without_one) continue;
    verdict.probability_without_one = odds;
    verdict.score_without_one = variant.score;
  }
}

void decide(Verdict& verdict, const Thresholds& thresholds) {
  const Standing& best = verdict.propellers[verdict.leader];
  const Standing& second = verdict.propellers[verdict.runner_up];
  const int least = std::min(best.flights, second.flights);
  if (least < thresholds.least_flights) {
    verdict.reason = fmt::format("fewer than {} flights of each", thresholds.least_flights);
  } else if (verdict.no_matter_probability >= thresholds.sure) {
    verdict.decision = Decision::no_matter;
  } else if (best.probability_best < thresholds.sure) {
    verdict.reason = fmt::format("the odds are short of {:.0f} in 100", 100 * thresholds.sure);
  } else if (verdict.probability_without_one < thresholds.sure_without_one) {
    verdict.reason = "it hangs on a single flight";
  } else {
    verdict.decision = Decision::best;
  }
}

Duel duel_of(const Levels& levels, std::size_t leader, std::size_t runner_up,
             const Beliefs& beliefs) {
  const auto sigma = [&](std::size_t k) {
    return 0.5 * (level_quantile(levels, k, 0.8413447, true) -
                  level_quantile(levels, k, 0.1586553, true));
  };
  const double share =
      beliefs.tail_freedom ? (*beliefs.tail_freedom + 1) / (*beliefs.tail_freedom + 3) : 1;
  const double s = levels.scatter.median;
  return {level_quantile(levels, leader, 0.5, true) - level_quantile(levels, runner_up, 0.5, true),
          sigma(leader), sigma(runner_up), share / (s * s)};
}

/// 1 to 12, then every fourth, then every tenth.
bool worth_showing(int each) {
  return each <= 12 || (each <= 40 && each % 4 == 0) || each % 10 == 0;
}

void fill_plan(Verdict& verdict, const Duel& duel, double reference_s,
               const Thresholds& thresholds) {
  const Standing& best = verdict.propellers[verdict.leader];
  const Standing& second = verdict.propellers[verdict.runner_up];
  const int missing =
      std::max(thresholds.least_flights - std::min(best.flights, second.flights), 1);
  for (int each = 1; each <= thresholds.most_flights; ++each) {
    Outlook one = outlook(duel, each, reference_s * best.share.median, thresholds);
    if (each < missing) one.settles = 0;
    if (!verdict.even_each && one.settles >= 0.5) verdict.even_each = each;
    if (!verdict.planned_each && one.settles >= thresholds.planned) verdict.planned_each = each;
    if (worth_showing(each)) verdict.outlook.push_back(one);
  }
}

}  // namespace

std::vector<double> odds_of_best(const std::vector<Score>& scores, std::size_t propellers,
                                 const Beliefs& beliefs) {
  std::vector<double> odds(propellers, 0);
  const std::vector<std::size_t> active = with_knowledge(counted(scores, propellers), beliefs);
  if (active.empty()) return odds;
  const Levels levels = levels_of(scores, active, beliefs, false);
  const std::vector<double> found = best_odds(levels.nodes, levels.grid.step);
  for (std::size_t k = 0; k < active.size(); ++k) odds[active[k]] = std::clamp(found[k], 0.0, 1.0);
  return odds;
}

Verdict judge(const std::vector<Score>& scores, std::size_t propellers, double reference_s,
              const Beliefs& beliefs, const Thresholds& thresholds) {
  Verdict verdict;
  verdict.propellers.resize(propellers);
  const std::vector<int> flights = counted(scores, propellers);
  for (std::size_t k = 0; k < propellers; ++k) verdict.propellers[k].flights = flights[k];
  const std::vector<std::size_t> active = with_knowledge(flights, beliefs);
  if (active.empty()) {
    verdict.reason = "no flight counts";
    return verdict;
  }
  const Levels levels = levels_of(scores, active, beliefs);
  verdict.scatter = levels.scatter;
  verdict.day_scatter = levels.day_scatter;
  verdict.day_shift = levels.day_shift;
  fill_standings(verdict, levels, active, reference_s);
  const std::vector<std::size_t> order = ranked(verdict, active);
  verdict.leader = order.front();
  verdict.contenders.push_back(verdict.leader);
  if (active.size() < 2) {
    verdict.reason = "flights of one propeller only";
    return verdict;
  }
  verdict.runner_up = order[1];
  const auto place = [&](std::size_t propeller) {
    return static_cast<std::size_t>(std::find(active.begin(), active.end(), propeller) -
                                    active.begin());
  };
  const std::size_t leader = place(verdict.leader), runner_up = place(verdict.runner_up);
  fill_without_one(verdict, levels, leader);
  const double margin = thresholds.margin * verdict.propellers[verdict.leader].share.median;
  verdict.no_matter_probability =
      gain_below(levels, leader, margin) - gain_below(levels, leader, -margin);
  decide(verdict, thresholds);
  if (verdict.decision != Decision::cannot_tell_yet) return verdict;
  for (std::size_t k = 1; k < order.size(); ++k) {
    if (k == 1 || verdict.propellers[order[k]].probability_best >= contender_odds) {
      verdict.contenders.push_back(order[k]);
    }
  }
  fill_plan(verdict, duel_of(levels, leader, runner_up, beliefs), reference_s, thresholds);
  return verdict;
}

}  // namespace propwright::verdict
