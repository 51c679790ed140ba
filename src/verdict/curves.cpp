// y    ln(share) of a flight         w   its weight
// mu   level of its propeller        s   scatter, so that (y - mu) sqrt(w)/s is t(nu) or normal
// u    coordinate of the grid        lambda  ln s
#include "curves.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace propwright::verdict {

namespace {

double log_level_prior(const Flown& flown, double mu) {
  if (!flown.prior) return 0;
  const double z = (mu - flown.prior->centre) / flown.prior->sigma;
  return -0.5 * z * z;
}

/// ln of the density of all data of a propeller at each of some levels, flight by flight over all
/// levels at once. The logarithm is taken of products of thirty terms, each below 1e10, since it
/// costs more than all the rest.
std::vector<double> log_all(const Flown& flown, const std::vector<double>& levels, double s,
                            const Beliefs& beliefs) {
  const std::size_t n = levels.size();
  const bool normal = !beliefs.tail_freedom;
  const double nu = beliefs.tail_freedom.value_or(1);
  const double scale = normal ? 1 : 1 / (nu * s * s);
  std::vector<double> sum(n, 0), term(n, normal ? 0 : 1);
  for (std::size_t i = 0; i < flown.data.size(); ++i) {
    const double y = flown.data[i].y, share = scale * flown.data[i].weight;
    if (normal) {
      for (std::size_t j = 0; j < n; ++j) term[j] += share * (y - levels[j]) * (y - levels[j]);
      continue;
    }
    for (std::size_t j = 0; j < n; ++j) term[j] *= 1 + share * (y - levels[j]) * (y - levels[j]);
    if (i % 30 != 29 && i + 1 != flown.data.size()) continue;
    for (std::size_t j = 0; j < n; ++j) {
      sum[j] += std::log(term[j]);
      term[j] = 1;
    }
  }
  const double constant = static_cast<double>(flown.data.size()) * std::log(s);
  for (std::size_t j = 0; j < n; ++j) {
    const double fit = normal ? -0.5 * term[j] / (s * s) : -0.5 * (nu + 1) * sum[j];
    sum[j] = log_level_prior(flown, levels[j]) - constant + fit;
  }
  return sum;
}

double median_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

double middle_of(const Flown& flown) {
  if (flown.data.empty()) return flown.prior ? flown.prior->centre : 0;
  std::vector<double> values;
  values.reserve(flown.data.size());
  for (const Datum& d : flown.data) values.push_back(d.y);
  return median_of(std::move(values));
}

/// Standard deviation of a level at a scatter, were it normal.
double level_sigma(const Flown& flown, double s, const Beliefs& beliefs) {
  double total = flown.prior ? 1 / (flown.prior->sigma * flown.prior->sigma) : 0;
  for (const Datum& d : flown.data) total += d.weight * information(s, beliefs);
  return total > 0 ? 1 / std::sqrt(total) : 1;
}

/// Points for a deviation at the finest, and the least number on either side of the middle. Half a
/// deviation is ample for an integral over the whole line: a quarter is what the search for the
/// scatters uses. A twentieth, which is a tenth at the ends of an interval, makes what is read off
/// between the points good to some thousandths of a deviation.
struct Points {
  double part, least_half;
};
constexpr Points points_for(Fineness fineness) {
  return fineness == Fineness::integral ? Points{4, 24}
         : fineness == Fineness::odds   ? Points{8, 60}
                                        : Points{20, 150};
}
constexpr double most_half = 1200;
// Of so few flights each may be a peak of its own.
constexpr std::size_t few_flights = 4;

/// du/dmu.
double density_of_points(const LevelGrid& grid, double mu) {
  double sum = 0;
  for (const double centre : grid.centres) sum += 1 / std::hypot(grid.finest, mu - centre);
  return sum;
}

/// The level at u, from one below it: Newton's method, kept between the ends by halves.
double level_at(const LevelGrid& grid, double u, double below, double above) {
  double mu = below;
  for (int i = 0; i < 100; ++i) {
    const double off = grid.stretched(mu) - u;
    (off > 0 ? above : below) = mu;
    const double next = mu - off / density_of_points(grid, mu);
    const double last = mu;
    mu = next > below && next < above ? next : 0.5 * (below + above);
    if (std::abs(mu - last) <= 1e-14 * (std::abs(mu) + grid.finest)) break;
  }
  return mu;
}

LevelGrid make_grid(std::vector<double> centres, double finest, double reach, Points wanted) {
  LevelGrid grid;
  grid.finest = finest;
  std::sort(centres.begin(), centres.end());
  for (const double centre : centres) {
    const bool near = !grid.centres.empty() && centre - grid.centres.back() < 2 * finest;
    if (!near) grid.centres.push_back(centre);
  }
  const double low = grid.centres.front() - reach, high = grid.centres.back() + reach;
  grid.low_u = grid.stretched(low);
  const double width = grid.stretched(high) - grid.low_u;
  const auto half =
      static_cast<int>(std::clamp(0.5 * wanted.part * width, wanted.least_half, most_half));
  const int points = 2 * half + 1;
  grid.step = width / (2 * half);
  for (auto* row : {&grid.level, &grid.share, &grid.jacobian}) {
    row->reserve(static_cast<std::size_t>(points));
  }
  double mu = low;
  for (int i = 0; i < points; ++i) {
    if (i > 0) mu = level_at(grid, grid.low_u + grid.step * i, mu, high + reach);
    grid.level.push_back(mu);
    grid.share.push_back(std::exp(mu));
    grid.jacobian.push_back(1 / density_of_points(grid, mu));
  }
  return grid;
}

double largest(const std::vector<double>& values) {
  return *std::max_element(values.begin(), values.end());
}

/// ln of the probability of all data at a scatter, to find where it counts.
double log_evidence(const std::vector<const Flown*>& all, double lambda, const Beliefs& beliefs) {
  const double s = std::exp(lambda);
  double sum = log_scatter_prior(lambda, beliefs);
  for (const Flown* flown : all) {
    sum += curve_of(*flown, s, grid_for({flown}, s, s, beliefs, Fineness::integral), beliefs)
               .log_integral;
  }
  return sum;
}

}  // namespace

/// ln of the density of one datum at a level, without constants.
double log_datum(const Datum& d, double mu, double s, const Beliefs& beliefs) {
  const double z2 = d.weight * (d.y - mu) * (d.y - mu) / (s * s);
  if (!beliefs.tail_freedom) return -0.5 * z2 - std::log(s);
  const double nu = *beliefs.tail_freedom;
  return -0.5 * (nu + 1) * std::log1p(z2 / nu) - std::log(s);
}

double log_data(const Flown& flown, double mu, const std::vector<double>& shift, double s,
                const Beliefs& beliefs) {
  const bool normal = !beliefs.tail_freedom;
  const double nu = beliefs.tail_freedom.value_or(1);
  double squares = 0, logs = 0, product = 1;
  for (std::size_t i = 0; i < flown.data.size(); ++i) {
    const Datum& d = flown.data[i];
    const double off = d.y - mu - shift[d.day], z2 = d.weight * off * off / (s * s);
    squares += z2;
    product *= 1 + z2 / nu;
    if (i % 30 != 29 && i + 1 != flown.data.size()) continue;
    logs += std::log(product);
    product = 1;
  }
  const double constant = static_cast<double>(flown.data.size()) * std::log(s);
  return (normal ? -0.5 * squares : -0.5 * (nu + 1) * logs) - constant;
}

double log_scatter_prior(double lambda, const Beliefs& beliefs) {
  if (!beliefs.scatter_spread) return 0;
  const double z = (lambda - std::log(beliefs.scatter_median)) / *beliefs.scatter_spread;
  return -0.5 * z * z;
}

/// Information of one flight of weight 1 about its level (Lange, Little & Taylor, appendix B).
double information(double s, const Beliefs& beliefs) {
  const double share =
      beliefs.tail_freedom ? (*beliefs.tail_freedom + 1) / (*beliefs.tail_freedom + 3) : 1;
  return share / (s * s);
}

LevelGrid grid_for(const std::vector<const Flown*>& all, double low_s, double high_s,
                   const Beliefs& beliefs, Fineness fineness, double widest) {
  double finest = high_s;
  std::vector<double> centres;
  for (const Flown* flown : all) {
    const double middle = middle_of(*flown);
    centres.push_back(middle);
    finest = std::min(finest, level_sigma(*flown, low_s, beliefs));
    widest = std::max(widest, level_sigma(*flown, high_s, beliefs));
    for (const Datum& d : flown->data) {
      widest = std::max(widest, std::abs(d.y - middle) / 12);
      if (flown->data.size() <= few_flights) centres.push_back(d.y);
    }
  }
  return make_grid(std::move(centres), finest, 40 * widest, points_for(fineness));
}

void finish(Curve& curve, const LevelGrid& grid) {
  const double top = largest(curve.log_density);
  double sum = 0;
  for (std::size_t i = 0; i < curve.log_density.size(); ++i) {
    sum += std::exp(curve.log_density[i] - top) * grid.jacobian[i];
  }
  curve.log_integral = top + std::log(sum * grid.step);
}

Curve curve_of(const Flown& flown, double s, const LevelGrid& grid, const Beliefs& beliefs) {
  Curve curve;
  curve.log_density = log_all(flown, grid.level, s, beliefs);
  finish(curve, grid);
  return curve;
}

/// Densities over u, normalised.
std::vector<double> density_of(const Curve& curve, const LevelGrid& grid) {
  std::vector<double> density;
  density.reserve(grid.level.size());
  for (std::size_t i = 0; i < grid.level.size(); ++i) {
    density.push_back(std::exp(curve.log_density[i] - curve.log_integral) * grid.jacobian[i]);
  }
  return density;
}

/// The scatters that count, in equal steps of their logarithm.
std::vector<double> scatters_that_count(const std::vector<const Flown*>& all,
                                        const Beliefs& beliefs) {
  double low = std::log(least_scatter), high = std::log(greatest_scatter);
  if (beliefs.scatter_spread) {
    const double centre = std::log(beliefs.scatter_median);
    low = std::max(low, centre - 6 * *beliefs.scatter_spread);
    high = std::min(high, centre + 6 * *beliefs.scatter_spread);
  }
  // Each round keeps what is within e^-13 of the best, and one step on either side.
  constexpr int looked_at = 20, points = 20;
  for (int round = 0; round < 3; ++round) {
    std::vector<double> value;
    const double step = (high - low) / looked_at;
    value.reserve(looked_at + 1);
    for (int i = 0; i <= looked_at; ++i)
      value.push_back(log_evidence(all, low + step * i, beliefs));
    const double enough = largest(value) - 13;
    int first = 0, last = looked_at;
    while (value[first] < enough) ++first;
    while (value[last] < enough) --last;
    const double from = low;
    low = from + step * std::max(first - 1, 0);
    high = from + step * std::min(last + 1, looked_at);
    if (last - first > looked_at / 2) break;
  }
  std::vector<double> lambdas;
  lambdas.reserve(points + 1);
  for (int i = 0; i <= points; ++i) lambdas.push_back(low + (high - low) * i / points);
  return lambdas;
}

/// The lowest and the highest flight of a propeller: what hangs on one flight hangs on these.
std::vector<std::size_t> outermost(const Flown& flown) {
  if (flown.data.size() < 2) return {};
  const auto [low, high] =
      std::minmax_element(flown.data.begin(), flown.data.end(),
                          [](const Datum& a, const Datum& b) { return a.y < b.y; });
  return {static_cast<std::size_t>(low - flown.data.begin()),
          static_cast<std::size_t>(high - flown.data.begin())};
}

/// Weights from their logarithms.
std::vector<double> shares_of(const std::vector<double>& logs) {
  const double top = largest(logs);
  std::vector<double> shares;
  shares.reserve(logs.size());
  double sum = 0;
  for (const double value : logs) sum += shares.emplace_back(std::exp(value - top));
  for (double& share : shares) share /= sum;
  return shares;
}

Node node_of(std::vector<std::vector<double>> densities, double weight, double step) {
  Node node;
  node.weight = weight;
  node.below.reserve(densities.size());
  for (const auto& density : densities) node.below.push_back(running_integral(density, step));
  node.density = std::move(densities);
  return node;
}

/// Median, 5 % and 95 % of a scatter from the weights of equal steps of its logarithm.
Range scatter_range(const std::vector<double>& lambdas, const std::vector<double>& weights) {
  const double step = lambdas[1] - lambdas[0];
  const std::vector<double> below = [&] {
    std::vector<double> density(weights);
    for (double& value : density) value /= step;
    return running_integral(density, step);
  }();
  const auto at = [&](double share) {
    std::size_t i = 1;
    while (i + 1 < below.size() && below[i] < share) ++i;
    const double width = below[i] - below[i - 1];
    const double part = width > 0 ? (share - below[i - 1]) / width : 0.5;
    return std::exp(lambdas[i - 1] + step * std::clamp(part, 0.0, 1.0));
  };
  return {at(0.5), at(0.05), at(0.95)};
}

std::vector<Flown> flown_of(const std::vector<Score>& scores,
                            const std::vector<std::size_t>& active, const Beliefs& beliefs) {
  std::vector<Flown> all(active.size());
  for (std::size_t k = 0; k < active.size(); ++k) {
    if (active[k] < beliefs.levels.size()) all[k].prior = beliefs.levels[active[k]];
    for (std::size_t i = 0; i < scores.size(); ++i) {
      if (scores[i].propeller != active[k] || scores[i].weight <= 0) continue;
      all[k].data.push_back({std::log(scores[i].share), scores[i].weight, i, scores[i].day});
    }
  }
  return all;
}

double LevelGrid::stretched(double mu) const {
  double u = 0;
  for (const double centre : centres) u += std::asinh((mu - centre) / finest);
  return u;
}

double LevelGrid::place(double mu) const {
  return (stretched(mu) - low_u) / step;
}

// Trapezoids with the first term of Euler and Maclaurin, the slope by central differences.
std::vector<double> running_integral(const std::vector<double>& density, double step) {
  std::vector<double> below(density.size(), 0);
  double sum = 0;
  for (std::size_t i = 1; i < density.size(); ++i) {
    sum += 0.5 * step * (density[i - 1] + density[i]);
    const double next = i + 1 < density.size() ? density[i + 1] : density[i];
    const double slope = (next - density[i - 1]) / (2 * step);
    below[i] = std::clamp(sum - step * step / 12 * slope, 0.0, 1.0);
  }
  return below;
}

}  // namespace propwright::verdict
