/// Flights for the verdict's tests.
#pragma once

#include <cmath>
#include <initializer_list>
#include <random>
#include <vector>

#include "propwright/verdict/verdict.h"

namespace propwright::verdict {

inline std::vector<Score> scores_of(std::initializer_list<std::vector<double>> shares) {
  std::vector<Score> scores;
  std::size_t propeller = 0;
  for (const std::vector<double>& of : shares) {
    for (const double share : of) scores.push_back({propeller, share});
    ++propeller;
  }
  return scores;
}

/// `each` flights of propellers at the given levels; t(4) scatter or normal.
inline std::vector<Score> flown(std::mt19937& random, const std::vector<double>& levels, int each,
                                double scatter, bool heavy) {
  std::student_t_distribution<double> student(4);
  std::normal_distribution<double> normal;
  std::vector<Score> scores;
  for (std::size_t k = 0; k < levels.size(); ++k) {
    for (int i = 0; i < each; ++i) {
      const double z = heavy ? student(random) : normal(random);
      scores.push_back({k, std::exp(levels[k] + scatter * z)});
    }
  }
  return scores;
}

/// Scatter as good as known.
inline Beliefs known_scatter(double scatter) {
  Beliefs beliefs;
  beliefs.tail_freedom.reset();
  beliefs.scatter_median = scatter;
  beliefs.scatter_spread = 1e-5;
  return beliefs;
}

}  // namespace propwright::verdict
