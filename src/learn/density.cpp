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

constexpr int most_turns = 60;

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

void Density::Judged::add(double r, bool at_least) {
  if (at_least) {
    limited = true;
    above = -r;
  } else {
    exact += 1;
    misfit += r * r;
  }
}

void Density::Judged::weigh(double nu) {
  weight = (nu + exact) / (nu + misfit);
  if (!limited) return;
  limit = lower_limit(above, nu, exact, misfit);
  weight = limit.weight;
}

Density::Judged Density::judged(const Observed& flight, const Outcome& model) const {
  Judged all;
  for (const Reading& reading : flight.readings) {
    const double r =
        (reading.value - model[static_cast<std::size_t>(reading.kind)]) / scatter(flight, reading);
    all.add(r, reading.at_least);
  }
  all.weigh(beliefs_.tail_freedom);
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
  const Lines all(flights_, here, slopes, static_cast<std::size_t>(count_));
  const VectorXd there = all.slopes * z;
  VectorXd at = z, along = there;
  Pulls pulls;
  for (int turn = 0; turn < most_turns; ++turn) {
    pull(all, along - there, pulls);
    const VectorXd right = all.slopes.transpose() * (pulls.pull + pulls.weight.cwiseProduct(along));
    const VectorXd next = precision_of(all.slopes, pulls.weight).ldlt().solve(right);
    const double step = (next - at).cwiseAbs().maxCoeff();
    at = next;
    along = all.slopes * at;
    if (update_scatter(pulls.squares, pulls.number) < 1e-3 && step < 1e-3) break;
  }
  return at;
}

/// Of a limit the means over what may lie above it (the EM view of censored readings).
void Density::pull(const Lines& all, const VectorXd& moved, Pulls& pulls) const {
  const auto lines = static_cast<Eigen::Index>(all.lines.size());
  pulls.weight.resize(lines);
  pulls.pull.resize(lines);
  pulls.squares.fill(0);
  pulls.number.fill(0);
  for (std::size_t f = 0; f + 1 < all.first.size(); ++f) {
    Judged flight;
    const auto each_line = [&](const auto& task) {
      for (std::size_t l = all.first[f]; l < all.first[f + 1]; ++l) {
        const Line& line = all.lines[l];
        const auto place = static_cast<Eigen::Index>(l);
        const double s = line.scatter * factor_[line.kind];
        task(line, place, s, (line.residual - moved[place]) / s);
      }
    };
    each_line(
        [&](const Line& line, Eigen::Index, double, double r) { flight.add(r, line.at_least); });
    flight.weigh(beliefs_.tail_freedom);
    const double w = flight.weight;
    each_line([&](const Line& line, Eigen::Index place, double s, double r) {
      pulls.weight[place] = w / (s * s);
      pulls.pull[place] = (line.at_least ? flight.limit.slope : w * r) / s;
      const double square = line.at_least ? 1 - flight.above * flight.limit.slope : w * r * r;
      pulls.squares[line.kind] += square * factor_[line.kind] * factor_[line.kind];
      pulls.number[line.kind] += 1;
    });
  }
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
  const Lines all(flights_, here, slopes, static_cast<std::size_t>(count_));
  VectorXd weights(static_cast<Eigen::Index>(all.lines.size()));
  Eigen::Index place = 0;
  for (std::size_t i = 0; i < flights_.size(); ++i) {
    if (!here[i].flown) continue;
    const Judged flight = judged(flights_[i], here[i].outcome);
    const double share = (nu + flight.exact) / (nu + flight.exact + 2);
    for (const Reading& reading : flights_[i].readings) {
      const double s = scatter(flights_[i], reading);
      weights[place++] = (reading.at_least ? flight.limit.bend : share) / (s * s);
    }
  }
  return precision_of(all.slopes, weights).selfadjointView<Eigen::Lower>();
}

}  // namespace propwright::learn
