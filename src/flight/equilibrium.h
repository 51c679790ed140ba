/// One steady state, and what it is found from.
#pragma once

#include "propwright/flight/climb_table.h"
#include "propwright/flight/flight.h"

namespace propwright::flight {

double all_up_mass_kg(const Setup& setup);

/// No climb is taken to be steeper: past it a model mushes and stalls rather than climbs
/// (judgement).
inline constexpr double steepest_climb_rad = 1.0472;  // 60 degrees

/// As equilibrium(), started from revs and a path angle near it.
struct NearState {
  double rev_per_s = 0, path_angle_rad = 0;
};
base::Expected<Equilibrium> equilibrium_from(const Setup& setup, double motor_torque_Nm,
                                             const NearState& near);
/// Glide with the propeller standing still.
base::Expected<Equilibrium> stopped_glide(const Setup& setup);

}  // namespace propwright::flight
