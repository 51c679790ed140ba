/// What the flights say of the propellers' levels, on one grid and for a row of scatters.
#pragma once

#include <vector>

#include "propwright/verdict/verdict.h"

namespace propwright::verdict {

/// u = sum over the centres of asinh((mu - centre)/finest), in equal steps: fine at every
/// propeller's flights, wide between those that are far apart and far out at the ends.
struct LevelGrid {
  std::vector<double> centres;  ///< of mu, in order
  double finest = 1, low_u = 0, step = 0;
  std::vector<double> level, share, jacobian;  ///< mu, exp(mu), dmu/du
  /// u of a level.
  double stretched(double mu) const;
  /// Place of a level on the grid, in steps from the first point and no farther than its ends.
  double place(double mu) const;
  /// The same of exp(mu).
  double place_of_share(double of) const;
};

/// The cubic through two values with these slopes for the whole step, at a part of it.
double cubic(double from, double to, double from_slope, double to_slope, double part);

/// Levels at one scatter and one spread of the days (or, where each propeller has its own, over all
/// of them): densities over u and their integrals from below, [propeller][point].
struct Node {
  double weight = 0;
  std::vector<std::vector<double>> density, below;
  /// Levels each for itself, where their doubt has a part that all share (a day's shift) and that
  /// `density`, for comparing, leaves out; empty where it has none.
  std::vector<std::vector<double>> density_alone, below_alone;
};

/// A score left out: for each node its weight and the density of its propeller without it.
struct Variant {
  std::size_t score = 0;
  std::vector<Node> nodes;
};

struct Levels {
  LevelGrid grid;
  std::vector<Node> nodes;        ///< weights sum to 1
  std::vector<Variant> variants;  ///< the outermost scores of each propeller left out
  Range scatter;
  Range day_scatter;              ///< noughts where no days are told apart
  std::vector<double> day_shift;  ///< ln, by the scores' day
};

/// `variants`: whether those are wanted. `active`: the propellers that have flights or a prior; the
/// indices in the result follow it.
Levels levels_of(const std::vector<Score>& scores, const std::vector<std::size_t>& active,
                 const Beliefs& beliefs, bool variants = true);

/// Integral from below at each point of a density in equal steps, error of the sixth order.
std::vector<double> running_integral(const std::vector<double>& density, double step);

/// Probability that each propeller has the highest level.
std::vector<double> best_odds(const Node& node, double step);

}  // namespace propwright::verdict
