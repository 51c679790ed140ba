// The verdict, and how the odds grew towards it.
#include <algorithm>

#include "verdict_parts.h"

namespace propwright::answer {
namespace {

/// How many flights there were after rounds of one of every propeller: each of the first rounds,
/// then growing steps so that a long log costs little; without the whole log.
std::vector<std::size_t> history_counts(const VerdictQuestion& question, const Shares& shares) {
  const std::size_t round = std::max<std::size_t>(question.propellers.size(), 1);
  std::vector<std::size_t> counts;
  for (std::size_t r = 1; r * round < shares.scores.size(); r += std::max<std::size_t>(r / 4, 1)) {
    counts.push_back(r * round);
  }
  return counts;
}

/// After the last round the odds are those of the verdict itself.
Json history_json(const verdict::Verdict& verdict, const std::vector<std::size_t>& counts,
                  const std::vector<std::vector<double>>& odds_then, std::size_t flights) {
  Json list = Json::array();
  for (std::size_t i = 0; i < counts.size(); ++i) {
    list.push_back({{"flights", counts[i]}, {"probability_best", odds_then[i]}});
  }
  if (flights == 0) return list;
  Json own = Json::array();
  for (const auto& standing : verdict.propellers) own.push_back(standing.probability_best);
  list.push_back({{"flights", flights}, {"probability_best", std::move(own)}});
  return list;
}

}  // namespace

Judged judge_all(const VerdictQuestion& question, const Shares& shares) {
  const std::vector<std::size_t> counts = history_counts(question, shares);
  Judged judged;
  std::vector<std::vector<double>> odds_then(counts.size());
  on_all_processors(counts.size() + 1, [&](std::size_t i) {
    if (i == 0) {
      judged.verdict =
          verdict::judge(shares.scores, question.propellers.size(), shares.reference.duration_s,
                         question.beliefs, question.thresholds);
      return;
    }
    const std::size_t c = counts.size() - i;  // the costly ones first
    const std::vector<verdict::Score> first(
        shares.scores.begin(), shares.scores.begin() + static_cast<std::ptrdiff_t>(counts[c]));
    odds_then[c] = verdict::odds_of_best(first, question.propellers.size(), question.beliefs);
  });
  judged.odds_history = history_json(judged.verdict, counts, odds_then, shares.scores.size());
  return judged;
}

}  // namespace propwright::answer
