// J    slopes df/dz of a flight's readings
#include "propwright/learn/posterior.h"

#include <algorithm>
#include <cmath>

#include "density.h"
#include "lend.h"
#include "slopes.h"
#include "spread.h"

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
// Between rounds of slopes flown anew, steps with slopes mended by what the last step showed: each
// costs the flights alone.
constexpr int most_tries = 4, most_mended_steps = 3;
// Where the step asked for lies within the posterior there is little to win by more.
constexpr int most_tries_within = 2;
// Slopes are taken across a deviation of the posterior either way: within one of where they were
// taken they stand.
constexpr double standing_slopes = 1;
// Rounds with the few of many flights that show the way, and mended steps with all from there.
constexpr int sample_rounds = 2, most_first_steps = 4;

base::Problem flies_none() {
  return {.kind = base::Kind::no_solution,
          .field = "flights",
          .remedy = "check turns, motor and masses of the log against the job",
          .message = "the model flies none of the flights of the log"};
}

class Learner {
 public:
  Learner(std::size_t parameters, const std::vector<Observed>& flights, const Fly& fly,
          const Beliefs& beliefs, const Progress& progress)
      : count_(static_cast<Eigen::Index>(parameters)),
        flights_(flights),
        fly_(fly),
        beliefs_(beliefs),
        progress_(progress),
        density_(parameters, flights, beliefs) {
    believed_ = first_step * first_step * MatrixXd::Identity(count_, count_);
    z_ = VectorXd::Zero(count_);
  }

  base::Expected<Posterior> run() {
    here_ = fly_all(z_);
    if (stopped_) return base::fail(learning_stopped());
    const std::vector<Local> before = here_;
    if (std::none_of(here_.begin(), here_.end(), [](const Local& l) { return l.flown; })) {
      return base::fail(flies_none());
    }
    const bool shown = follow_sample();
    if (stopped_) return base::fail(learning_stopped());
    const Approach made = approach(most_rounds, shown);
    if (!made.stands && !stopped_) find_slopes();
    if (stopped_) return base::fail(learning_stopped());
    Posterior result;
    result.rounds = made.rounds;
    result.converged = made.converged;
    finish(result, before);
    return result;
  }

 private:
  struct Step {
    bool taken = false;  ///< else not even the shortest tried made it better
    VectorXd asked, by;
    double longest = 0, gain = 0;  ///< largest change of a parameter; of ln of the density
  };

  struct Approach {
    int rounds = 0;
    bool converged = false;
    bool stands = false;  ///< the slopes hold where it stands
  };

  /// Rounds of slopes flown anew and of steps, until those rest. `axes_known`: the first slopes are
  /// taken along what all flights leave open.
  Approach approach(int most, bool axes_known) {
    Approach made;
    bool rests = false;
    while (!rests && made.rounds < most) {
      ++made.rounds;
      find_slopes();
      if (stopped_) return made;
      const std::vector<MatrixXd> flown = slopes_;
      density_.solve_linear(z_, here_, slopes_);  // for the scatter
      believed_ = covariance();
      const Step step = take_step(most_tries);
      made.converged = step.longest < small_step || (step.gain < small_gain && within(step.asked));
      rests = made.converged || !step.taken;
      const bool axes_good = axes_known || made.rounds > 2;
      made.stands = rests && axes_good && squared_length(step.by) < standing_slopes;
      if (!rests) take_mended_steps(most_mended_steps);
      slopes_ = flown;
    }
    return made;
  }

  /// Of very many flights a few show the way, with rough slopes. False where there are too few.
  bool follow_sample() {
    const Sample sample = sample_of(flights_, here_);
    if (sample.flights.empty()) return false;
    const Fly fly_sample = [&](std::vector<Query> queries) {
      for (Query& query : queries) {
        query.flight = sample.flights[query.flight];
        query.slope = true;  // as roughly as that
      }
      return fly(queries);
    };
    const Progress go_on = [&](double) { return !stopped_; };
    Learner few(static_cast<std::size_t>(count_), sample.observed, fly_sample, beliefs_, go_on);
    few.here_.reserve(sample.flights.size());
    for (const std::size_t i : sample.flights) few.here_.push_back(here_[i]);
    few.approach(sample_rounds, false);
    if (stopped_) return false;
    z_ = few.z_;
    here_ = fly_all(z_);
    if (stopped_) return false;
    slopes_.assign(flights_.size(), MatrixXd::Zero(kind_count, count_));
    for (std::size_t s = 0; s < sample.flights.size(); ++s) {
      slopes_[sample.flights[s]] = few.slopes_[s];
    }
    lend(flights_, slopes_);
    density_.solve_linear(z_, here_, slopes_);
    believed_ = covariance();
    take_mended_steps(most_first_steps);
    return true;
  }

  MatrixXd covariance() const {
    return density_.precision(here_, slopes_).ldlt().solve(MatrixXd::Identity(count_, count_));
  }

  /// In deviations of what is believed.
  double squared_length(const VectorXd& step) const {
    return step.dot(believed_.ldlt().solve(step));
  }

  /// Whether a step ends within the posterior's own spread.
  bool within(const VectorXd& step) const {
    return squared_length(step) < static_cast<double>(count_);
  }

  std::vector<std::optional<Outcome>> fly(const std::vector<Query>& queries) {
    auto flown = fly_(queries);
    // Each round flies its slopes and its steps; how many rounds there will be is not known.
    done_ += 0.12 * (1 - done_);
    if (progress_ && !progress_(done_)) stopped_ = true;
    return flown;
  }

  std::vector<Local> fly_all(const VectorXd& z) {
    std::vector<Query> queries;
    queries.reserve(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) queries.push_back({i, z, false});
    const auto flown = fly(queries);
    std::vector<Local> all(flights_.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (flown[i]) all[i] = {true, *flown[i]};
    }
    return all;
  }

  /// Slopes of every flight, flown anew.
  void find_slopes() {
    const SlopeFlights wanted(flights_, z_, believed_);
    const auto flown = fly(wanted.queries());
    if (stopped_) return;
    slopes_ = wanted.read(flown);
  }

  /// Goes where the slopes ask for, or, where the model itself gets worse there, less far and where
  /// slopes mended by that ask for. Leaves the slopes mended.
  Step take_step(int tries) {
    Step step;
    double most = 2;  // of the change of any parameter
    for (int i = 0; i < tries && !stopped_; ++i) {
      step.by = density_.solve_linear(z_, here_, slopes_) - z_;
      if (i == 0) step.asked = step.by;
      const double longest = step.by.cwiseAbs().maxCoeff();
      if (longest > most) step.by *= most / longest;
      step.longest = std::min(longest, most);
      const VectorXd tried = z_ + step.by;
      std::vector<Local> there = fly_all(tried);
      if (stopped_) break;
      const double now = density_.objective(z_, here_), then = density_.objective(tried, there);
      mend_slopes(there, step.by);
      if (then <= now + 1e-9 * std::abs(now)) {
        z_ = tried;
        here_ = std::move(there);
        step.taken = true;
        step.gain = now - then;
        return step;
      }
      most = 0.5 * step.longest;
      if (within(step.asked)) tries = std::min(tries, most_tries_within);
    }
    step.by.setZero();
    return step;
  }

  /// Broyden's rule (Mathematics of Computation 19 (1965) 577-593): of all slopes that give what a
  /// step showed, those nearest to the present, measured in deviations of what is believed.
  void mend_slopes(const std::vector<Local>& there, const VectorXd& step) {
    const VectorXd weighed = believed_.ldlt().solve(step);
    const double length = step.dot(weighed);
    if (!(length > 1e-12)) return;
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      if (!here_[i].flown || !there[i].flown) continue;
      VectorXd missed = -(slopes_[i] * step);
      for (std::size_t k = 0; k < kind_count; ++k) {
        missed[static_cast<Eigen::Index>(k)] += there[i].outcome[k] - here_[i].outcome[k];
      }
      for (const std::size_t p : flights_[i].parameters) {
        const auto column = static_cast<Eigen::Index>(p);
        slopes_[i].col(column) += weighed[column] / length * missed;
      }
    }
  }

  void take_mended_steps(int most) {
    for (int i = 0; i < most && !stopped_; ++i) {
      const Step step = take_step(1);
      if (!step.taken || step.gain < small_gain) break;
    }
  }

  void finish(Posterior& result, const std::vector<Local>& before) {
    result.fits.resize(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      Fit& fit = result.fits[i];
      fit.flown = here_[i].flown && before[i].flown;
      if (!fit.flown) continue;
      fit.before = before[i].outcome;
      fit.after = here_[i].outcome;
      fit.weight = std::min(density_.weight(flights_[i], fit.after), 1.0);
      fit.slopes = slopes_[i];
      for (const Reading& reading : flights_[i].readings) {
        const double scatter = density_.scatter(flights_[i], reading);
        const double r =
            (reading.value - fit.after[static_cast<std::size_t>(reading.kind)]) / scatter;
        fit.scatter.push_back(scatter);
        fit.residual.push_back(reading.at_least ? std::max(r, 0.0) : r);
      }
    }
    const Spread spread =
        spread_about({z_, flights_, here_, slopes_, beliefs_, density_.scatter_factor()});
    result.mode = z_;
    result.covariance = spread.covariance;
    result.scatter_factor = spread.scatter_factor;
  }

  Eigen::Index count_;
  const std::vector<Observed>& flights_;
  const Fly& fly_;
  const Beliefs& beliefs_;
  const Progress& progress_;
  Density density_;
  VectorXd z_;                    ///< where it stands
  std::vector<Local> here_;       ///< the flights there
  MatrixXd believed_;             ///< covariance along which the slopes are taken
  std::vector<MatrixXd> slopes_;  ///< of each flight
  double done_ = 0;
  bool stopped_ = false;
};

}  // namespace

base::Problem learning_stopped() {
  return {.kind = base::Kind::no_solution,
          .field = "flights",
          .remedy = "ask again",
          .message = "the learning was stopped before it was done"};
}

base::Expected<Posterior> learn(std::size_t parameters, const std::vector<Observed>& flights,
                                const Fly& fly, const Beliefs& beliefs, const Progress& progress) {
  return Learner(parameters, flights, fly, beliefs, progress).run();
}

}  // namespace propwright::learn
