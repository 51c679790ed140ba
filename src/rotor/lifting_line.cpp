#include "lifting_line.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "helix.h"
#include "propwright/base/constants.h"
#include "propwright/rotor/fine.h"

namespace propwright::rotor {

using base::pi;

LiftingLine::LiftingLine(int blades, double hub, double tip, int stations)
    : blades_(blades), middle_((hub + tip) / 2), half_((tip - hub) / 2) {
  const int n = stations;
  const double step = pi / n;
  const auto theta = [&](int i) { return (i + 0.5) * step; };
  for (int i = 0; i < n; ++i) {
    controls_.push_back(middle_ - half_ * std::cos(theta(i)));
    loading_weights_.push_back(half_ * step * std::sin(theta(i)));
    double fejer = 1;
    for (int k = 1; k <= n / 2; ++k) fejer -= 2 * std::cos(2 * k * theta(i)) / (4.0 * k * k - 1);
    plain_weights_.push_back(half_ * 2 / n * fejer);
  }
  for (int j = 0; j <= n; ++j) nodes_.push_back(middle_ - half_ * std::cos(j * step));
  series_.resize(n, n);
  Eigen::MatrixXd by_coefficient(n + 1, n), at_point(n, n);
  for (int m = 1; m <= n; ++m) {
    for (int i = 0; i < n; ++i) {
      series_(m - 1, i) = (m < n ? 2.0 : 1.0) / n * std::sin(m * theta(i));
      at_point(i, m - 1) = -m * std::cos(m * theta(i));
    }
    for (int j = 0; j <= n; ++j) {
      const double weight = (j == 0 || j == n ? 0.5 : 1) * step;
      by_coefficient(j, m - 1) = -m * std::cos(m * j * step) * weight;
    }
  }
  shed_ = by_coefficient * series_;
  shed_at_point_ = at_point * series_;
}

std::vector<double> LiftingLine::at_nodes(const std::vector<double>& at_controls) const {
  // A smooth function of r is even in theta about both ends: reflect it there.
  const int n = stations();
  const auto value = [&](int i) {
    const int inside = i < 0 ? -1 - i : i >= n ? 2 * n - 1 - i : i;
    return at_controls[static_cast<std::size_t>(inside)];
  };
  std::vector<double> result;
  for (int j = 0; j <= n; ++j) {
    result.push_back((9 * (value(j - 1) + value(j)) - value(j - 2) - value(j + 1)) / 16);
  }
  return result;
}

LiftingLine::Influence LiftingLine::influence(const std::vector<double>& inverse_pitch) const {
  const int n = stations();
  Eigen::MatrixXd axial(n, n + 1), swirl(n, n + 1);
  for (int j = 0; j <= n; ++j) {
    const auto node = static_cast<std::size_t>(j);
    const HelixSet helices(blades_, nodes_[node], inverse_pitch[node]);
    for (int i = 0; i < n; ++i) {
      const Induced u = helices.at(controls_[static_cast<std::size_t>(i)]);
      axial(i, j) = u.axial;
      swirl(i, j) = u.swirl;
    }
  }
  Influence result{axial * shed_, swirl * shed_};
  // Points half a step away on both sides give a logarithm's integral too large by step ln 2.
  const double excess = pi / n * std::log(2.0);
  for (int i = 0; i < n; ++i) {
    const auto point = static_cast<std::size_t>(i);
    const double pitch = (inverse_pitch[point] + inverse_pitch[point + 1]) / 2;
    const Induced c = log_coefficient(controls_[point], pitch);
    result.axial.row(i) -= excess * c.axial * shed_at_point_.row(i);
    result.swirl.row(i) -= excess * c.swirl * shed_at_point_.row(i);
  }
  return result;
}

double LiftingLine::circulation(const Eigen::VectorXd& at_controls, double r) const {
  const double theta = std::acos(std::clamp((middle_ - r) / half_, -1.0, 1.0));
  const Eigen::VectorXd coefficient = series_ * at_controls;
  double sum = 0;
  for (int m = 1; m <= stations(); ++m) sum += coefficient(m - 1) * std::sin(m * theta);
  return sum;
}

std::vector<double> least_loss_circulation(int blades, double lambda, const std::vector<double>& x,
                                           int stations) {
  constexpr double hub = 1e-3;
  const LiftingLine line(blades, hub, 1, stations);
  const std::vector<double> inverse_pitch(static_cast<std::size_t>(stations) + 1, 1 / lambda);
  const LiftingLine::Influence influence = line.influence(inverse_pitch);
  // At the line itself the sheet moves with w/2, normal to itself.
  Eigen::VectorXd axial(stations);
  for (int i = 0; i < stations; ++i) {
    const double r2 = std::pow(line.controls()[static_cast<std::size_t>(i)], 2);
    axial(i) = 0.5 * r2 / (r2 + lambda * lambda);
  }
  const Eigen::VectorXd circulation = influence.axial.partialPivLu().solve(axial);
  std::vector<double> result;
  result.reserve(x.size());
  for (const double place : x) {
    result.push_back(blades * line.circulation(circulation, place) / (2 * pi * lambda));
  }
  return result;
}

}  // namespace propwright::rotor
