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

/// One reading of the model made linear.
struct Line {
  std::size_t kind = 0;
  double scatter = 0;   ///< expected, the flight's own weight included
  double residual = 0;  ///< at the mode; of a limit that of what may lie above it
  double limit = 0;     ///< residual of the limit itself
  bool at_least = false;
  VectorXd slope;  ///< along the flight's own parameters
};

struct Lines {
  const std::vector<std::size_t>* parameters = nullptr;
  std::vector<Line> readings;
  double tau = 1;
};

/// A standard normal number above `from`, u of (0, 1] of what lies there farther out.
double normal_above(double from, double u) {
  if (from > 25) return from - std::log(u) / from;  // so far out the tail is exponential
  const double root = std::numbers::sqrt2;
  return root * boost::math::erfc_inv(std::clamp(u * std::erfc(from / root), 1e-300, 2 - 1e-15));
}

Lines made_lines(const About& about, std::size_t i) {
  const Observed& flight = about.flights[i];
  Lines lines;
  lines.parameters = &flight.parameters;
  lines.readings.reserve(flight.readings.size());
  for (const Reading& reading : flight.readings) {
    const auto k = static_cast<Eigen::Index>(reading.kind);
    Line line;
    line.kind = static_cast<std::size_t>(reading.kind);
    line.scatter = reading.scatter / std::sqrt(flight.weight);
    line.limit = line.residual = reading.value - about.here[i].outcome[line.kind];
    line.at_least = reading.at_least;
    line.slope.resize(static_cast<Eigen::Index>(flight.parameters.size()));
    for (std::size_t p = 0; p < flight.parameters.size(); ++p) {
      line.slope[static_cast<Eigen::Index>(p)] =
          about.slopes[i](k, static_cast<Eigen::Index>(flight.parameters[p]));
    }
    lines.readings.push_back(std::move(line));
  }
  return lines;
}

class Gibbs {
 public:
  explicit Gibbs(const About& about)
      : z_(about.z), beliefs_(about.beliefs), off_(VectorXd::Zero(about.z.size())) {
    for (std::size_t k = 0; k < kind_count; ++k) ln_factor_[k] = std::log(about.factor[k]);
    flights_.reserve(about.flights.size());
    for (std::size_t i = 0; i < about.flights.size(); ++i) {
      if (about.here[i].flown) flights_.push_back(made_lines(about, i));
    }
  }

  Spread run() {
    const Eigen::Index n = z_.size();
    const int kept_steps =
        std::clamp(static_cast<int>(steps_by_flights / std::max<std::size_t>(flights_.size(), 1)),
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
  static VectorXd part_of(const Lines& flight, const VectorXd& all) {
    VectorXd part(static_cast<Eigen::Index>(flight.parameters->size()));
    for (std::size_t p = 0; p < flight.parameters->size(); ++p) {
      part[static_cast<Eigen::Index>(p)] = all[static_cast<Eigen::Index>((*flight.parameters)[p])];
    }
    return part;
  }

  double gamma(double shape, double rate) {
    return boost::random::gamma_distribution<double>(shape, 1 / rate)(random_);
  }

  double precision_of(const Lines& flight, const Line& line) const {
    return flight.tau * std::exp(-2 * ln_factor_[line.kind]) / (line.scatter * line.scatter);
  }

  /// Of each flight what lies above its limit, then its weight; and with them the squares of each
  /// kind.
  void draw_weights() {
    number_.fill(0);
    squares_.fill(0);
    const double nu = beliefs_.tail_freedom;
    for (Lines& flight : flights_) {
      const VectorXd off = part_of(flight, off_);
      double misfit = 0;
      std::array<double, kind_count> own{};
      for (Line& line : flight.readings) {
        const double model = line.slope.dot(off);
        if (line.at_least) {
          const double s = 1 / std::sqrt(precision_of(flight, line));
          line.residual = model + s * normal_above((line.limit - model) / s, 1 - uniform_(random_));
        }
        const double r = (line.residual - model) / line.scatter;
        own[line.kind] = r * r;
        misfit += r * r * std::exp(-2 * ln_factor_[line.kind]);
        number_[line.kind] += 1;
      }
      const auto m = static_cast<double>(flight.readings.size());
      flight.tau = nu > normal_freedom ? 1 : gamma(0.5 * (nu + m), 0.5 * (nu + misfit));
      for (std::size_t k = 0; k < kind_count; ++k) squares_[k] += flight.tau * own[k];
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
    const Eigen::Index n = z_.size();
    precision_ = MatrixXd::Identity(n, n);
    right_ = -z_;
    for (const Lines& flight : flights_) {
      const std::vector<std::size_t>& parameters = *flight.parameters;
      for (const Line& line : flight.readings) {
        const double w = precision_of(flight, line);
        for (std::size_t a = 0; a < parameters.size(); ++a) {
          const auto i = static_cast<Eigen::Index>(parameters[a]);
          const double ws = w * line.slope[static_cast<Eigen::Index>(a)];
          right_[i] += ws * line.residual;
          for (std::size_t b = 0; b < parameters.size(); ++b) {
            precision_(i, static_cast<Eigen::Index>(parameters[b])) +=
                ws * line.slope[static_cast<Eigen::Index>(b)];
          }
        }
      }
    }
    solver_.compute(precision_);
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
  std::vector<Lines> flights_;
  VectorXd off_, right_;
  MatrixXd precision_;
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
