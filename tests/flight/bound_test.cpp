#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "random_setup.h"

namespace propwright::flight {
namespace {

RC_GTEST_PROP(Bound, NoFlightOfThePropellerPassesIt, ()) {
  for (int i = 0; i < 3; ++i) {
    const support::StandIn propeller = random_propeller();
    const flight::Setup setup = random_setup(propeller);
    const auto flight = fly(setup);
    if (flight) RC_ASSERT(flight->duration_s <= duration_bound_s(setup, 0));
  }
}

// E = t W w_min - W h without losses in the propeller: t = (E/W + h)/w_min.
TEST(Bound, WithoutLimitOfDiameterItIsEnergyHeightOverLeastSink) {
  const flight::Setup setup = support::light_model();
  const double weight = support::weight_N(setup);
  const BestGlide best =
      best_glide(setup.airframe, weight / base::gravity_m_s2, setup.density_kg_m3);
  const double energy_height_m = 12000 * 0.0014 / weight + setup.launch.height_m;
  EXPECT_NEAR(duration_bound_s(setup, 0) / (energy_height_m / best.sink_m_s), 1, 1e-9);
}

TEST(Bound, SolvesItsOwnEquationForTheIdealDisc) {
  const flight::Setup setup = support::light_model();
  const double weight = support::weight_N(setup);
  const BestGlide best =
      best_glide(setup.airframe, weight / base::gravity_m_s2, setup.density_kg_m3);
  for (const double diameter : {0.1, 0.2, 0.38, 1.0}) {
    const double t = duration_bound_s(setup, diameter);
    const double useful = weight * (best.sink_m_s - setup.launch.height_m / t);
    // Momentum theory another way round: T = 2 rho A v (V + v), shaft power T (V + v).
    const double thrust = useful / best.speed_m_s;
    const double area = base::pi * diameter * diameter / 4;
    const double v = best.speed_m_s;
    const double induced = (-v + std::sqrt(v * v + 2 * thrust / (setup.density_kg_m3 * area))) / 2;
    EXPECT_NEAR(t * thrust * (v + induced) / (12000 * 0.0014), 1, 1e-9) << diameter;
  }
}

TEST(Bound, GrowsWithTheDiameterTowardsTheLosslessOne) {
  const flight::Setup setup = support::light_model();
  double before = 0;
  for (const double diameter : {0.1, 0.2, 0.4, 1.0, 10.0}) {
    const double bound = duration_bound_s(setup, diameter);
    EXPECT_GT(bound, before);
    before = bound;
  }
  EXPECT_LT(before, duration_bound_s(setup, 0));
  // Disc loading falls with the square of the diameter.
  EXPECT_NEAR(before / duration_bound_s(setup, 0), 1, 1e-3);
}

TEST(Bound, DoesNotDependOnThePropellerAtHand) {
  support::StandIn poor;
  poor.ideal_efficiency = 0.3;
  EXPECT_EQ(duration_bound_s(support::light_model(poor), 0.4),
            duration_bound_s(support::light_model(), 0.4));
}

}  // namespace
}  // namespace propwright::flight
