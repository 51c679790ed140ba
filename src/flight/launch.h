#pragma once

#include <string>
#include <vector>

#include "climb_table.h"
#include "propwright/flight/flight.h"

namespace propwright::flight {

/// Steady states up to the torque of `most_turns`, or up to the most torque the propeller absorbs
/// when the wound motor gives more than that.
base::Expected<ClimbTable> table_for(const Setup& setup, double most_turns);

struct LaunchDecision {
  double turns = 0;
  std::vector<std::string> warnings;
};

/// Turns in the motor at launch, by the plan's rule.
base::Expected<LaunchDecision> launch_turns(const Setup& setup, const ClimbTable& table);

}  // namespace propwright::flight
