// Axial momentum theory of the actuator disc (Rankine 1865, Froude 1889; textbook formula from
// memory): eta = 2/(1 + sqrt(1 + Tc)), and T^1.5/sqrt(2 rho A) of power at rest. Tabulated in
// actuator_disk.csv.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"
#include "simple_polars.h"
#include "test_data.h"

namespace propwright::rotor {
namespace {

using base::pi;

constexpr Flow air{1.2, 1.81e-5};

/// A rotor near the ideal disc: infinitely many blades, hardly any drag, and so fast that swirl is
/// lost in the axial flow (lambda 0.01). Chord and angle give every annulus the same loading: with
/// small angles dT = 2 pi r rho (V + u) 2u dr for u constant needs sigma cl = 4 (V + u) u/(Omega
/// r)^2.
Rotor near_ideal(double induced_ratio) {
  constexpr double lambda = 0.01;
  const double lift = 0.5;
  Blade blade;
  for (int i = 0; i <= 200; ++i) {
    const double x = 0.02 + 0.98 * i / 200.0;
    const double axial = 1 + induced_ratio;
    const double sine = lambda * axial / std::hypot(lambda * axial, x);
    const double w2 = std::pow(lambda * axial, 2) + x * x;
    // sigma cn = 4 (V + u) u/W^2, cn = cl cos(phi).
    const double cosine = std::sqrt(1 - sine * sine);
    const double solidity = 4 * axial * induced_ratio * lambda * lambda / (w2 * lift * cosine);
    blade.rows.push_back({x, solidity * 2 * pi * x / 2, std::asin(sine) + 0.05, 0});
  }
  return Rotor::make(blade, test::linear_family(6, 0.05 - lift / 6, 1e-5),
                     {.tip_factor = TipFactor::none, .stations = 100})
      .value();
}

// Short of the ideal: swirl takes about lambda^2 ln(1/lambda^2) u/V = 1e-3 u/V, the drag 1e-5/lift/
// lambda = 2e-3, the inner 2 % of the radius 4e-4 of the area. Never above.
TEST(ActuatorDisk, UniformLoadingApproachesTheIdealEfficiency) {
  const auto table = test::published_table("actuator_disk.csv", {"Tc", "CT_over_J2", "eta"});
  for (std::size_t i = 1; i < table.rows(); ++i) {
    const double tc = table.column("Tc")[i];
    const double induced = (std::sqrt(1 + tc) - 1) / 2;
    const Condition condition{1, 1 / (0.01 * 2 * pi)};
    const Result result = near_ideal(induced).solve(condition, air).value();
    const double loading = result.loads.thrust_N / (0.5 * air.density_kg_m3 * pi);
    EXPECT_NEAR(loading / tc, 1, 5e-3) << tc;
    const Coefficients c = coefficients(result.loads, condition, 2, air.density_kg_m3);
    const double ideal = 2 / (1 + std::sqrt(1 + loading));
    EXPECT_LE(c.efficiency, ideal) << tc;
    EXPECT_NEAR(c.efficiency / table.column("eta")[i], 1, 8e-3) << tc;
    // CT/J^2 = Tc pi/8.
    EXPECT_NEAR(c.ct / (c.advance_ratio * c.advance_ratio), loading * pi / 8, 1e-9);
  }
}

// At rest no propeller needs less than T^1.5/sqrt(2 rho A).
TEST(ActuatorDisk, StaticPowerIsAboveTheIdeal) {
  for (const double degrees : {6.0, 10.0, 15.0, 20.0}) {
    Blade blade;
    blade.rows = {{0.05, 0.03, degrees * base::degree_rad, 0},
                  {0.3, 0.03, degrees * base::degree_rad, 0}};
    for (const TipFactor factor : {TipFactor::exact, TipFactor::prandtl, TipFactor::none}) {
      const auto rotor =
          Rotor::make(blade, test::linear_family(6, 0, 0.01), {.tip_factor = factor});
      const Loads loads = rotor->solve({0, 5}, air)->loads;
      ASSERT_GT(loads.thrust_N, 0);
      const double ideal =
          std::pow(loads.thrust_N, 1.5) / std::sqrt(2 * air.density_kg_m3 * pi * 0.09);
      EXPECT_GT(2 * pi * 5 * loads.torque_Nm, ideal) << degrees;
    }
  }
}

}  // namespace
}  // namespace propwright::rotor
