#pragma once

#include <vector>

#include "propwright/base/monotone_curve.h"
#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// Everything wrong with a blade or its options, at once.
base::Problems check(const Blade& blade, const Options& options);

/// The blade at given radii (monotone cubics between its rows).
std::vector<BladeRow> at_radii(const Blade& blade, const std::vector<double>& radii);

}  // namespace propwright::rotor
