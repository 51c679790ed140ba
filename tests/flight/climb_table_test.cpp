// Steady states shared by flights.
#include "propwright/flight/climb_table.h"

#include <gtest/gtest.h>

#include "stand_in.h"

namespace propwright::flight {
namespace {

flight::Setup sharing_setup(double turns) {
  flight::Setup setup = support::light_model();
  setup.launch.turns = turns * setup.launch.wound_turns;
  return setup;
}

TEST(ClimbTable, OneForMoreTorqueFliesAsAFlightsOwn) {
  const flight::Setup most = sharing_setup(0.9);
  const auto table = ClimbTable::make(most, greatest_torque_Nm(most));
  ASSERT_TRUE(table);
  for (const double turns : {0.6, 0.7, 0.8}) {
    const flight::Setup setup = sharing_setup(turns);
    const auto own = fly(setup);
    const auto shared = fly(setup, {.keep_history = true, .table = &*table});
    ASSERT_TRUE(own && shared);
    // The splines' fourth order, over pieces up to half as wide again.
    EXPECT_NEAR(shared->duration_s / own->duration_s, 1, 1e-5) << turns;
    EXPECT_NEAR(shared->top_height_m / own->top_height_m, 1, 1e-5) << turns;
    EXPECT_NEAR(shared->turns_left, own->turns_left, 1e-5 * own->turns_at_launch) << turns;
  }
}

TEST(ClimbTable, OneThatDoesNotReachIsNotUsed) {
  const flight::Setup setup = sharing_setup(0.9);
  const auto small = ClimbTable::make(setup, 0.5 * greatest_torque_Nm(setup));
  ASSERT_TRUE(small);
  EXPECT_EQ(fly(setup, {.keep_history = true, .table = &*small})->duration_s,
            fly(setup)->duration_s);
}

TEST(ClimbTable, BetweenTwoDensitiesIsNearlyOneMadeThere) {
  const flight::Setup at = sharing_setup(0.9);
  const double torque = greatest_torque_Nm(at);
  const auto in = [&](double ratio) {
    flight::Setup setup = at;
    setup.density_kg_m3 *= ratio;
    setup.propeller = setup.propeller.in_density(setup.density_kg_m3);
    return ClimbTable::make(setup, torque).value();
  };
  const ClimbTable between = in(1).between(in(1.01), 0.5), there = in(1.005);
  for (const double part : {0.2, 0.5, 0.9}) {
    const auto a = between.at(part * torque), b = there.at(part * torque);
    // Speeds go with the root of the density: 3/8 of the square of half the step is left out.
    EXPECT_NEAR(a.speed_m_s / b.speed_m_s, 1, 2e-5);
    EXPECT_NEAR(a.rev_per_s / b.rev_per_s, 1, 2e-5);
    EXPECT_NEAR(a.climb_m_s, b.climb_m_s, 2e-5 * b.speed_m_s);
  }
}

TEST(FlyOptions, WithoutHistoryTheNumbersAreTheSame) {
  const flight::Setup setup = sharing_setup(0.8);
  const auto with = fly(setup), without = fly(setup, {.keep_history = false, .table = nullptr});
  ASSERT_TRUE(with && without);
  EXPECT_FALSE(with->history.empty());
  EXPECT_TRUE(without->history.empty());
  EXPECT_EQ(without->duration_s, with->duration_s);
  EXPECT_EQ(without->launch_torque_Nm, with->launch_torque_Nm);
  EXPECT_EQ(without->top_height_m, with->top_height_m);
  EXPECT_EQ(without->energy.residual, with->energy.residual);
}

}  // namespace
}  // namespace propwright::flight
