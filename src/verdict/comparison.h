/// Numbers read off the levels: quantiles of a level and of the gain over the best of the others.
#pragma once

#include "levels.h"

namespace propwright::verdict {

/// Odds of being the best over all nodes.
std::vector<double> best_odds(const std::vector<Node>& nodes, double step);

/// Quantile of the level of propeller k; `compared`: without the doubt that all levels share.
double level_quantile(const Levels& levels, std::size_t k, double share, bool compared = false);

/// Probability that T_k - max over the others of T_j is at most `gain`, T = exp(level).
double gain_below(const Levels& levels, std::size_t k, double gain);

/// Median, 5 % and 95 % of that gain. At least two propellers.
Range gain_range(const Levels& levels, std::size_t k);

}  // namespace propwright::verdict
