/// The bending axes out of two or three directions.
#pragma once

#include "propwright/spar/reduce.h"

namespace propwright::spar {

/// Problem, field reading_45_m: no spar has these three stiffnesses together.
base::Expected<Axes> axes_of(const Measured& measured);

}  // namespace propwright::spar
