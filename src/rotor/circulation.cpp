#include "circulation.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "propwright/base/table.h"
#include "propwright/data/data.h"

namespace propwright::rotor {

using base::MonotoneCurve;
using base::pi;

namespace {

double factor_of_exponent(double f) {
  return 2 / pi * std::acos(std::exp(-f));
}

/// ln(F/F_Prandtl) for one number of blades: one curve in ln x per lambda of the table.
struct RatioTable {
  std::vector<double> lambda;
  std::vector<MonotoneCurve> over_ln_x;
};

/// Below the table's least x the ratio goes on as a power of x (G is linear in x there).
double extended(const MonotoneCurve& curve, double ln_x) {
  const double edge = curve.x().front();
  if (ln_x >= edge) return curve.value(ln_x);
  const double slope = (curve.y()[1] - curve.y()[0]) / (curve.x()[1] - curve.x()[0]);
  return curve.y().front() + slope * (ln_x - edge);
}

std::map<int, RatioTable> read_ratio_tables() {
  const auto table = base::Table::read(data::file("goldstein_circulation.csv"),
                                       {{"B"}, {"lambda"}, {"x"}, {"ratio_G_over_Prandtl"}},
                                       "goldstein_circulation.csv", true);
  if (!table) throw std::logic_error(base::to_line(table.error().front()));
  std::map<int, std::map<double, std::pair<std::vector<double>, std::vector<double>>>> rows;
  for (std::size_t i = 0; i < table->rows(); ++i) {
    auto& [x, y] = rows[static_cast<int>(table->column("B")[i])][table->column("lambda")[i]];
    x.push_back(std::log(table->column("x")[i]));
    y.push_back(std::log(table->column("ratio_G_over_Prandtl")[i]));
  }
  std::map<int, RatioTable> result;
  for (auto& [blades, by_lambda] : rows) {
    for (auto& [lambda, points] : by_lambda) {
      result[blades].lambda.push_back(lambda);
      result[blades].over_ln_x.push_back(
          MonotoneCurve::through(points.first, points.second).value());
    }
  }
  return result;
}

/// ln(F/F_Prandtl) as lambda -> infinity: closed form for two blades (a rotating flat plate),
/// else extrapolated from the last two lambdas in 1/lambda^2.
double ratio_at_infinity(int blades, double x, double last_lambda, double last,
                         double before_lambda, double before) {
  if (blades == 2) {
    const double exact = std::sqrt(1 - x * x) / (pi * x);
    return std::log(exact / factor_of_exponent(1 - x));
  }
  const double a = 1 / (last_lambda * last_lambda);
  const double b = 1 / (before_lambda * before_lambda);
  return last - (before - last) * a / (b - a);
}

/// ln(F/F_Prandtl) at one x as a curve in u = lambda/(1 + lambda), 0..1.
MonotoneCurve ratio_over_u(int blades, double x) {
  static const std::map<int, RatioTable> tables = read_ratio_tables();
  const RatioTable& table = tables.at(blades);
  const double ln_x = std::log(x);
  std::vector<double> u{0}, ratio{0};
  for (std::size_t i = 0; i < table.lambda.size(); ++i) {
    u.push_back(table.lambda[i] / (1 + table.lambda[i]));
    ratio.push_back(extended(table.over_ln_x[i], ln_x));
  }
  const std::size_t n = table.lambda.size();
  const double far = ratio_at_infinity(blades, x, table.lambda[n - 1], ratio[n],
                                       table.lambda[n - 2], ratio[n - 1]);
  // Between the table and the limit the difference dies out as 1/lambda^2.
  const double last = ratio[n];
  const double last_square = table.lambda[n - 1] * table.lambda[n - 1];
  for (const double lambda : {1.5, 2.5, 5.0, 15.0}) {
    u.push_back(lambda / (1 + lambda));
    ratio.push_back(far + (last - far) * last_square / (lambda * lambda));
  }
  u.push_back(1);
  ratio.push_back(far);
  return MonotoneCurve::through(std::move(u), std::move(ratio)).value();
}

}  // namespace

double prandtl_factor(int blades, double x, double lambda, WakeHelix helix) {
  if (x >= 1) return 0;
  if (lambda <= 0) return 1;
  const double half = blades / 2.0;
  const double root = helix == WakeHelix::local ? std::hypot(x, lambda) / x : std::hypot(1, lambda);
  return factor_of_exponent(half * (1 - x) * root / lambda);
}

namespace {

double exact_from(const MonotoneCurve& ratio, int blades, double x, double lambda) {
  if (lambda <= 0) return 1;
  return prandtl_factor(blades, x, lambda, WakeHelix::tip) *
         std::exp(ratio.value(lambda / (1 + lambda)));
}

}  // namespace

double exact_factor(int blades, double x, double lambda) {
  return exact_from(ratio_over_u(blades, x), blades, x, lambda);
}

FactorTable::FactorTable(int blades, double x, double root_x, const Options& options) : x_(x) {
  const bool exact = options.tip_factor == TipFactor::exact;
  const MonotoneCurve ratio = exact ? ratio_over_u(blades, x) : MonotoneCurve();
  const auto factor = [&](double u) {
    const double lambda = u / std::max(1 - u, 1e-9);
    double value = 1;
    if (exact) value = exact_from(ratio, blades, x, lambda);
    if (options.tip_factor == TipFactor::prandtl) {
      value = prandtl_factor(blades, x, lambda, options.wake_helix);
    }
    // Prandtl's factor for the inner end, by symmetry: f = (B/2)(r - r_hub)/(r_hub sin phi).
    if (options.hub_loss && root_x > 0 && lambda > 0) {
      const double sine = lambda / std::hypot(x, lambda);
      value *= factor_of_exponent(blades / 2.0 * (x - root_x) / (root_x * sine));
    }
    return value;
  };
  // Slopes from the function itself (central differences, one-sided at the ends): its curvature
  // jumps at the first lambda of the table, where differences between knots would smear.
  const double step = 1e-4;
  for (std::size_t i = 0; i <= intervals; ++i) {
    const double u = static_cast<double>(i) / intervals;
    const double low = std::max(u - step, 0.0);
    const double high = std::min(u + step, 1.0 - 1e-7);
    knots_[i] = {factor(u), (factor(high) - factor(low)) / (high - low) / intervals};
  }
}

}  // namespace propwright::rotor
