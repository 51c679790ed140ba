// Axial momentum theory of the actuator disc (Rankine 1865, Froude 1889; textbook formula from
// memory): eta = 2/(1 + sqrt(1 + Tc)), and T^1.5/sqrt(2 rho A) of power at rest. Tabulated in
// actuator_disk.csv.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

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

/// A blade no builder would draw twice: tip 0.05 to 0.35 m, pitch 0.5 to 3 diameters with a twist
/// of its own, any taper, camber up to 8 %, two to four blades.
Blade random_blade(std::mt19937& dice) {
  const auto drawn = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(dice()) / 4294967296.0;
  };
  Blade blade;
  blade.tip_radius_m = drawn(0.05, 0.35);
  blade.blades = 2 + static_cast<int>(dice() % 3);
  const double pitch = drawn(0.5, 3), wash_rad = drawn(-0.15, 0.15);
  const double root_chord = drawn(0.03, 0.35), tip_chord = drawn(0.03, 0.35);
  const double camber = drawn(0, 0.08), hub = drawn(0.08, 0.3);
  for (int i = 0; i <= 8; ++i) {
    const double x = hub + (1 - hub) * i / 8.0;
    blade.rows.push_back({x * blade.tip_radius_m,
                          (root_chord + (tip_chord - root_chord) * x) * blade.tip_radius_m,
                          std::atan(pitch / (pi * x)) + wash_rad * (x - 0.7), camber});
  }
  return blade;
}

// No blade with drag and swirl does as well as the ideal disc of its thrust, whichever factor is
// used: no tolerance.
TEST(ActuatorDisk, NoRandomBladeWithDragReachesTheIdealEfficiency) {
  std::mt19937 dice(1929);
  int propelling = 0;
  double closest = 1;
  for (int i = 0; i < 200; ++i) {
    const Blade blade = random_blade(dice);
    const double rev_per_s = 1 + static_cast<double>(dice() % 1000) / 125;
    for (const TipFactor factor : {TipFactor::exact, TipFactor::prandtl, TipFactor::none}) {
      const auto rotor =
          Rotor::make(blade, section::Family::thin_arc(), {.tip_factor = factor}).value();
      for (const double j : {0.2, 0.5, 0.9, 1.4, 2.0, 2.6}) {
        const Condition condition{j * rev_per_s * rotor.diameter_m(), rev_per_s};
        const auto result = rotor.solve(condition, air);
        ASSERT_TRUE(result) << base::to_line(result.error().front());
        const Coefficients c =
            coefficients(result->loads, condition, rotor.diameter_m(), air.density_kg_m3);
        if (!c.efficiency_defined) continue;
        ++propelling;
        const double ideal = 2 / (1 + std::sqrt(1 + 8 / pi * c.ct / (j * j)));
        EXPECT_LT(c.efficiency, ideal) << "blade " << i << ", J " << j;
        closest = std::min(closest, ideal - c.efficiency);
      }
    }
  }
  EXPECT_GT(propelling, 1000);
  RecordProperty("propelling", propelling);
  RecordProperty("closest", std::to_string(closest));
}

}  // namespace
}  // namespace propwright::rotor
