// J    slopes df/dz of a flight's readings       w    weight of a flight by its misfit
// nu   freedom of Student's t                    m    number of readings of a flight
// c    scatter factor of a kind
#include "density.h"

#include <algorithm>
#include <cmath>

namespace propwright::learn {

using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

Outcome moved(const Outcome& from, const MatrixXd& slopes, const VectorXd& by) {
  const VectorXd change = slopes * by;
  Outcome to = from;
  for (std::size_t k = 0; k < kind_count; ++k) to[k] += change[static_cast<Eigen::Index>(k)];
  return to;
}

}  // namespace

Density::Density(std::size_t parameters, const std::vector<Observed>& flights,
                 const Beliefs& beliefs)
    : count_(static_cast<Eigen::Index>(parameters)), flights_(flights), beliefs_(beliefs) {
  factor_.fill(1);
}

double Density::scatter(const Observed& flight, const Reading& reading) const {
  return reading.scatter * factor_[static_cast<std::size_t>(reading.kind)] /
         std::sqrt(flight.weight);
}

Density::Judged Density::judged(const Observed& flight, const Outcome& model) const {
  Judged all;
  bool limited = false;
  for (const Reading& reading : flight.readings) {
    const double r =
        (reading.value - model[static_cast<std::size_t>(reading.kind)]) / scatter(flight, reading);
    if (reading.at_least) {
      limited = true;
      all.above = -r;
    } else {
      all.exact += 1;
      all.misfit += r * r;
    }
  }
  const double nu = beliefs_.tail_freedom;
  all.weight = (nu + all.exact) / (nu + all.misfit);
  if (!limited) return all;
  all.limit = lower_limit(all.above, nu, all.exact, all.misfit);
  all.weight = all.limit.weight;
  return all;
}

double Density::weight(const Observed& flight, const Outcome& model) const {
  return judged(flight, model).weight;
}

double Density::objective(const VectorXd& z, const std::vector<Local>& here) const {
  const double nu = beliefs_.tail_freedom;
  double sum = 0.5 * z.squaredNorm();
  for (std::size_t i = 0; i < flights_.size(); ++i) {
    if (!usable_.empty() && !usable_[i]) continue;
    if (!here[i].flown) return 1e300;
    const Judged flight = judged(flights_[i], here[i].outcome);
    sum += 0.5 * (nu + flight.exact) * std::log1p(flight.misfit / nu) - flight.limit.ln_p;
    for (const Reading& r : flights_[i].readings) {
      if (!r.at_least) sum += std::log(scatter(flights_[i], r));
    }
  }
  if (beliefs_.scatter_spread > 0) {
    for (const double c : factor_) sum += 0.5 * std::pow(std::log(c) / beliefs_.scatter_spread, 2);
  }
  return sum;
}

VectorXd Density::solve_linear(const VectorXd& z, const std::vector<Local>& here,
                               const std::vector<MatrixXd>& slopes) {
  usable_.assign(flights_.size(), false);
  for (std::size_t i = 0; i < here.size(); ++i) usable_[i] = here[i].flown;
  VectorXd at = z;
  for (int turn = 0; turn < 60; ++turn) {
    MatrixXd normal = MatrixXd::Identity(count_, count_);
    VectorXd right = VectorXd::Zero(count_);
    std::array<double, kind_count> squares{}, number{};
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (!usable_[i]) continue;
      const Outcome model = moved(here[i].outcome, slopes[i], at - z);
      const Judged flight = judged(flights_[i], model);
      const double w = flight.weight;
      for (const Reading& reading : flights_[i].readings) {
        const auto k = static_cast<std::size_t>(reading.kind);
        const double s = scatter(flights_[i], reading);
        const VectorXd slope = slopes[i].row(static_cast<Eigen::Index>(k)).transpose();
        // Of a limit the means over what may lie above it (the EM view of censored readings).
        const double r = (reading.value - model[k]) / s;
        const double pull = reading.at_least ? flight.limit.slope : w * r;
        const double square = reading.at_least ? 1 - flight.above * flight.limit.slope : w * r * r;
        normal.noalias() += w / (s * s) * slope * slope.transpose();
        right.noalias() += (pull / s + w / (s * s) * slope.dot(at)) * slope;
        squares[k] += square * factor_[k] * factor_[k];
        number[k] += 1;
      }
    }
    const VectorXd next = normal.ldlt().solve(right);
    const double step = (next - at).cwiseAbs().maxCoeff();
    at = next;
    if (update_scatter(squares, number) < 1e-3 && step < 1e-3) break;
  }
  return at;
}

/// Mode of ln c for each kind: n (squares/(n c^2) - 1) = ln c/spread^2. Returns the largest change.
double Density::update_scatter(const std::array<double, kind_count>& squares,
                               const std::array<double, kind_count>& number) {
  if (beliefs_.scatter_spread <= 0) return 0;
  const double precision = 1 / (beliefs_.scatter_spread * beliefs_.scatter_spread);
  double change = 0;
  for (std::size_t k = 0; k < kind_count; ++k) {
    if (number[k] == 0) continue;
    double lambda = std::log(factor_[k]);
    for (int i = 0; i < 20; ++i) {
      const double of = squares[k] * std::exp(-2 * lambda);
      const double slope = of - number[k] - precision * lambda;
      lambda += std::clamp(slope / (2 * of + precision), -0.5, 0.5);
    }
    change = std::max(change, std::abs(lambda - std::log(factor_[k])));
    factor_[k] = std::exp(lambda);
  }
  return change;
}

MatrixXd Density::precision(const std::vector<Local>& here,
                            const std::vector<MatrixXd>& slopes) const {
  const double nu = beliefs_.tail_freedom;
  MatrixXd sum = MatrixXd::Identity(count_, count_);
  for (std::size_t i = 0; i < flights_.size(); ++i) {
    if (!here[i].flown) continue;
    const Judged flight = judged(flights_[i], here[i].outcome);
    const double share = (nu + flight.exact) / (nu + flight.exact + 2);
    for (const Reading& reading : flights_[i].readings) {
      const double s = scatter(flights_[i], reading);
      const double bend = reading.at_least ? flight.limit.bend : share;
      const VectorXd slope = slopes[i].row(static_cast<Eigen::Index>(reading.kind)).transpose();
      sum.noalias() += bend / (s * s) * slope * slope.transpose();
    }
  }
  return sum;
}

}  // namespace propwright::learn
