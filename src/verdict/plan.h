/// What further flights promise, with what is known of the two first levels taken as normal.
#pragma once

#include "propwright/verdict/verdict.h"

namespace propwright::verdict {

/// Levels of the leader and the runner-up.
struct Duel {
  double ahead = 0;                           ///< difference of the levels
  double leader_sigma = 0, runner_sigma = 0;  ///< > 0
  double flight_information = 0;              ///< of one further flight about a level
};

Outlook outlook(const Duel& duel, int each, double reference_s, const Thresholds& thresholds);

}  // namespace propwright::verdict
