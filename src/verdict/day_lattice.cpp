#include "day_lattice.h"

#include <algorithm>
#include <cmath>

namespace propwright::verdict {

namespace {

double log_spread_prior(double kappa, const Beliefs& beliefs) {
  const double ratio = std::exp(kappa) / beliefs.day_scatter;
  return kappa - 0.5 * ratio * ratio;
}

Span spreads_believed(const Beliefs& beliefs, int points) {
  return {std::log(0.02 * beliefs.day_scatter), std::log(4 * beliefs.day_scatter), points};
}

/// All places of a lattice, weighed with the levels taken as normal; each fit begins at the last.
std::vector<Place> lattice(const std::vector<Flown>& all, const Span& lambdas, const Span& kappas,
                           const Beliefs& beliefs, double enough) {
  std::vector<Place> places;
  places.reserve(static_cast<std::size_t>(lambdas.points) *
                 static_cast<std::size_t>(kappas.points));
  DayFit start;
  for (int i = 0; i < lambdas.points; ++i) {
    for (int j = 0; j < kappas.points; ++j) {
      // There and back again, so that neighbours follow each other.
      const int to = i % 2 == 0 ? j : kappas.points - 1 - j;
      Place place{lambdas.at(i), kappas.at(to), 0, {}};
      place.fit = fit_days(all, all_at(all.size(), place.lambda), std::exp(place.kappa), beliefs,
                           start, enough);
      start = place.fit;
      place.log_weight = log_scatter_prior(place.lambda, beliefs) +
                         log_spread_prior(place.kappa, beliefs) + place.fit.log_volume +
                         place.fit.log_density + place.fit.log_levels;
      places.push_back(std::move(place));
    }
  }
  return places;
}

double heaviest(const std::vector<Place>& places) {
  double top = places.front().log_weight;
  for (const Place& place : places) top = std::max(top, place.log_weight);
  return top;
}

/// To what counts, and one step on either side; whether that leaves less than half of it.
bool narrow(Span& span, double Place::*at, const std::vector<Place>& places, double enough) {
  double low = span.high, high = span.low;
  for (const Place& place : places) {
    if (place.log_weight < enough) continue;
    low = std::min(low, place.*at);
    high = std::max(high, place.*at);
  }
  const double step = span.step(), least = span.low, most = span.high;
  span.low = std::max(low - step, least);
  span.high = std::min(high + step, most);
  return span.high - span.low < 0.5 * (most - least);
}

int points_over(const Span& span, double step) {
  constexpr double least = 5, most = 31;
  return static_cast<int>(std::clamp(std::ceil((span.high - span.low) / step) + 1, least, most));
}

constexpr double counts = 10;  // e^-10 of the best is lost in the sum

}  // namespace

std::vector<double> all_at(std::size_t propellers, double lambda) {
  return std::vector<double>(propellers, std::exp(lambda));
}

Steps steps_for(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants) {
  double flights = 0;
  for (const Flown& flown : all) flights += static_cast<double>(flown.data.size());
  const double nu = beliefs.tail_freedom.value_or(1e6);
  const double sigma = std::sqrt((nu + 3) / (2 * nu * flights));
  return variants ? Steps{sigma, 0.5} : Steps{1.6 * sigma, 0.8};
}

Region region_that_counts(const std::vector<Flown>& all, const Beliefs& beliefs) {
  constexpr int rounds = 3;
  Span lambdas{std::log(least_scatter), std::log(greatest_scatter), 9};
  if (beliefs.scatter_spread) {
    const double centre = std::log(beliefs.scatter_median);
    lambdas.low = std::max(lambdas.low, centre - 6 * *beliefs.scatter_spread);
    lambdas.high = std::min(lambdas.high, centre + 6 * *beliefs.scatter_spread);
  }
  Span kappas = spreads_believed(beliefs, 5);
  for (int round = 0; round < rounds; ++round) {
    const std::vector<Place> looked_at = lattice(all, lambdas, kappas, beliefs, 0.03);
    const double enough = heaviest(looked_at) - counts;
    const bool smaller = narrow(lambdas, &Place::lambda, looked_at, enough);
    narrow(kappas, &Place::kappa, looked_at, enough);
    if (!smaller) break;
  }
  return {lambdas, kappas};
}

std::vector<Place> places_in(Region region, const Steps& steps, const std::vector<Flown>& all,
                             const Beliefs& beliefs) {
  region.lambdas.points = points_over(region.lambdas, steps.lambda);
  region.kappas.points = points_over(region.kappas, steps.kappa);
  std::vector<Place> places = lattice(all, region.lambdas, region.kappas, beliefs, 2e-3);
  const double enough = heaviest(places) - counts;
  std::erase_if(places, [&](const Place& place) { return place.log_weight < enough; });
  return places;
}

}  // namespace propwright::verdict
