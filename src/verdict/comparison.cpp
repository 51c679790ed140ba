#include "comparison.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <utility>

namespace propwright::verdict {

namespace {

/// The integral from below at a place between the points; its slope is the density.
double below_at(const std::vector<double>& below, const std::vector<double>& density, double step,
                double place) {
  if (!(place > 0)) return 0;
  const auto last = static_cast<double>(below.size() - 1);
  if (place >= last) return 1;
  const auto i = static_cast<std::size_t>(place);
  return std::clamp(cubic(below[i], below[i + 1], step * density[i], step * density[i + 1],
                          place - static_cast<double>(i)),
                    below[i], below[i + 1]);
}

// Every second point is still a quarter of a deviation from the next.
constexpr std::size_t stride = 2;

/// `places`: of each of those points' share less the gain.
double node_gain_below(const LevelGrid& grid, const Node& node, std::size_t k,
                       const std::vector<double>& places) {
  const double step = grid.step * stride;
  double sum = 0;
  for (std::size_t p = 0; p < places.size(); ++p) {
    const double density = node.density[k][p * stride];
    // What weighs less than this is lost in the sum.
    if (density * step < 1e-10) continue;
    double all_below = 1;
    for (std::size_t j = 0; j < node.below.size(); ++j) {
      if (j != k) all_below *= below_at(node.below[j], node.density[j], grid.step, places[p]);
    }
    sum += density * step * (1 - all_below);
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
  const LevelGrid& grid = levels.grid;
  // Integral from below and density of all nodes at a point.
  const auto at = [&](std::size_t i) {
    std::pair<double, double> sum{0, 0};
    for (const Node& node : levels.nodes) {
      const bool alone = !compared && !node.below_alone.empty();
      sum.first += node.weight * (alone ? node.below_alone : node.below)[k][i];
      sum.second += node.weight * (alone ? node.density_alone : node.density)[k][i];
    }
    return sum;
  };
  const std::size_t last = grid.level.size() - 1;
  std::size_t low = 0, high = last;
  if (at(last).first < share) return grid.level.back();
  while (high - low > 1) {
    const std::size_t middle = low + (high - low) / 2;
    (at(middle).first < share ? low : high) = middle;
  }
  const auto [from, from_slope] = at(low);
  const auto [to, to_slope] = at(high);
  double before = 0, after = 1;
  while (after - before > 1e-9) {
    const double part = 0.5 * (before + after);
    const double here = cubic(from, to, grid.step * from_slope, grid.step * to_slope, part);
    (here < share ? before : after) = part;
  }
  return cubic(grid.level[low], grid.level[high], grid.step * grid.jacobian[low],
               grid.step * grid.jacobian[high], before);
}

double gain_below(const Levels& levels, std::size_t k, double gain) {
  const LevelGrid& grid = levels.grid;
  std::vector<double> places;
  places.reserve(grid.share.size() / stride + 1);
  for (std::size_t i = 0; i < grid.share.size(); i += stride) {
    places.push_back(grid.place_of_share(grid.share[i] - gain));
  }
  double sum = 0;
  for (const Node& node : levels.nodes) {
    sum += node.weight * node_gain_below(grid, node, k, places);
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
