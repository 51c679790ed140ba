// The ideal actuator disc inside the duration bound against its table. Source:
// data/actuator_disk.csv, computed from axial momentum theory, eta = 2/(1 + sqrt(1 + Tc)),
// Tc = T/(rho/2 V^2 A).
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/flight/flight.h"
#include "published_table.h"
#include "stand_in.h"

namespace propwright::published {
namespace {

// Launched a hair above the floor, the bound is t = E eta/(W w_min) at the disc loading of the
// glide's thrust, W w_min/V: choosing the diameter chooses Tc.
TEST(DiscBound, EfficiencyOfTheDiscIsTheTables) {
  const base::Table rows = table("actuator_disk.csv", {"Tc", "eta"});
  flight::Setup setup = support::light_model();
  setup.launch.height_m = 1e-9;
  const double weight = support::weight_N(setup);
  const flight::BestGlide best =
      flight::best_glide(setup.airframe, weight / base::gravity_m_s2, setup.density_kg_m3);
  const double useful_W = weight * best.sink_m_s;
  const double energy_J = rubber::energy_J(setup.motor, setup.motor.breaking_turns, 0);
  for (std::size_t i = 0; i < rows.rows(); ++i) {
    const double loading = rows.column("Tc")[i];
    if (loading == 0) continue;  // an infinite disc
    const double area_m2 =
        useful_W / (0.5 * setup.density_kg_m3 * std::pow(best.speed_m_s, 3) * loading);
    const double diameter_m = std::sqrt(4 * area_m2 / base::pi);
    const double efficiency = flight::duration_bound_s(setup, diameter_m) * useful_W / energy_J;
    EXPECT_NEAR(efficiency, rows.column("eta")[i], 6e-6) << loading;  // printed to five decimals
  }
  EXPECT_NEAR(flight::duration_bound_s(setup, 0) * useful_W / energy_J, 1, 1e-9);
}

}  // namespace
}  // namespace propwright::published
