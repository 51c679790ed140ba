/// What a blade is built of, as the flexing beam takes it.
#pragma once

#include "propwright/brief/job.h"
#include "propwright/flex/parts.h"
#include "propwright/rotor/rotor.h"

namespace propwright::brief {

/// Spar, edges, ribs, sheet and film by theory, whatever tests of the finished blade found.
flex::Parts blade_parts(const Propeller& propeller, const rotor::Blade& blade);

}  // namespace propwright::brief
