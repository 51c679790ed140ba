/// Laws every rotor must obey, whatever its blade.
#pragma once

#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"

namespace propwright::support {

/// Finite results; and where the rotor propels: its shaft power covers useful and section power,
/// and its efficiency stays below the ideal disc's 2/(1 + sqrt(1 + Tc)) (axial momentum theory).
inline void check_rotor_laws(const rotor::Result& result, const rotor::Flow& flow, double tip_m) {
  const rotor::Loads& loads = result.loads;
  const double v = result.condition.speed_m_s;
  ASSERT_TRUE(std::isfinite(loads.thrust_N) && std::isfinite(loads.torque_Nm) &&
              std::isfinite(loads.profile_power_W));
  EXPECT_GE(loads.profile_power_W, 0);
  const auto c = rotor::coefficients(loads, result.condition, 2 * tip_m, flow.density_kg_m3);
  if (!c.efficiency_defined || v <= 0) return;
  const double disc = base::pi * tip_m * tip_m;
  const double loading = loads.thrust_N / (0.5 * flow.density_kg_m3 * v * v * disc);
  EXPECT_LE(c.efficiency, 2 / (1 + std::sqrt(1 + loading)));
  const double shaft = 2 * base::pi * result.condition.rev_per_s * loads.torque_Nm;
  // The slipstream can only take power: rounding and the stations' 1e-6 steps are left.
  EXPECT_GE(shaft - loads.thrust_N * v - loads.profile_power_W, -1e-5 * shaft);
}

}  // namespace propwright::support
