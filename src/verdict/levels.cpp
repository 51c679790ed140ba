// y    ln(share) of a flight         w   its weight
// mu   level of its propeller        s   scatter, so that (y - mu) sqrt(w)/s is t(nu) or normal
// u    coordinate of the grid        lambda  ln s
#include "levels.h"

#include <algorithm>
#include <cmath>

#include "curves.h"
#include "days.h"

namespace propwright::verdict {

namespace {

/// All curves of one propeller over the scatters, whole and without each outermost flight.
struct Family {
  std::vector<Curve> whole;
  std::vector<std::size_t> left_out;        ///< scores
  std::vector<std::vector<Curve>> without;  ///< [left_out][scatter]
};

Family family_of(const Flown& flown, const std::vector<double>& lambdas, const LevelGrid& grid,
                 const Beliefs& beliefs, bool variants) {
  Family family;
  const std::vector<std::size_t> ends = variants ? outermost(flown) : std::vector<std::size_t>{};
  family.without.resize(ends.size());
  for (const std::size_t end : ends) family.left_out.push_back(flown.data[end].score);
  for (const double lambda : lambdas) {
    const double s = std::exp(lambda);
    family.whole.push_back(curve_of(flown, s, grid, beliefs));
    for (std::size_t v = 0; v < ends.size(); ++v) {
      Curve curve = family.whole.back();
      for (std::size_t i = 0; i < grid.level.size(); ++i) {
        curve.log_density[i] -= log_datum(flown.data[ends[v]], grid.level[i], s, beliefs);
      }
      finish(curve, grid);
      family.without[v].push_back(std::move(curve));
    }
  }
  return family;
}

/// Log weights of the scatters when `curves[k]` are taken together.
std::vector<double> log_weights(const std::vector<const std::vector<Curve>*>& curves,
                                const std::vector<double>& lambdas, const Beliefs& beliefs) {
  std::vector<double> logs;
  logs.reserve(lambdas.size());
  for (std::size_t s = 0; s < lambdas.size(); ++s) {
    double sum = log_scatter_prior(lambdas[s], beliefs);
    for (const auto* of : curves) sum += (*of)[s].log_integral;
    logs.push_back(sum);
  }
  return logs;
}

/// One node for each scatter that all propellers share.
std::vector<Node> shared_nodes(const std::vector<const std::vector<Curve>*>& curves,
                               const std::vector<double>& lambdas, const LevelGrid& grid,
                               const Beliefs& beliefs) {
  const std::vector<double> weights = shares_of(log_weights(curves, lambdas, beliefs));
  std::vector<Node> nodes;
  nodes.reserve(lambdas.size());
  for (std::size_t s = 0; s < lambdas.size(); ++s) {
    if (weights[s] < 1e-7) continue;
    std::vector<std::vector<double>> densities;
    densities.reserve(curves.size());
    for (const auto* of : curves) densities.push_back(density_of((*of)[s].log_density, grid));
    nodes.push_back(node_of(std::move(densities), weights[s], grid.step));
  }
  return nodes;
}

/// The level of one propeller over all scatters of its own.
std::vector<double> mixed_density(const std::vector<Curve>& curves,
                                  const std::vector<double>& lambdas, const LevelGrid& grid,
                                  const Beliefs& beliefs) {
  const std::vector<double> weights = shares_of(log_weights({&curves}, lambdas, beliefs));
  std::vector<double> mixed(grid.level.size(), 0);
  for (std::size_t s = 0; s < lambdas.size(); ++s) {
    const std::vector<double> one = density_of(curves[s].log_density, grid);
    for (std::size_t i = 0; i < mixed.size(); ++i) mixed[i] += weights[s] * one[i];
  }
  return mixed;
}

Levels with_shared_scatter(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants) {
  std::vector<const Flown*> pointers;
  pointers.reserve(all.size());
  for (const Flown& flown : all) pointers.push_back(&flown);
  const std::vector<double> lambdas = scatters_that_count(pointers, beliefs);
  Levels levels;
  levels.grid = grid_for(pointers, std::exp(lambdas.front()), std::exp(lambdas.back()), beliefs);
  std::vector<Family> families;
  families.reserve(all.size());
  for (const Flown& flown : all) {
    families.push_back(family_of(flown, lambdas, levels.grid, beliefs, variants));
  }
  std::vector<const std::vector<Curve>*> curves;
  curves.reserve(families.size());
  for (const Family& family : families) curves.push_back(&family.whole);
  levels.nodes = shared_nodes(curves, lambdas, levels.grid, beliefs);
  levels.scatter = scatter_range(lambdas, shares_of(log_weights(curves, lambdas, beliefs)));
  for (std::size_t k = 0; k < all.size(); ++k) {
    for (std::size_t v = 0; v < families[k].left_out.size(); ++v) {
      auto changed = curves;
      changed[k] = &families[k].without[v];
      levels.variants.push_back(
          {families[k].left_out[v], shared_nodes(changed, lambdas, levels.grid, beliefs)});
    }
  }
  return levels;
}

}  // namespace

Levels with_own_scatter(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants) {
  std::vector<std::vector<double>> lambdas;
  std::vector<const Flown*> pointers;
  double low = std::log(greatest_scatter), high = std::log(least_scatter);
  for (const Flown& flown : all) {
    pointers.push_back(&flown);
    lambdas.push_back(scatters_that_count({&flown}, beliefs));
    low = std::min(low, lambdas.back().front());
    high = std::max(high, lambdas.back().back());
  }
  Levels levels;
  levels.grid = grid_for(pointers, std::exp(low), std::exp(high), beliefs);
  std::vector<Family> families;
  std::vector<std::vector<double>> mixed;
  for (std::size_t k = 0; k < all.size(); ++k) {
    families.push_back(family_of(all[k], lambdas[k], levels.grid, beliefs, variants));
    mixed.push_back(mixed_density(families[k].whole, lambdas[k], levels.grid, beliefs));
    const Range range = scatter_range(
        lambdas[k], shares_of(log_weights({&families[k].whole}, lambdas[k], beliefs)));
    if (range.median > levels.scatter.median) levels.scatter = range;
  }
  for (std::size_t k = 0; k < all.size(); ++k) {
    for (std::size_t v = 0; v < families[k].left_out.size(); ++v) {
      auto changed = mixed;
      changed[k] = mixed_density(families[k].without[v], lambdas[k], levels.grid, beliefs);
      levels.variants.push_back(
          {families[k].left_out[v], {node_of(std::move(changed), 1, levels.grid.step)}});
    }
  }
  levels.nodes.push_back(node_of(std::move(mixed), 1, levels.grid.step));
  return levels;
}

std::vector<double> best_odds(const Node& node, double step) {
  std::vector<double> odds(node.density.size(), 0);
  for (std::size_t k = 0; k < odds.size(); ++k) {
    for (std::size_t i = 0; i < node.density[k].size(); ++i) {
      double product = node.density[k][i];
      for (std::size_t j = 0; j < odds.size(); ++j) {
        if (j != k) product *= node.below[j][i];
      }
      odds[k] += product * step;
    }
  }
  return odds;
}

Levels levels_of(const std::vector<Score>& scores, const std::vector<std::size_t>& active,
                 const Beliefs& beliefs, bool variants) {
  const std::vector<Flown> all = flown_of(scores, active, beliefs);
  if (several_days(all, beliefs)) return levels_over_days(all, beliefs, variants);
  return beliefs.shared_scatter ? with_shared_scatter(all, beliefs, variants)
                                : with_own_scatter(all, beliefs, variants);
}

}  // namespace propwright::verdict
