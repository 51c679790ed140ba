// mu   level       u   coordinate of the grid, in which its points are even
#include <algorithm>
#include <cmath>

#include "curves.h"

namespace propwright::verdict {

namespace {

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
/// scatters uses. What is read off between the points is interpolated by cubics.
struct Points {
  double part, least_half;
};
constexpr Points points_for(Fineness fineness) {
  return fineness == Fineness::integral ? Points{4, 24}
         : fineness == Fineness::odds   ? Points{6, 28}
                                        : Points{8, 44};
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

/// The level at u, between one below and one above it, from a guess: Newton's method, kept between
/// the ends by halves.
double level_at(const LevelGrid& grid, double u, double below, double above, double guess) {
  double mu = guess < above ? guess : below;
  for (int i = 0; i < 100; ++i) {
    const double off = grid.stretched(mu) - u;
    (off > 0 ? above : below) = mu;
    const double next = mu - off / density_of_points(grid, mu);
    const double last = mu;
    mu = next > below && next < above ? next : 0.5 * (below + above);
    if (std::abs(mu - last) <= 1e-9 * grid.finest) break;
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
  const bool single = grid.centres.size() == 1;
  for (int i = 0; i < points; ++i) {
    if (single) {
      mu = centres.front() + finest * std::sinh(grid.low_u + grid.step * i);
    } else if (i > 0) {
      mu = level_at(grid, grid.low_u + grid.step * i, mu, high + reach,
                    mu + grid.step * grid.jacobian.back());
    }
    grid.level.push_back(mu);
    grid.share.push_back(std::exp(mu));
    grid.jacobian.push_back(1 / density_of_points(grid, mu));
  }
  return grid;
}

/// Where a value falls among growing ones with these slopes for a step: by Newton's method on the
/// cubic between its neighbours.
template <class Slope>
double place_among(const std::vector<double>& values, double value, Slope slope_at) {
  const auto above = std::upper_bound(values.begin(), values.end(), value);
  if (above == values.begin()) return 0;
  const auto i = static_cast<std::size_t>(above - values.begin()) - 1;
  if (above == values.end()) return static_cast<double>(values.size() - 1);
  const double from = values[i], to = *above, from_slope = slope_at(i), to_slope = slope_at(i + 1);
  double part = (value - from) / (to - from);
  for (int round = 0; round < 2; ++round) {
    const double rest = 1 - part;
    const double slope = 6 * part * rest * (to - from) + rest * (1 - 3 * part) * from_slope +
                         part * (1 - 3 * rest) * to_slope;
    if (!(slope > 0)) break;
    part =
        std::clamp(part - (cubic(from, to, from_slope, to_slope, part) - value) / slope, 0.0, 1.0);
  }
  return static_cast<double>(i) + part;
}

}  // namespace

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

double LevelGrid::stretched(double mu) const {
  double u = 0;
  for (const double centre : centres) u += std::asinh((mu - centre) / finest);
  return u;
}

double cubic(double from, double to, double from_slope, double to_slope, double part) {
  const double rest = 1 - part;
  return rest * rest * ((1 + 2 * part) * from + part * from_slope) +
         part * part * ((1 + 2 * rest) * to - rest * to_slope);
}

double LevelGrid::place(double mu) const {
  return place_among(level, mu, [this](std::size_t i) { return step * jacobian[i]; });
}

double LevelGrid::place_of_share(double of) const {
  return place_among(share, of, [this](std::size_t i) { return step * jacobian[i] * share[i]; });
}

// Trapezoids with the first two terms of Euler and Maclaurin, f' and f''' by central differences:
// h^2/12 f' - h^4/720 f''', where the difference for f' has h^2/6 f''' too much.
std::vector<double> running_integral(const std::vector<double>& density, double step) {
  const std::size_t points = density.size();
  const auto at = [&](std::size_t i) { return density[std::min(i, points - 1)]; };
  std::vector<double> below(points, 0);
  double sum = 0;
  for (std::size_t i = 1; i < points; ++i) {
    sum += 0.5 * step * (density[i - 1] + density[i]);
    const double slope = (at(i + 1) - density[i - 1]) / 2;
    const double third = (at(i + 2) - 2 * (at(i + 1) - density[i - 1]) - at(i < 2 ? 0 : i - 2)) / 2;
    below[i] = std::clamp(sum - step * (slope / 12 - 11.0 / 720 * third), 0.0, 1.0);
  }
  return below;
}

}  // namespace propwright::verdict
