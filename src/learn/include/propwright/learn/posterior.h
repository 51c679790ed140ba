/// What flights say of a model's parameters: the most probable values and their doubt, by
/// Gauss-Newton steps on a model of the caller's to the mode, and a sampler about it.
/// Symbols: z parameters in units of their prior deviations, so that their prior is N(0, 1); y
/// observations, f(z) the model's, r = (y - f)/s residuals over their scatter. The residuals of one
/// flight are jointly Student's t, so that a flight that does not fit counts for little as a whole
/// (Lange, Little & Taylor, J. American Statistical Association 84 (1989) 881-896).
#pragma once

#include <Eigen/Dense>
#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::learn {

/// What can be read of a flight. `mean_rev`: revolutions at the time they were tapped.
enum class Kind { duration, top_height, turns_left, launch_torque, mean_rev };
constexpr std::size_t kind_count = 5;

/// What the model makes of a flight, in the scales of the observations.
using Outcome = std::array<double, kind_count>;

/// One reading. `value` in the scale in which scatter is even: ln of times, torques and revs; m;
/// turns. A lower limit says only that the quantity, scatter included, was not below its value.
struct Reading {
  Kind kind = Kind::duration;
  double value = 0;
  double scatter = 0.04;  ///< expected standard deviation, > 0
  bool at_least = false;  ///< a lower limit; at most one in a flight
};

/// The readings of one flight.
struct Observed {
  std::vector<Reading> readings;
  double weight = 1;  ///< > 0; 1 over the variance of its scatter
  /// Those that bear on it. Slopes are taken along steps of which the later ones leave the earlier
  /// parameters alone: those that cost the model most come first.
  std::vector<std::size_t> parameters;
  /// The flights whose slopes stand for its own, and the share of the second: itself, or two flown
  /// much alike, on either side of it. Those named must name themselves.
  std::size_t slopes_of = 0, slopes_of_second = 0;
  double second_share = 0;  ///< 0..1
};

/// A flight to be flown by the model.
struct Query {
  std::size_t flight = 0;
  Eigen::VectorXd z;
  bool slope = false;  ///< only its difference from another such query counts
  /// As one flight goes, whose touches of the roof fall where they do; else the mean over that,
  /// which is continuous in z. Learning asks for the mean.
  bool touch_by_touch = false;
};
/// Flies them; empty where the model does not fly. Must give the same for the same query.
using Fly = std::function<std::vector<std::optional<Outcome>>(const std::vector<Query>&)>;

struct Beliefs {
  double tail_freedom = 4;  ///< of Student's t, 1..200
  double scatter_spread =
      0.5;  ///< of ln of a kind's scatter about what is expected of it; 0 = known
  bool operator==(const Beliefs&) const = default;
};

/// A flight against the model.
struct Fit {
  bool flown = false;            ///< the model flies it; else it taught nothing
  Outcome before{}, after{};     ///< at z = 0 and at the mode
  std::vector<double> residual;  ///< of each reading, (y - after)/scatter; 0 of a limit kept
  std::vector<double> scatter;   ///< deviation of each reading that the residual is in units of
  double weight = 1;             ///< how much it counted: 1 fits, near 0 was set aside
  Eigen::MatrixXd slopes;        ///< d(after)/dz, [kind, parameter]
};

struct Posterior {
  Eigen::VectorXd mode;                             ///< of z
  Eigen::MatrixXd covariance;                       ///< of z about it; the prior's is the identity
  std::array<double, kind_count> scatter_factor{};  ///< of what was expected, their median
  std::vector<Fit> fits;
  int rounds = 0;
  /// The last step was below a fiftieth of a prior deviation; or it raised ln of the density by
  /// less than a tenth while the slopes asked for none beyond the posterior's own spread.
  bool converged = false;
};

/// Told the share done, 0..1, after every set of flights; false stops the work.
using Progress = std::function<bool(double share)>;

/// Problem: no_solution when the model flies none of them as it stands, or the work was stopped.
base::Expected<Posterior> learn(std::size_t parameters, const std::vector<Observed>& flights,
                                const Fly& fly, const Beliefs& beliefs = {},
                                const Progress& progress = {});

/// What is said where learning was stopped.
base::Problem learning_stopped();

}  // namespace propwright::learn
