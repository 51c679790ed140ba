#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "random_setup.h"

namespace propwright::flight {
namespace {

flight::Setup by_margin(double margin_m, double roof_m = 12) {
  flight::Setup setup = support::light_model();
  setup.hall.roof_m = roof_m;
  setup.launch.turns.reset();
  setup.launch.margin_m = margin_m;
  setup.launch.relaxation_per_s = 1e-4;
  return setup;
}

TEST(LaunchByMargin, TopIsTheMarginUnderTheRoofWithinAMillimetre) {
  for (const double margin : {0.2, 0.5, 1.0, 3.0, 8.0}) {
    const auto flight = fly(by_margin(margin));
    ASSERT_TRUE(flight) << margin;
    EXPECT_NEAR(flight->top_height_m, 12 - margin, 0.001) << margin;
    EXPECT_EQ(flight->touches, 0) << margin;
  }
}

// A bench test with a hump: just past launch the motor pulls harder than at launch. The flight
// flies with that torque and does not hold the launch torque instead.
TEST(LaunchByTurns, HumpInTheTorqueIsFlown) {
  flight::Setup flat = by_margin(0.5, 1000);
  flat.launch.margin_m.reset();
  flat.launch.turns = 0.8 * flat.motor.breaking_turns;
  flight::Setup humped = flat;
  flat.motor.batch.unwinding =
      base::MonotoneCurve::through({0, 0.5, 0.7, 0.8, 0.9, 1}, {0.25, 0.25, 0.25, 0.25, 0.5, 1})
          .value();
  humped.motor.batch.unwinding =
      base::MonotoneCurve::through({0, 0.5, 0.7, 0.8, 0.9, 1}, {0.25, 0.25, 0.33, 0.25, 0.5, 1})
          .value();
  const auto without = fly(flat), with = fly(humped);
  ASSERT_TRUE(without && with);
  EXPECT_GT(with->top_height_m, without->top_height_m + 0.1);
  EXPECT_GT(with->history[with->history.size() / 10].torque_Nm, 1.02 * with->launch_torque_Nm);
}

RC_GTEST_PROP(LaunchByMargin, TopIsRightForAnyModelThatCanReachIt, ()) {
  const support::StandIn propeller = random_propeller();
  flight::Setup setup = random_setup(propeller);
  setup.hall.roof_m = setup.launch.height_m + between(2, 20);
  setup.launch.turns.reset();
  setup.launch.margin_m = between(0.1, 1.5);
  const auto flight = fly(setup);
  RC_PRE(flight.has_value());
  const double wanted = setup.hall.roof_m - *setup.launch.margin_m;
  RC_ASSERT(flight->top_height_m < wanted + 0.001);
  // Where it stays lower, all the turns that were wound were too few.
  RC_ASSERT(flight->top_height_m > wanted - 0.001 || !flight->warnings.empty());
}

TEST(LaunchByMargin, LargerMarginBacksOffMoreTurns) {
  double before = 1e9;
  for (const double margin : {0.2, 0.5, 1.0, 3.0, 8.0}) {
    const auto flight = fly(by_margin(margin));
    ASSERT_TRUE(flight);
    EXPECT_LT(flight->turns_at_launch, before) << margin;
    before = flight->turns_at_launch;
  }
}

TEST(LaunchByMargin, MarginThatLeavesNoClimbIsAProblem) {
  const auto flight = fly(by_margin(11));
  ASSERT_FALSE(flight);
  EXPECT_EQ(flight.error().front().field, "launch.margin");
  EXPECT_EQ(flight.error().front().value, "11.00 m");
  EXPECT_NE(flight.error().front().allowed.find("10.50 m"), std::string::npos);
}

TEST(LaunchByMargin, RoofOutOfReachLaunchesFullyWoundAndSaysSo) {
  const auto flight = fly(by_margin(0.5, 900));
  ASSERT_TRUE(flight);
  EXPECT_NEAR(flight->turns_at_launch / flight->turns_wound, 1, 1e-12);
  ASSERT_FALSE(flight->warnings.empty());
  EXPECT_NE(flight->warnings.front().find("without backing off"), std::string::npos);
}

TEST(LaunchByMargin, HalfAMetreIsTakenWhenNothingIsSaid) {
  flight::Setup setup = by_margin(0.5);
  setup.launch.margin_m.reset();
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  EXPECT_NEAR(flight->top_height_m, 11.5, 0.001);
}

TEST(LaunchByTurns, TurnsAreThoseAsked) {
  flight::Setup setup = support::light_model();
  setup.launch.turns = 700;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  EXPECT_EQ(flight->turns_at_launch, 700);
  EXPECT_EQ(flight->turns_wound, setup.launch.wound_turns);
  EXPECT_NEAR(flight->launch_torque_Nm / rubber::torque_Nm(setup.motor, 700), 1, 1e-12);
}

TEST(LaunchByTorque, TorqueAtLaunchIsThatAskedAfterTheWait) {
  flight::Setup setup = support::light_model();
  setup.launch.turns.reset();
  setup.launch.torque_Nm = 1.4e-3;
  setup.launch.relaxation_per_s = 3e-4;
  setup.launch.wait_s = 90;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  EXPECT_NEAR(flight->launch_torque_Nm / 1.4e-3, 1, 1e-9);  // turns are found to 1e-10
}

TEST(LaunchByTorque, MoreThanTheWoundMotorGivesIsAProblem) {
  flight::Setup setup = support::light_model();
  setup.launch.turns.reset();
  setup.launch.torque_Nm = 1.01 * rubber::torque_Nm(setup.motor, setup.launch.wound_turns);
  const auto flight = fly(setup);
  ASSERT_FALSE(flight);
  EXPECT_EQ(flight.error().front().field, "launch.torque");
}

// A fully wound motor may give more torque than the propeller can take; what counts is the launch.
TEST(LaunchByTorque, TorqueOfTheFullyWoundMotorDoesNotMatter) {
  support::StandIn small;
  small.loading = 0.03;
  flight::Setup setup = support::light_model(small);
  setup.motor = support::motor_of(rubber::default_batch().value(), 12e-6, 0.0014);
  setup.launch.wound_turns = 0.95 * setup.motor.breaking_turns;
  ASSERT_FALSE(equilibrium(setup, rubber::torque_Nm(setup.motor, setup.launch.wound_turns)));
  setup.launch.turns.reset();
  setup.launch.torque_Nm = 1.0e-3;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight) << base::to_line(flight.error().front());
  EXPECT_NEAR(flight->launch_torque_Nm / 1.0e-3, 1, 1e-9);
}

}  // namespace
}  // namespace propwright::flight
