#pragma once

#include "propwright/flex/flex.h"
#include "walker.h"

namespace propwright::flex {

/// Everything to tell of a settled state.
State make_state(const FlexRotor& flex, Walker& walker, rotor::Result result);

}  // namespace propwright::flex
