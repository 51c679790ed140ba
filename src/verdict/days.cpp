// y = mu_k + d_t + s t(nu) of propeller k on day t, d_t normal with standard deviation tau.
// The most probable mu and d by reweighted least squares (Lange, Little & Taylor, 1989):
// omega = (nu + 1)/(nu + z^2) w/s^2 of a flight, summed as
//   G_k over a propeller's flights (and its prior), L_t over a day's (and 1/tau^2), B_tk over both.
// Normal about there, the covariance of mu is 1/M, M = G - S, S = B' B/L: G alone is what is known
// of mu at given shifts, so M tells how much wider their doubt makes it.
#include "days.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace propwright::verdict {

namespace {

/// Lower triangle of Cholesky of a small symmetric matrix in rows.
using Matrix = std::vector<std::vector<double>>;

void cholesky(Matrix& m) {
  for (std::size_t i = 0; i < m.size(); ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = m[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= m[i][k] * m[j][k];
      m[i][j] = i == j ? std::sqrt(std::max(sum, 1e-12 * m[i][i])) : sum / m[j][j];
    }
  }
}

std::vector<double> solve(const Matrix& lower, std::vector<double> x) {
  const std::size_t n = lower.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < i; ++j) x[i] -= lower[i][j] * x[j];
    x[i] /= lower[i][i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t j = i + 1; j < n; ++j) x[i] -= lower[j][i] * x[j];
    x[i] /= lower[i][i];
  }
  return x;
}

/// Sums of the weights and of the weighted times.
struct Sums {
  std::vector<double> propeller, day, of_propeller, of_day;
  Matrix both;  ///< [day][propeller]
};

/// Weights of the flights of one propeller, and of their times.
struct RunSums {
  double weight = 0, of_times = 0;
};

/// Of the flights from `i` on that are of one day; leaves `i` behind them.
RunSums sums_of_run(const Flown& flown, std::size_t& i, double expected, double s,
                    const Beliefs& beliefs) {
  const std::size_t day = flown.data[i].day;
  const bool heavy = beliefs.tail_freedom.has_value();
  const double nu = beliefs.tail_freedom.value_or(1), information_of_one = 1 / (s * s);
  RunSums sums;
  for (; i < flown.data.size() && flown.data[i].day == day; ++i) {
    const Datum& d = flown.data[i];
    const double plain = d.weight * information_of_one, off = d.y - expected;
    const double weight = heavy ? plain * (nu + 1) / (nu + plain * off * off) : plain;
    sums.weight += weight;
    sums.of_times += weight * d.y;
  }
  return sums;
}

/// Of the flights alone.
Sums sums_of(const std::vector<Flown>& all, const std::vector<double>& scatters,
             const Beliefs& beliefs, const DayFit& at) {
  const std::size_t propellers = all.size(), days = at.shift.size();
  Sums sums{std::vector<double>(propellers, 0), std::vector<double>(days, 0),
            std::vector<double>(propellers, 0), std::vector<double>(days, 0),
            Matrix(days, std::vector<double>(propellers, 0))};
  for (std::size_t k = 0; k < propellers; ++k) {
    for (std::size_t i = 0; i < all[k].data.size();) {
      const std::size_t day = all[k].data[i].day;
      const RunSums run = sums_of_run(all[k], i, at.level[k] + at.shift[day], scatters[k], beliefs);
      sums.propeller[k] += run.weight;
      sums.of_propeller[k] += run.of_times;
      sums.day[day] += run.weight;
      sums.of_day[day] += run.of_times;
      sums.both[day][k] += run.weight;
    }
  }
  return sums;
}

/// That part of the flights' sums, and what was believed beforehand.
Sums with_beliefs(Sums sums, double part, const std::vector<Flown>& all, double spread) {
  for (auto* row : {&sums.propeller, &sums.day, &sums.of_propeller, &sums.of_day}) {
    for (double& sum : *row) sum *= part;
  }
  for (std::vector<double>& row : sums.both) {
    for (double& sum : row) sum *= part;
  }
  for (double& sum : sums.day) sum += 1 / (spread * spread);
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (!all[k].prior) continue;
    const double weight = 1 / (all[k].prior->sigma * all[k].prior->sigma);
    sums.propeller[k] += weight;
    sums.of_propeller[k] += weight * all[k].prior->centre;
  }
  return sums;
}

/// M = G - B' B/L, its lower triangle of Cholesky.
Matrix reduced(const Sums& sums) {
  const std::size_t n = sums.propeller.size();
  Matrix m(n, std::vector<double>(n, 0));
  for (std::size_t k = 0; k < n; ++k) m[k][k] = sums.propeller[k];
  for (std::size_t t = 0; t < sums.day.size(); ++t) {
    for (std::size_t k = 0; k < n; ++k) {
      const double share = sums.both[t][k] / sums.day[t];
      if (share == 0) continue;
      for (std::size_t j = 0; j <= k; ++j) m[k][j] -= share * sums.both[t][j];
    }
  }
  cholesky(m);
  return m;
}

/// One step of reweighted least squares; the largest move.
double step_to(const Sums& sums, DayFit& fit) {
  std::vector<double> right = sums.of_propeller;
  for (std::size_t t = 0; t < sums.day.size(); ++t) {
    for (std::size_t k = 0; k < right.size(); ++k) {
      right[k] -= sums.both[t][k] * sums.of_day[t] / sums.day[t];
    }
  }
  std::vector<double> level = solve(reduced(sums), std::move(right));
  double moved = 0;
  for (std::size_t k = 0; k < level.size(); ++k) {
    moved = std::max(moved, std::abs(level[k] - fit.level[k]));
  }
  fit.level = std::move(level);
  for (std::size_t t = 0; t < sums.day.size(); ++t) {
    double rest = sums.of_day[t];
    for (std::size_t k = 0; k < fit.level.size(); ++k) rest -= sums.both[t][k] * fit.level[k];
    const double shift = rest / sums.day[t];
    moved = std::max(moved, std::abs(shift - fit.shift[t]));
    fit.shift[t] = shift;
  }
  return moved;
}

/// Variances a_k so that a_j + a_k is that of the difference of j and k: just so for two and three
/// propellers, by least squares for more; never below what is known at given shifts.
std::vector<double> compared_variances(const Matrix& covariance, const Sums& sums) {
  const std::size_t n = covariance.size();
  std::vector<double> own(n), row(n, 0), a(n);
  double all = 0;
  for (std::size_t j = 0; j < n; ++j) {
    own[j] = 1 / sums.propeller[j];
    for (std::size_t k = 0; k < n; ++k) {
      if (j != k) row[j] += covariance[j][j] + covariance[k][k] - 2 * covariance[j][k];
    }
    all += row[j] / 2;
  }
  if (n == 1) return {covariance[0][0]};
  const double total = all / static_cast<double>(n - 1);
  for (std::size_t j = 0; j < n; ++j) {
    a[j] =
        n == 2 ? total * own[j] / (own[0] + own[1]) : (row[j] - total) / static_cast<double>(n - 2);
    a[j] = std::max(a[j], own[j]);
  }
  return a;
}

void fill_widths(const Sums& sums, DayFit& fit) {
  const std::size_t n = sums.propeller.size();
  const Matrix lower = reduced(sums);
  Matrix covariance(n);
  fit.log_levels = 0;
  double log_days = 0;
  for (std::size_t k = 0; k < n; ++k) {
    std::vector<double> one(n, 0);
    one[k] = 1;
    covariance[k] = solve(lower, std::move(one));
    log_days -= 2 * std::log(lower[k][k]) - std::log(sums.propeller[k]);
    fit.log_levels -= 0.5 * std::log(sums.propeller[k]);
  }
  for (const double of_day : sums.day) log_days -= std::log(of_day);
  fit.log_volume += 0.5 * log_days;
  const std::vector<double> compared = compared_variances(covariance, sums);
  fit.widen.assign(n, 1);
  fit.widen_alone.assign(n, 1);
  fit.sigma_alone.assign(n, 0);
  for (std::size_t k = 0; k < n; ++k) {
    fit.sigma_alone[k] = std::sqrt(covariance[k][k]);
    fit.widen[k] = std::sqrt(std::max(compared[k] * sums.propeller[k], 1.0));
    fit.widen_alone[k] = std::sqrt(std::max(covariance[k][k] * sums.propeller[k], 1.0));
  }
}

double mean_level(const Flown& flown) {
  double sum = 0;
  for (const Datum& d : flown.data) sum += d.y;
  if (flown.data.empty()) return flown.prior ? flown.prior->centre : 0;
  return sum / static_cast<double>(flown.data.size());
}

std::size_t days_of(const std::vector<Flown>& all) {
  std::size_t days = 0;
  for (const Flown& flown : all) {
    for (const Datum& d : flown.data) days = std::max(days, d.day + 1);
  }
  return days;
}

}  // namespace

bool several_days(const std::vector<Flown>& all, const Beliefs& beliefs) {
  if (beliefs.day_scatter <= 0) return false;
  std::optional<std::size_t> first;
  for (const Flown& flown : all) {
    for (const Datum& d : flown.data) {
      if (!first) first = d.day;
      if (d.day != *first) return true;
    }
  }
  return false;
}

DayFit fit_days(const std::vector<Flown>& all, const std::vector<double>& scatters, double spread,
                const Beliefs& beliefs, const DayFit& start, double enough) {
  constexpr int most_steps = 40;
  DayFit fit = start;
  if (fit.level.empty()) {
    fit.level.reserve(all.size());
    for (const Flown& flown : all) fit.level.push_back(mean_level(flown));
    fit.shift.assign(days_of(all), 0);
  }
  const double rest = enough * *std::min_element(scatters.begin(), scatters.end());
  Sums sums;
  for (int step = 0; step < most_steps; ++step) {
    sums = sums_of(all, scatters, beliefs, fit);
    if (step_to(with_beliefs(sums, 1, all, spread), fit) < rest) break;
  }
  fit.log_volume = fit.log_density = 0;
  for (const double shift : fit.shift) {
    fit.log_volume -= 0.5 * shift * shift / (spread * spread) + std::log(spread);
  }
  const double nu = beliefs.tail_freedom.value_or(1);
  const double part = beliefs.tail_freedom ? (nu + 1) / (nu + 3) : 1;
  fill_widths(with_beliefs(std::move(sums), part, all, spread), fit);
  for (std::size_t k = 0; k < all.size(); ++k) {
    fit.log_density += log_data(all[k], fit.level[k], fit.shift, scatters[k], beliefs);
    if (!all[k].prior) continue;
    const double z = (fit.level[k] - all[k].prior->centre) / all[k].prior->sigma;
    fit.log_density -= 0.5 * z * z;
  }
  return fit;
}

Flown without_shifts(const Flown& flown, const std::vector<double>& shift) {
  Flown own = flown;
  for (Datum& d : own.data) d.y -= shift[d.day];
  return own;
}

}  // namespace propwright::verdict
