/// What can be believed of a wind. Private.
#pragma once

#include <cmath>
#include <utility>

#include "propwright/rubber/breaking.h"

namespace propwright::rubber {

/// N sqrt(A)/L of a wind with a size; not finite without one.
inline double kappa_of(const Wind& wind) {
  return wind.turns * std::sqrt(wind.section_m2) / wind.length_m;
}

/// The least and the greatest kappa that is taken for a motor's and not for a slip of the pen.
inline std::pair<double, double> believed_kappa(const Wind& wind, const BreakingPrior& prior) {
  return {wind.broke ? 0.4 * prior.median : 0, 2.5 * prior.median};
}

}  // namespace propwright::rubber
