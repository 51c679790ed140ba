#pragma once

#include <vector>

#include "propwright/base/monotone_curve.h"
#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// Everything wrong with a blade or its options, at once.
base::Problems check(const Blade& blade, const Options& options);

/// The blade at given radii (monotone cubics between its rows).
std::vector<BladeRow> at_radii(const Blade& blade, const std::vector<double>& radii);

/// Cambers closer than this share one polar.
double rounded_camber(double camber);

/// Everything wrong with a state or the air.
base::Problems check(const Condition& condition, const Flow& flow);

/// Drag of the open arms between shaft and blade: rods in the undisturbed flow.
Loads arm_loads(double hub_radius_m, double diameter_m, int blades, const Condition& condition,
                const Flow& flow);

}  // namespace propwright::rotor
