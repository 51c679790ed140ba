// d    parameters off the mode                    tau  precision of a flight over its kinds' own
// n    readings of a kind, S their squares
#include "spread.h"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/gamma_distribution.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <cmath>
#include <numbers>

namespace propwright::learn {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

// Steps until the start is forgotten, and those kept. Many flights fix the scatter and weigh little
// one by one, so that fewer steps tell as much.
constexpr int first_steps = 50, least_steps = 150, most_steps = 600;
constexpr std::size_t steps_by_flights = 60000;

// Student's t with more freedom is taken as normal.
constexpr double normal_freedom = 1e6;

/// A standard normal number above `from`, u of (0, 1] of what lies there farther out.
double normal_above(double from, double u) {
  if (from > 25) return from - std::log(u) / from;  // so far out the tail is exponential
  const double root = std::numbers::sqrt2;
  return root * boost::math::erfc_inv(std::clamp(u * std::erfc(from / root), 1e-300, 2 - 1e-15));
}

class Gibbs {
 public:
  explicit Gibbs(const About& about)
      : z_(about.z),
        beliefs_(about.beliefs),
        all_(about.flights, about.here, about.slopes, static_cast<std::size_t>(about.z.size())),
        off_(VectorXd::Zero(about.z.size())) {
    const auto lines = static_cast<Eigen::Index>(all_.lines.size());
    tau_.assign(all_.first.size() - 1, 1);
    residual_.resize(lines);
    for (Eigen::Index l = 0; l < lines; ++l) residual_[l] = line_of(l).residual;
    weight_.resize(lines);
    for (std::size_t k = 0; k < kind_count; ++k) ln_factor_[k] = std::log(about.factor[k]);
  }

  Spread run() {
    const Eigen::Index n = z_.size();
    const int kept_steps =
        std::clamp(static_cast<int>(steps_by_flights / std::max<std::size_t>(tau_.size(), 1)),
                   least_steps, most_steps);
    MatrixXd squares;
    std::array<double, kind_count> ln_factors{};
    for (int step = 0; step < first_steps + kept_steps; ++step) {
      if (step <= first_steps) {
        squares.setZero(n, n);
        ln_factors.fill(0);
      }
      draw_weights();
      draw_scatter();
      draw_parameters(squares);
      for (std::size_t k = 0; k < kind_count; ++k) ln_factors[k] += ln_factor_[k];
    }
    Spread all;
    all.covariance = squares / kept_steps;
    for (std::size_t k = 0; k < kind_count; ++k) {
      all.scatter_factor[k] = std::exp(ln_factors[k] / kept_steps);
    }
    return all;
  }

 private:
  const Line& line_of(Eigen::Index place) const {
    return all_.lines[static_cast<std::size_t>(place)];
  }

  double gamma(double shape, double rate) {
    return boost::random::gamma_distribution<double>(shape, 1 / rate)(random_);
  }

  /// Of each flight what lies above its limit, then its weight; and with them the squares of each
  /// kind.
  void draw_weights() {
    number_.fill(0);
    squares_.fill(0);
    std::array<double, kind_count> factor{};
    for (std::size_t k = 0; k < kind_count; ++k) factor[k] = std::exp(ln_factor_[k]);
    const VectorXd model = all_.slopes * off_;
    const double nu = beliefs_.tail_freedom;
    for (std::size_t f = 0; f < tau_.size(); ++f) {
      double misfit = 0;
      std::array<double, kind_count> own{};
      for (std::size_t l = all_.first[f]; l < all_.first[f + 1]; ++l) {
        const Line& line = all_.lines[l];
        const auto place = static_cast<Eigen::Index>(l);
        const double wide = line.scatter * factor[line.kind];
        if (line.at_least) {
          const double s = wide / std::sqrt(tau_[f]);
          residual_[place] = model[place] + s * normal_above((line.residual - model[place]) / s,
                                                             1 - uniform_(random_));
        }
        const double off = residual_[place] - model[place];
        own[line.kind] = off * off / (line.scatter * line.scatter);
        misfit += off * off / (wide * wide);
        number_[line.kind] += 1;
      }
      const auto m = static_cast<double>(all_.first[f + 1] - all_.first[f]);
      tau_[f] = nu > normal_freedom ? 1 : gamma(0.5 * (nu + m), 0.5 * (nu + misfit));
      for (std::size_t k = 0; k < kind_count; ++k) squares_[k] += tau_[f] * own[k];
    }
  }

  /// Proposed as they would be without a prior, 1/c^2 ~ Gamma(n/2, S/2); the prior takes or leaves.
  void draw_scatter() {
    if (beliefs_.scatter_spread <= 0) return;
    for (std::size_t k = 0; k < kind_count; ++k) {
      if (number_[k] == 0 || !(squares_[k] > 0)) continue;
      const double tried = -0.5 * std::log(gamma(0.5 * number_[k], 0.5 * squares_[k]));
      const double gain = (ln_factor_[k] * ln_factor_[k] - tried * tried) /
                          (2 * beliefs_.scatter_spread * beliefs_.scatter_spread);
      if (uniform_(random_) < std::exp(gain)) ln_factor_[k] = tried;
    }
  }

  void find_precision() {
    std::array<double, kind_count> factor{};
    for (std::size_t k = 0; k < kind_count; ++k) factor[k] = std::exp(-2 * ln_factor_[k]);
    for (std::size_t f = 0; f < tau_.size(); ++f) {
      for (std::size_t l = all_.first[f]; l < all_.first[f + 1]; ++l) {
        const Line& line = all_.lines[l];
        weight_[static_cast<Eigen::Index>(l)] =
            tau_[f] * factor[line.kind] / (line.scatter * line.scatter);
      }
    }
    right_ = all_.slopes.transpose() * weight_.cwiseProduct(residual_) - z_;
    solver_.compute(precision_of(all_.slopes, weight_));
  }

  /// Draws them and adds their square off the mode, given the rest.
  void draw_parameters(MatrixXd& squares) {
    find_precision();
    const Eigen::Index n = z_.size();
    const VectorXd mean = solver_.solve(right_);
    VectorXd drawn(n);
    for (double& one : drawn) one = normal_(random_);
    off_ = mean + solver_.matrixU().solve(drawn);
    squares += mean * mean.transpose() + solver_.solve(MatrixXd::Identity(n, n));
  }

  const VectorXd& z_;
  const Beliefs& beliefs_;
  const Lines all_;
  std::vector<double> tau_;
  VectorXd residual_;  ///< at the mode; of a limit that of what may lie above it
  VectorXd off_, right_, weight_;
  std::array<double, kind_count> ln_factor_{}, squares_{}, number_{};
  Eigen::LLT<MatrixXd> solver_;
  boost::random::mt19937 random_;
  boost::random::normal_distribution<double> normal_;
  boost::random::uniform_01<double> uniform_;
};

}  // namespace

Spread spread_about(const About& about) {
  return Gibbs(about).run();
}

}  // namespace propwright::learn
