#pragma once

#include <string>
#include <vector>

#include "propwright/flight/climb_table.h"

namespace propwright::flight {

/// Steady states up to greatest_torque_Nm, or up to the most torque the propeller absorbs when the
/// wound motor gives more than that.
base::Expected<ClimbTable> table_for(const Setup& setup);

struct LaunchDecision {
  double turns = 0;
  std::vector<std::string> warnings;
};

/// Turns in the motor at launch, by the plan's rule.
base::Expected<LaunchDecision> launch_turns(const Setup& setup, const ClimbTable& table);

}  // namespace propwright::flight
