/// Takes the readings of two blades out of their JSON.
#pragma once

#include <array>

#include "pair_stiffness.h"
#include "propwright/answer/json_text.h"
#include "propwright/asbuilt/blade.h"

namespace propwright::answer {

/// Stiffness in tests or by a spar's EI is set over the design's. Problem: bad_input with fields
/// "blade[1].length", "doubts.angle".
base::Expected<std::array<asbuilt::BladeReading, 2>> read_as_built(const Json& as_built,
                                                                   const DesignStiffness& design);

}  // namespace propwright::answer
