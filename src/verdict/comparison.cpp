#include "comparison.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>

namespace propwright::verdict {

namespace {

/// The integral from below at a level between the points.
double below_at(const std::vector<double>& below, double place) {
  if (!(place > 0)) return 0;
  const auto last = static_cast<double>(below.size() - 1);
  if (place >= last) return 1;
  const auto i = static_cast<std::size_t>(place);
  const double part = place - static_cast<double>(i);
  return below[i] + part * (below[i + 1] - below[i]);
}

double node_gain_below(const Levels& levels, const Node& node, std::size_t k, double gain) {
  // Every third point is still less than half a deviation from the next.
  constexpr std::size_t stride = 3;
  const LevelGrid& grid = levels.grid;
  const double step = grid.step * stride;
  double sum = 0;
  for (std::size_t i = 0; i < grid.level.size(); i += stride) {
    // What weighs less than this is lost in the sum.
    if (node.density[k][i] * step < 1e-10) continue;
    const double rest = grid.share[i] - gain;
    double all_below = 0;
    if (rest > 0) {
      const double place = grid.place(std::log(rest));
      all_below = 1;
      for (std::size_t j = 0; j < node.below.size(); ++j) {
        if (j != k) all_below *= below_at(node.below[j], place);
      }
    }
    sum += node.density[k][i] * step * (1 - all_below);
  }
  return sum;
}

}  // namespace

std::vector<double> best_odds(const std::vector<Node>& nodes, double step) {
  std::vector<double> odds(nodes.front().density.size(), 0);
  for (const Node& node : nodes) {
    const std::vector<double> one = best_odds(node, step);
    for (std::size_t k = 0; k < odds.size(); ++k) odds[k] += node.weight * one[k];
  }
  return odds;
}

double level_quantile(const Levels& levels, std::size_t k, double share, bool compared) {
  double before = 0;
  for (std::size_t i = 1; i < levels.grid.level.size(); ++i) {
    double here = 0;
    for (const Node& node : levels.nodes) {
      const auto& below = compared || node.below_alone.empty() ? node.below : node.below_alone;
      here += node.weight * below[k][i];
    }
    if (here >= share) {
      const double part = here > before ? (share - before) / (here - before) : 0.5;
      return levels.grid.level[i - 1] + part * (levels.grid.level[i] - levels.grid.level[i - 1]);
    }
    before = here;
  }
  return levels.grid.level.back();
}

double gain_below(const Levels& levels, std::size_t k, double gain) {
  double sum = 0;
  for (const Node& node : levels.nodes) {
    sum += node.weight * node_gain_below(levels, node, k, gain);
  }
  return sum;
}

Range gain_range(const Levels& levels, std::size_t k) {
  double low = 0, high = 0;
  for (std::size_t j = 0; j < levels.nodes.front().density.size(); ++j) {
    const double from = std::exp(level_quantile(levels, j, 0.005));
    const double to = std::exp(level_quantile(levels, j, 0.995));
    const double mine = std::exp(level_quantile(levels, k, j == k ? 0.5 : 0.005));
    const double top = std::exp(level_quantile(levels, k, j == k ? 0.5 : 0.995));
    low = std::min(low, mine - to);
    high = std::max(high, top - from);
  }
  const auto at = [&](double share) {
    const auto short_of = [&](double gain) { return gain_below(levels, k, gain) - share; };
    if (short_of(low) >= 0) return low;
    if (short_of(high) <= 0) return high;
    std::uintmax_t rounds = 40;
    const auto bracket = boost::math::tools::toms748_solve(
        short_of, low, high, boost::math::tools::eps_tolerance<double>(14), rounds);
    return 0.5 * (bracket.first + bracket.second);
  };
  return {at(0.5), at(0.05), at(0.95)};
}

}  // namespace propwright::verdict
