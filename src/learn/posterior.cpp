// J    slopes df/dz of a flight's readings       w    weight of a flight by its misfit
// nu   freedom of Student's t                    m    number of readings of a flight
// c    scatter factor of a kind
#include "propwright/learn/posterior.h"

#include <algorithm>
#include <cmath>

namespace propwright::learn {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

// First half a prior deviation either way: far above the flight's own tolerance. Then one deviation
// of what is believed by then along its own axes: the flight bends (at the roof, where the motor is
// spent), and what counts is its slope across the range that is still open.
constexpr double first_step = 0.5;
constexpr int most_rounds = 8;
constexpr double small_step = 0.02;
// Where flights bend, the slopes across what is open and the density itself do not agree to the
// last: the mode is found when a round raises ln of the density by less than this, and the step
// that the slopes ask for lies within the posterior.
constexpr double small_gain = 0.1;

struct Local {
  bool flown = false;
  Outcome outcome{};
};

class Learner {
 public:
  Learner(std::size_t parameters, const std::vector<Observed>& flights, const Fly& fly,
          const Beliefs& beliefs)
      : count_(static_cast<Eigen::Index>(parameters)),
        flights_(flights),
        fly_(fly),
        beliefs_(beliefs) {
    factor_.fill(1);
    believed_ = first_step * first_step * MatrixXd::Identity(count_, count_);
  }

  base::Expected<Posterior> run() {
    VectorXd z = VectorXd::Zero(count_);
    std::vector<Local> here = fly_all(z);
    const std::vector<Local> before = here;
    if (std::none_of(here.begin(), here.end(), [](const Local& l) { return l.flown; })) {
      return base::fail({.kind = base::Kind::no_solution,
                         .field = "flights",
                         .remedy = "check turns, motor and masses of the log against the job",
                         .message = "the model flies none of the flights of the log"});
    }
    Posterior result;
    for (result.rounds = 1; result.rounds <= most_rounds; ++result.rounds) {
      find_slopes(z);
      const VectorXd wanted = solve_linear(z, here);
      believed_ = precision(here).ldlt().solve(MatrixXd::Identity(count_, count_));
      const VectorXd asked = wanted - z;
      const bool within = asked.dot(believed_.ldlt().solve(asked)) < static_cast<double>(count_);
      const double before_step = objective(z, here);
      const double step = take_step(z, here, wanted);
      const double gain = before_step - objective(z, here);
      result.converged = step < small_step || (gain < small_gain && within);
      if (result.converged || stalled_) break;
    }
    result.rounds = std::min(result.rounds, most_rounds);
    find_slopes(z);
    finish(result, z, here, before);
    return result;
  }

 private:
  std::vector<Local> fly_all(const VectorXd& z) {
    std::vector<Query> queries;
    queries.reserve(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) queries.push_back({i, z, false});
    const auto flown = fly_(queries);
    std::vector<Local> all(flights_.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (flown[i]) all[i] = {true, *flown[i]};
    }
    return all;
  }

  /// Steps of one deviation of what is believed of some parameters, as columns: Cholesky's factor,
  /// whose later columns leave the earlier parameters alone. None is shorter than a hundredth.
  MatrixXd axes_of(const std::vector<std::size_t>& parameters) const {
    const auto n = static_cast<Eigen::Index>(parameters.size());
    MatrixXd part(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
      for (Eigen::Index j = 0; j < n; ++j) {
        part(i, j) = believed_(static_cast<Eigen::Index>(parameters[i]),
                               static_cast<Eigen::Index>(parameters[j]));
      }
      part(i, i) += 1e-4;
    }
    return part.llt().matrixL();
  }

  /// Slopes of every flight that stands for others, by flights one step either way along the axes.
  void find_slopes(const VectorXd& z) {
    std::vector<Query> queries;
    std::vector<MatrixXd> axes(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (flights_[i].slopes_of != i) continue;
      const std::vector<std::size_t>& parameters = flights_[i].parameters;
      axes[i] = axes_of(parameters);
      for (Eigen::Index a = 0; a < axes[i].cols(); ++a) {
        for (const double side : {-1.0, 1.0}) {
          VectorXd moved = z;
          for (std::size_t p = 0; p < parameters.size(); ++p) {
            moved[static_cast<Eigen::Index>(parameters[p])] +=
                side * axes[i](static_cast<Eigen::Index>(p), a);
          }
          queries.push_back({i, std::move(moved), true});
        }
      }
    }
    const auto flown = fly_(queries);
    slopes_.assign(flights_.size(), MatrixXd());
    std::size_t next = 0;
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (flights_[i].slopes_of != i) continue;
      slopes_[i] = slopes_from(flown, next, axes[i], flights_[i].parameters);
      next += 2 * static_cast<std::size_t>(axes[i].cols());
    }
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (flights_[i].slopes_of == i) continue;
      const double share = flights_[i].second_share;
      slopes_[i] = (1 - share) * slopes_[flights_[i].slopes_of];
      if (share > 0) slopes_[i] += share * slopes_[flights_[i].slopes_of_second];
    }
  }

  MatrixXd slopes_from(const std::vector<std::optional<Outcome>>& flown, std::size_t first,
                       const MatrixXd& axes, const std::vector<std::size_t>& parameters) const {
    MatrixXd along = MatrixXd::Zero(kind_count, axes.cols());
    for (Eigen::Index a = 0; a < axes.cols(); ++a) {
      const auto& low = flown[first + 2 * static_cast<std::size_t>(a)];
      const auto& high = flown[first + 2 * static_cast<std::size_t>(a) + 1];
      if (!low || !high) continue;
      for (std::size_t k = 0; k < kind_count; ++k) {
        along(static_cast<Eigen::Index>(k), a) = 0.5 * ((*high)[k] - (*low)[k]);
      }
    }
    const MatrixXd part = along * axes.inverse();
    MatrixXd slopes = MatrixXd::Zero(kind_count, count_);
    for (std::size_t p = 0; p < parameters.size(); ++p) {
      slopes.col(static_cast<Eigen::Index>(parameters[p])) = part.col(static_cast<Eigen::Index>(p));
    }
    return slopes;
  }

  const MatrixXd& slopes(std::size_t i) const { return slopes_[i]; }

  double scatter(const Observed& flight, const Reading& reading) const {
    return reading.scatter * factor_[static_cast<std::size_t>(reading.kind)] /
           std::sqrt(flight.weight);
  }

  double misfit(const Observed& flight, const Outcome& model) const {
    double sum = 0;
    for (const Reading& reading : flight.readings) {
      const double r = (reading.value - model[static_cast<std::size_t>(reading.kind)]) /
                       scatter(flight, reading);
      sum += r * r;
    }
    return sum;
  }

  double weight(const Observed& flight, const Outcome& model) const {
    const double nu = beliefs_.tail_freedom;
    return (nu + static_cast<double>(flight.readings.size())) / (nu + misfit(flight, model));
  }

  /// Minus ln of the posterior density, without constants.
  double objective(const VectorXd& z, const std::vector<Local>& here) const {
    const double nu = beliefs_.tail_freedom;
    double sum = 0.5 * z.squaredNorm();
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (!before_flown(i)) continue;
      if (!here[i].flown) return 1e300;
      const auto m = static_cast<double>(flights_[i].readings.size());
      sum += 0.5 * (nu + m) * std::log1p(misfit(flights_[i], here[i].outcome) / nu);
      for (const Reading& r : flights_[i].readings) sum += std::log(scatter(flights_[i], r));
    }
    if (beliefs_.scatter_spread > 0) {
      for (const double c : factor_) {
        sum += 0.5 * std::pow(std::log(c) / beliefs_.scatter_spread, 2);
      }
    }
    return sum;
  }

  bool before_flown(std::size_t i) const { return usable_.empty() || usable_[i]; }

  static Outcome moved(const Outcome& from, const MatrixXd& slopes, const VectorXd& by) {
    const VectorXd change = slopes * by;
    Outcome to = from;
    for (std::size_t k = 0; k < kind_count; ++k) to[k] += change[static_cast<Eigen::Index>(k)];
    return to;
  }

  /// The mode of the model made linear at z: weights, scatter and parameters in turn.
  VectorXd solve_linear(const VectorXd& z, const std::vector<Local>& here) {
    usable_.assign(flights_.size(), false);
    for (std::size_t i = 0; i < here.size(); ++i) usable_[i] = here[i].flown;
    VectorXd at = z;
    for (int turn = 0; turn < 60; ++turn) {
      MatrixXd normal = MatrixXd::Identity(count_, count_);
      VectorXd right = VectorXd::Zero(count_);
      std::array<double, kind_count> squares{}, number{};
      for (std::size_t i = 0; i < flights_.size(); ++i) {
        if (!usable_[i]) continue;
        const Outcome model = moved(here[i].outcome, slopes(i), at - z);
        const double w = weight(flights_[i], model);
        for (const Reading& reading : flights_[i].readings) {
          const auto k = static_cast<std::size_t>(reading.kind);
          const double s = scatter(flights_[i], reading);
          const VectorXd slope = slopes(i).row(static_cast<Eigen::Index>(k)).transpose();
          const double residual = reading.value - model[k];
          normal.noalias() += w / (s * s) * slope * slope.transpose();
          right.noalias() += w / (s * s) * (residual + slope.dot(at)) * slope;
          squares[k] += w * residual * residual / (s * s) * factor_[k] * factor_[k];
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

  /// Mode of ln c for each kind: n (squares/(n c^2) - 1) = ln c/spread^2. Returns the largest
  /// change.
  double update_scatter(const std::array<double, kind_count>& squares,
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

  /// Goes to `wanted`, or part of the way where the model itself gets worse. Returns the largest
  /// change of a parameter.
  double take_step(VectorXd& z, std::vector<Local>& here, const VectorXd& wanted) {
    const double now = objective(z, here);
    VectorXd step = wanted - z;
    const double longest = step.cwiseAbs().maxCoeff();
    if (longest > 2) step *= 2 / longest;
    for (int halving = 0; halving < 4; ++halving) {
      const VectorXd tried = z + step;
      std::vector<Local> there = fly_all(tried);
      if (objective(tried, there) <= now + 1e-9 * std::abs(now)) {
        z = tried;
        here = std::move(there);
        return step.cwiseAbs().maxCoeff();
      }
      step *= 0.5;
    }
    stalled_ = true;
    return step.cwiseAbs().maxCoeff();
  }

  /// Laplace with the expected information of Student's t, (nu + m)/(nu + m + 2) of the normal one.
  MatrixXd precision(const std::vector<Local>& here) const {
    const double nu = beliefs_.tail_freedom;
    MatrixXd sum = MatrixXd::Identity(count_, count_);
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (!here[i].flown) continue;
      const auto m = static_cast<double>(flights_[i].readings.size());
      const double share = (nu + m) / (nu + m + 2);
      for (const Reading& reading : flights_[i].readings) {
        const double s = scatter(flights_[i], reading);
        const VectorXd slope = slopes(i).row(static_cast<Eigen::Index>(reading.kind)).transpose();
        sum.noalias() += share / (s * s) * slope * slope.transpose();
      }
    }
    return sum;
  }

  void finish(Posterior& result, const VectorXd& z, const std::vector<Local>& here,
              const std::vector<Local>& before) {
    result.fits.resize(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      Fit& fit = result.fits[i];
      fit.flown = here[i].flown && before[i].flown;
      if (!fit.flown) continue;
      fit.before = before[i].outcome;
      fit.after = here[i].outcome;
      fit.weight = std::min(weight(flights_[i], fit.after), 1.0);
      fit.slopes = slopes(i);
      for (const Reading& reading : flights_[i].readings) {
        fit.residual.push_back((reading.value - fit.after[static_cast<std::size_t>(reading.kind)]) /
                               scatter(flights_[i], reading));
      }
    }
    result.mode = z;
    result.covariance = precision(here).ldlt().solve(MatrixXd::Identity(count_, count_));
    result.scatter_factor = factor_;
  }

  Eigen::Index count_;
  const std::vector<Observed>& flights_;
  const Fly& fly_;
  const Beliefs& beliefs_;
  std::array<double, kind_count> factor_{};
  MatrixXd believed_;  ///< covariance along which the slopes are taken
  std::vector<MatrixXd> slopes_;
  std::vector<bool> usable_;
  bool stalled_ = false;  ///< not even a sixteenth of the last step made it better
};

}  // namespace

base::Expected<Posterior> learn(std::size_t parameters, const std::vector<Observed>& flights,
                                const Fly& fly, const Beliefs& beliefs) {
  return Learner(parameters, flights, fly, beliefs).run();
}

}  // namespace propwright::learn
