#include "propwright/base/monotone_curve.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace propwright::base {
namespace {

/// Fritsch & Butland's weighted harmonic mean of the two neighbouring secants.
double inner_slope(double left_width, double right_width, double left_secant, double right_secant) {
  if (left_secant * right_secant <= 0) return 0;
  const double left_weight = 2 * right_width + left_width;
  const double right_weight = right_width + 2 * left_width;
  return (left_weight + right_weight) / (left_weight / left_secant + right_weight / right_secant);
}

/// One-sided three-point slope at an end, limited so that the curve stays monotone.
double end_slope(double width, double next_width, double secant, double next_secant) {
  const double slope =
      ((2 * width + next_width) * secant - width * next_secant) / (width + next_width);
  if (slope * secant <= 0) return 0;
  if (secant * next_secant <= 0 && std::abs(slope) > 3 * std::abs(secant)) return 3 * secant;
  return slope;
}

std::vector<double> slopes(const std::vector<double>& x, const std::vector<double>& y) {
  const std::size_t n = x.size();
  std::vector<double> slope(n, 0.0);
  if (n < 2) return slope;
  std::vector<double> width(n - 1), secant(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    width[i] = x[i + 1] - x[i];
    secant[i] = (y[i + 1] - y[i]) / width[i];
  }
  if (n == 2) return {secant[0], secant[0]};
  for (std::size_t i = 1; i + 1 < n; ++i) {
    slope[i] = inner_slope(width[i - 1], width[i], secant[i - 1], secant[i]);
  }
  slope[0] = end_slope(width[0], width[1], secant[0], secant[1]);
  slope[n - 1] = end_slope(width[n - 2], width[n - 3], secant[n - 2], secant[n - 3]);
  return slope;
}

}  // namespace

Expected<MonotoneCurve> MonotoneCurve::through(std::vector<double> x, std::vector<double> y) {
  if (x.empty() || x.size() != y.size()) {
    return fail({.message = "a curve needs as many y as x values, at least one"});
  }
  for (std::size_t i = 0; i < x.size(); ++i) {
    const bool increasing = i == 0 || x[i] > x[i - 1];
    if (!std::isfinite(x[i]) || !std::isfinite(y[i]) || !increasing) {
      return fail({.value = fmt::format("({}, {})", x[i], y[i]),
                   .allowed = "finite values, the first column strictly increasing",
                   .remedy = "sort the rows and remove repeats",
                   .message = fmt::format("row {} breaks the order of the curve", i + 1)});
    }
  }
  MonotoneCurve curve;
  curve.slope_ = slopes(x, y);
  curve.cumulative_.assign(x.size(), 0.0);
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const double width = x[i + 1] - x[i];
    const double area = width * (y[i] + y[i + 1]) / 2 +
                        width * width * (curve.slope_[i] - curve.slope_[i + 1]) / 12;
    curve.cumulative_[i + 1] = curve.cumulative_[i] + area;
  }
  curve.x_ = std::move(x);
  curve.y_ = std::move(y);
  return curve;
}

std::size_t MonotoneCurve::piece(double x) const {
  const auto above = std::upper_bound(x_.begin() + 1, x_.end() - 1, x);
  return static_cast<std::size_t>(above - x_.begin()) - 1;
}

double MonotoneCurve::value(double x) const {
  if (std::isnan(x)) return x;
  if (x <= x_.front()) return y_.front();
  if (x >= x_.back()) return y_.back();
  const std::size_t i = piece(x);
  const double width = x_[i + 1] - x_[i];
  const double t = (x - x_[i]) / width;
  const double rise = y_[i + 1] - y_[i];
  const double a = width * slope_[i] - rise;
  const double b = rise - width * slope_[i + 1];
  return y_[i] + t * (rise + (1 - t) * (a * (1 - t) + b * t));
}

double MonotoneCurve::slope(double x) const {
  if (x_.size() < 2 || x < x_.front() || x > x_.back()) return 0;
  const std::size_t i = piece(x);
  const double width = x_[i + 1] - x_[i];
  const double t = (x - x_[i]) / width;
  const double secant = (y_[i + 1] - y_[i]) / width;
  return 6 * t * (1 - t) * secant + (1 - t) * (1 - 3 * t) * slope_[i] +
         t * (3 * t - 2) * slope_[i + 1];
}

double MonotoneCurve::integral_from_start(double x) const {
  if (std::isnan(x)) return x;
  if (x <= x_.front()) return (x - x_.front()) * y_.front();
  if (x >= x_.back()) return cumulative_.back() + (x - x_.back()) * y_.back();
  const std::size_t i = piece(x);
  const double part = x - x_[i];
  // Simpson's rule is exact for a cubic.
  const double sum = y_[i] + 4 * value(x_[i] + part / 2) + value(x);
  return cumulative_[i] + part * sum / 6;
}

double MonotoneCurve::integral(double from, double to) const {
  return integral_from_start(to) - integral_from_start(from);
}

}  // namespace propwright::base
