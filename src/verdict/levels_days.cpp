// lambda  ln of a flight's scatter       kappa  ln of the spread of the days
// Nodes over both; at each the days' shifts stand at their most probable values, and the levels'
// exact densities there are widened for the doubt of the shifts.
#include <algorithm>
#include <cmath>

#include "day_lattice.h"

namespace propwright::verdict {

namespace {

/// ln of a density over mu at a level between the points of its grid, by the cubic through the four
/// about it; its tails as its last steps.
double between(const std::vector<double>& log_density, const LevelGrid& grid, double mu) {
  const double last = static_cast<double>(log_density.size() - 1);
  const double place = std::clamp(grid.place(mu), 0.0, last - 1e-9);
  const auto i = static_cast<std::size_t>(place);
  const double part = place - static_cast<double>(i);
  const double here = log_density[i], next = log_density[i + 1],
               linear = here + part * (next - here);
  if (i == 0 || i + 2 >= log_density.size()) return linear;
  const double before = log_density[i - 1] - 2 * here + next;
  const double after = here - 2 * next + log_density[i + 2];
  return linear - part * (1 - part) / 6 * ((2 - part) * before + (1 + part) * after);
}

/// Densities over u of a curve about a level, that many times wider.
std::vector<double> widened(const std::vector<double>& log_density, const LevelGrid& grid,
                            double about, double times) {
  if (times < 1 + 1e-9) return density_of(log_density, grid);
  std::vector<double> wide;
  wide.reserve(grid.level.size());
  for (const double mu : grid.level) {
    wide.push_back(between(log_density, grid, about + (mu - about) / times));
  }
  return density_of(wide, grid);
}

void put_alone(Node& node, std::vector<std::vector<double>> densities, double step) {
  node.below_alone.reserve(densities.size());
  for (const auto& density : densities) node.below_alone.push_back(running_integral(density, step));
  node.density_alone = std::move(densities);
}

/// `alone`: with the levels each for itself as well.
Node node_at(const std::vector<Curve>& curves, const DayFit& fit, const LevelGrid& grid,
             bool alone) {
  std::vector<std::vector<double>> compared, each_alone;
  compared.reserve(curves.size());
  each_alone.reserve(curves.size());
  for (std::size_t k = 0; k < curves.size(); ++k) {
    compared.push_back(widened(curves[k].log_density, grid, fit.level[k], fit.widen[k]));
    if (alone)
      each_alone.push_back(widened(curves[k].log_density, grid, fit.level[k], fit.widen_alone[k]));
  }
  Node node = node_of(std::move(compared), 0, grid.step);
  put_alone(node, std::move(each_alone), grid.step);
  return node;
}

/// The nodes at some places, the levels' integrals exact at the shifts.
std::vector<Node> nodes_at(const std::vector<Flown>& all, std::vector<Place>& places,
                           const LevelGrid& grid, const Beliefs& beliefs, bool alone) {
  std::vector<Node> nodes;
  std::vector<double> logs;
  nodes.reserve(places.size());
  logs.reserve(places.size());
  for (Place& place : places) {
    std::vector<Curve> curves;
    curves.reserve(all.size());
    place.log_weight = log_scatter_prior(place.lambda, beliefs) +
                       log_spread_prior(place.kappa, beliefs) + place.fit.log_volume;
    for (const Flown& flown : all) {
      curves.push_back(
          curve_of(without_shifts(flown, place.fit.shift), std::exp(place.lambda), grid, beliefs));
      place.log_weight += curves.back().log_integral;
    }
    logs.push_back(place.log_weight);
    nodes.push_back(node_at(curves, place.fit, grid, alone));
  }
  const std::vector<double> weights = shares_of(logs);
  for (std::size_t i = 0; i < nodes.size(); ++i) nodes[i].weight = weights[i];
  return nodes;
}

LevelGrid grid_over(const std::vector<Flown>& all, const std::vector<Place>& places,
                    const Beliefs& beliefs, Fineness fineness) {
  std::vector<Flown> own;
  std::vector<const Flown*> pointers;
  own.reserve(all.size());
  pointers.reserve(all.size());
  const auto best =
      std::max_element(places.begin(), places.end(),
                       [](const Place& a, const Place& b) { return a.log_weight < b.log_weight; });
  for (const Flown& flown : all) own.push_back(without_shifts(flown, best->fit.shift));
  for (const Flown& flown : own) pointers.push_back(&flown);
  double low = places.front().lambda, high = low, widest = 0;
  for (const Place& place : places) {
    low = std::min(low, place.lambda);
    high = std::max(high, place.lambda);
    for (const double sigma : place.fit.sigma_alone) widest = std::max(widest, sigma);
  }
  return grid_for(pointers, std::exp(low), std::exp(high), beliefs, fineness, widest / 2);
}

/// The fit at the mean scatter and spread.
DayFit fit_at_mean(const std::vector<Flown>& all, const std::vector<Place>& places,
                   const std::vector<Node>& nodes, const Beliefs& beliefs) {
  double lambda = 0, kappa = 0;
  std::size_t heaviest_place = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    lambda += nodes[i].weight * places[i].lambda;
    kappa += nodes[i].weight * places[i].kappa;
    if (nodes[i].weight > nodes[heaviest_place].weight) heaviest_place = i;
  }
  return fit_days(all, all_at(all.size(), lambda), std::exp(kappa), beliefs,
                  places[heaviest_place].fit);
}

/// Range of a number of the places by their weights.
Range range_of(const std::vector<Place>& places, const std::vector<Node>& nodes,
               double Place::*number) {
  std::vector<double> values;
  values.reserve(places.size());
  for (const Place& place : places) values.push_back(place.*number);
  std::sort(values.begin(), values.end());
  const auto same = [](double a, double b) { return std::abs(a - b) < 1e-9; };
  values.erase(std::unique(values.begin(), values.end(), same), values.end());
  std::vector<double> weights(values.size(), 0);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto at = std::lower_bound(values.begin(), values.end(), places[i].*number - 1e-9);
    weights[static_cast<std::size_t>(at - values.begin())] += nodes[i].weight;
  }
  if (values.size() > 1) return scatter_range(values, weights);
  const double only = std::exp(values.front());
  return {only, only, only};
}

/// What is left when one score is taken out; the places are those of the whole.
Variant without(const std::vector<Flown>& all, std::size_t propeller, std::size_t datum,
                const std::vector<Place>& places, const LevelGrid& grid, const Beliefs& beliefs) {
  std::vector<Flown> fewer = all;
  auto& data = fewer[propeller].data;
  Variant variant{data[datum].score, {}};
  data.erase(data.begin() + static_cast<std::ptrdiff_t>(datum));
  std::vector<Place> kept = places;
  for (Place& place : kept) {
    place.fit = fit_days(fewer, all_at(all.size(), place.lambda), std::exp(place.kappa), beliefs,
                         place.fit);
  }
  variant.nodes = nodes_at(fewer, kept, grid, beliefs, false);
  return variant;
}

/// Densities over u, that many times wider about a level.
std::vector<double> wider(const std::vector<double>& density, const LevelGrid& grid, double about,
                          double times) {
  std::vector<double> logs;
  logs.reserve(density.size());
  for (std::size_t i = 0; i < density.size(); ++i) {
    logs.push_back(std::log(std::max(density[i] / grid.jacobian[i], 1e-300)));
  }
  return widened(logs, grid, about, times);
}

Node wider(const Node& node, const LevelGrid& grid, const DayFit& fit) {
  std::vector<std::vector<double>> compared;
  Node wide;
  compared.reserve(node.density.size());
  std::vector<std::vector<double>> alone;
  alone.reserve(node.density.size());
  for (std::size_t k = 0; k < node.density.size(); ++k) {
    compared.push_back(wider(node.density[k], grid, fit.level[k], fit.widen[k]));
    alone.push_back(wider(node.density[k], grid, fit.level[k], fit.widen_alone[k]));
  }
  wide = node_of(std::move(compared), node.weight, grid.step);
  put_alone(wide, std::move(alone), grid.step);
  return wide;
}

/// The shifts are those found with one scatter for all; at them each propeller has its own.
Levels own_scatter_over_days(const std::vector<Flown>& all, const DayFit& fit, const Levels& shared,
                             const Beliefs& beliefs, bool variants) {
  std::vector<Flown> own;
  own.reserve(all.size());
  for (const Flown& flown : all) own.push_back(without_shifts(flown, fit.shift));
  Levels levels = with_own_scatter(own, beliefs, variants);
  for (Node& node : levels.nodes) node = wider(node, levels.grid, fit);
  for (Variant& variant : levels.variants) {
    for (Node& node : variant.nodes) node = wider(node, levels.grid, fit);
  }
  levels.day_scatter = shared.day_scatter;
  levels.day_shift = fit.shift;
  return levels;
}

}  // namespace

Levels levels_over_days(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants) {
  const Region region = region_that_counts(all, beliefs);
  std::vector<Place> places = places_in(region, steps_for(all, beliefs, variants), all, beliefs);
  Levels levels;
  levels.grid = grid_over(all, places, beliefs, variants ? Fineness::reading : Fineness::odds);
  levels.nodes = nodes_at(all, places, levels.grid, beliefs, true);
  levels.scatter = range_of(places, levels.nodes, &Place::lambda);
  levels.day_scatter = range_of(places, levels.nodes, &Place::kappa);
  levels.day_shift.assign(places.front().fit.shift.size(), 0);
  for (std::size_t i = 0; i < places.size(); ++i) {
    for (std::size_t t = 0; t < levels.day_shift.size(); ++t) {
      levels.day_shift[t] += levels.nodes[i].weight * places[i].fit.shift[t];
    }
  }
  if (!beliefs.shared_scatter) {
    return own_scatter_over_days(all, fit_at_mean(all, places, levels.nodes, beliefs), levels,
                                 beliefs, variants);
  }
  if (!variants) return levels;
  // With the wider steps good to 2e-3, for odds that are only set against a threshold.
  const std::vector<Place> few = places_in(region, steps_for(all, beliefs, false), all, beliefs);
  for (std::size_t k = 0; k < all.size(); ++k) {
    for (const std::size_t end : outermost(all[k])) {
      levels.variants.push_back(without(all, k, end, few, levels.grid, beliefs));
    }
  }
  return levels;
}

}  // namespace propwright::verdict
