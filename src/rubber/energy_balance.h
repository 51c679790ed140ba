/// What ties torque, turns and energy of a batch together; shared by the two ways to make a batch.
#pragma once

#include "propwright/base/constants.h"
#include "propwright/rubber/rubber.h"

namespace propwright::rubber {

inline constexpr double density_low_kg_m3 = 800, density_high_kg_m3 = 1150;
inline constexpr double turns_constant_low = 5, turns_constant_high = 20;

/// Sets k_Q from the energy: e rho A L = integral of Q dtheta = 2 pi k_Q A^1.5 N_break * area with
/// N_break = kappa L/sqrt(A), so k_Q = e rho/(2 pi kappa area).
inline void set_torque_constant(Batch& batch, double unwinding_area) {
  batch.torque_constant_Pa = batch.energy_J_per_kg * batch.density_kg_m3 /
                             (2 * base::pi * batch.turns_constant * unwinding_area);
}

}  // namespace propwright::rubber
