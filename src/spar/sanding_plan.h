/// Which cuts bring two mounted spars together.
#pragma once

#include <optional>
#include <vector>

#include "mounting.h"

namespace propwright::spar {

struct PlanInput {
  const Measured& a;
  const Measured& b;
  const Mounted& mounted;
  const Rig& rig;
  const Limits& limits;
};

/// Empty: no cuts above the smallest size make them a match.
std::optional<std::vector<Cut>> plan_sanding(const PlanInput& input);

}  // namespace propwright::spar
