// y    ln(share) of a flight         w   its weight
// mu   level of its propeller        s   scatter, so that (y - mu) sqrt(w)/s is t(nu) or normal
// u    coordinate of the grid        lambda  ln s
#include "curves.h"

#include <algorithm>
#include <cmath>

namespace propwright::verdict {

namespace {

double log_level_prior(const Flown& flown, double mu) {
  if (!flown.prior) return 0;
  const double z = (mu - flown.prior->centre) / flown.prior->sigma;
  return -0.5 * z * z;
}

/// The greatest factor `multiply_in` may multiply by before a logarithm is due.
constexpr double most_product = 1e250;

/// Times 1 + share (y - level)^2 of four flights at each level: four at once cost half of one by
/// one.
void multiply_in(std::vector<double>& product, const std::vector<double>& levels, const double* y,
                 const double* share) {
  for (std::size_t j = 0; j < levels.size(); ++j) {
    const double a = y[0] - levels[j], b = y[1] - levels[j], c = y[2] - levels[j],
                 d = y[3] - levels[j];
    product[j] *= (1 + share[0] * a * a) * (1 + share[1] * b * b) *
                  ((1 + share[2] * c * c) * (1 + share[3] * d * d));
  }
}

/// Sum over a propeller's flights of ln(1 + z^2/nu) at each of some levels, in order. The logarithm
/// costs more than all the rest: it is taken of as long products as a double holds.
std::vector<double> sum_of_logs(const Flown& flown, const std::vector<double>& levels,
                                double scale) {
  std::vector<double> sum(levels.size(), 0), product(levels.size(), 1);
  const double low = levels.front(), high = levels.back();
  double bound = 1;
  for (std::size_t i = 0; i < flown.data.size(); i += 4) {
    double y[4] = {0, 0, 0, 0}, share[4] = {0, 0, 0, 0}, factor = 1;
    for (std::size_t f = 0; f < 4 && i + f < flown.data.size(); ++f) {
      const Datum& d = flown.data[i + f];
      y[f] = d.y;
      share[f] = scale * d.weight;
      const double farthest = std::max(d.y - low, high - d.y);
      factor *= 1 + share[f] * farthest * farthest;
    }
    if (bound * factor > most_product) {
      for (std::size_t j = 0; j < levels.size(); ++j) {
        sum[j] += std::log(product[j]);
        product[j] = 1;
      }
      bound = 1;
    }
    bound *= factor;
    multiply_in(product, levels, y, share);
  }
  for (std::size_t j = 0; j < levels.size(); ++j) sum[j] += std::log(product[j]);
  return sum;
}

/// Half the sum of (y - level)^2 w/s^2.
std::vector<double> sum_of_squares(const Flown& flown, const std::vector<double>& levels,
                                   double s) {
  double weight = 0, mean = 0, squares = 0;
  for (const Datum& d : flown.data) {
    weight += d.weight;
    mean += d.weight * d.y;
  }
  if (weight > 0) mean /= weight;
  for (const Datum& d : flown.data) squares += d.weight * (d.y - mean) * (d.y - mean);
  std::vector<double> sum;
  sum.reserve(levels.size());
  for (const double mu : levels) {
    sum.push_back(0.5 * (squares + weight * (mu - mean) * (mu - mean)) / (s * s));
  }
  return sum;
}

/// ln of the density of all data of a propeller at each of some levels, in order.
std::vector<double> log_all(const Flown& flown, const std::vector<double>& levels, double s,
                            const Beliefs& beliefs) {
  const double nu = beliefs.tail_freedom.value_or(1);
  std::vector<double> sum = beliefs.tail_freedom ? sum_of_logs(flown, levels, 1 / (nu * s * s))
                                                 : sum_of_squares(flown, levels, s);
  const double times = beliefs.tail_freedom ? 0.5 * (nu + 1) : 1;
  const double constant = static_cast<double>(flown.data.size()) * std::log(s);
  for (std::size_t j = 0; j < levels.size(); ++j) {
    sum[j] = log_level_prior(flown, levels[j]) - constant - times * sum[j];
  }
  return sum;
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

std::vector<double> density_of(const std::vector<double>& log_density, const LevelGrid& grid) {
  const double top = largest(log_density);
  std::vector<double> density;
  density.reserve(grid.level.size());
  double sum = 0;
  for (std::size_t i = 0; i < grid.level.size(); ++i) {
    sum += density.emplace_back(std::exp(log_density[i] - top) * grid.jacobian[i]);
  }
  for (double& value : density) value /= sum * grid.step;
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

}  // namespace propwright::verdict
