/// Levels where the flights are of several days, each with a shift of its own. Private.
#pragma once

#include "curves.h"

namespace propwright::verdict {

/// Whether days are to be told apart.
bool several_days(const std::vector<Flown>& all, const Beliefs& beliefs);

/// The most probable levels and shifts at given scatters and a spread of the days, and how much
/// wider than at these shifts the levels are for the doubt of the shifts.
struct DayFit {
  std::vector<double> level, shift;  ///< by propeller, by day
  std::vector<double> sigma_alone;   ///< of a level, all doubt in it
  std::vector<double> widen;         ///< for comparing propellers: without the part all share
  std::vector<double> widen_alone;
  /// ln of the integral over the shifts of their density times their prior, over its greatest value
  /// without the prior.
  double log_volume = 0;
  double log_density = 0;  ///< of the flights at all of these, without constants
  double log_levels = 0;   ///< ln of the integral over the levels about it, were they normal
};
/// `start`: a fit nearby to begin with, or empty. `enough`: a last step, in scatters.
DayFit fit_days(const std::vector<Flown>& all, const std::vector<double>& scatters, double spread,
                const Beliefs& beliefs, const DayFit& start, double enough = 1e-3);

/// The flights with their days' shifts taken off.
Flown without_shifts(const Flown& flown, const std::vector<double>& shift);

/// With shifts taken off already.
Levels with_own_scatter(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants);

Levels levels_over_days(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants);

}  // namespace propwright::verdict
