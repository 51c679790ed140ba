/// The moments of a flight that drawings pick out.
#pragma once

#include "propwright/brief/assemble.h"
#include "propwright/flight/flight.h"

namespace propwright::answer {

/// Driven by the motor, so that an advance ratio means something.
bool driven(const flight::Instant& at);

/// Half-way down in time, while the motor still drives; null when it does not.
const flight::Instant* let_down(const flight::Flight& flight);

/// Chord below which a station is left out: where the tip is rounded off to nothing the angle of
/// attack shoots up and says nothing.
double telling_chord_m(const brief::Assembly& assembly);

}  // namespace propwright::answer
