// What a builder expects when one thing changes (common practice), with the stand-in propeller.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "random_setup.h"

namespace propwright::flight {
namespace {

/// A motor of this energy per mass and the same torque curve at every share of its turns: more
/// energy is more turns.
rubber::Motor longer_lasting(const rubber::Motor& motor, double factor) {
  rubber::Motor result = motor;
  result.batch.energy_J_per_kg *= factor;
  result.batch.turns_constant *= factor;
  result.breaking_turns *= factor;
  return result;
}

RC_GTEST_PROP(Trend, MoreEnergyAtEqualLaunchTorqueFliesLonger, ()) {
  const support::StandIn propeller = random_propeller();
  flight::Setup setup = random_setup(propeller);
  const auto flight = fly(setup);
  const double share = *setup.launch.turns / setup.motor.breaking_turns;
  const double more = between(1.02, 1.5);
  setup.motor = longer_lasting(setup.motor, more);
  setup.launch.wound_turns *= more;
  setup.launch.turns = share * setup.motor.breaking_turns;
  const auto longer = fly(setup);
  RC_PRE(flight.has_value() && longer.has_value());
  RC_ASSERT(std::abs(longer->launch_torque_Nm / flight->launch_torque_Nm - 1) < 1e-9);
  RC_ASSERT(longer->duration_s > flight->duration_s);
}

TEST(Trend, RelaxationShortensTheFlight) {
  flight::Setup setup = support::light_model();
  double before = fly(setup)->duration_s;
  for (const double relaxation : {1e-4, 3e-4, 1e-3}) {
    setup.launch.relaxation_per_s = relaxation;
    const auto flight = fly(setup);
    ASSERT_TRUE(flight);
    EXPECT_LT(flight->duration_s, before);
    EXPECT_GT(flight->energy.motor_loss, 0);
    before = flight->duration_s;
  }
}

TEST(Trend, LongerWaitCostsTorqueAndTime) {
  flight::Setup setup = support::light_model();
  setup.launch.relaxation_per_s = 1.7e-4;
  setup.launch.wait_s = 10;
  const auto brisk = fly(setup);
  setup.launch.wait_s = 600;
  const auto slow = fly(setup);
  ASSERT_TRUE(brisk && slow);
  EXPECT_LT(slow->launch_torque_Nm, brisk->launch_torque_Nm);
  EXPECT_LT(slow->duration_s, brisk->duration_s);
  EXPECT_NEAR(slow->launch_torque_Nm / brisk->launch_torque_Nm, std::exp(-1.7e-4 * 590), 1e-9);
}

TEST(Trend, FrictionShortensTheFlight) {
  flight::Setup setup = support::light_model();
  setup.friction_fraction = 0;
  double before = fly(setup)->duration_s;
  for (const double friction : {0.02, 0.05, 0.15}) {
    setup.friction_fraction = friction;
    const auto flight = fly(setup);
    ASSERT_TRUE(flight);
    EXPECT_LT(flight->duration_s, before);
    before = flight->duration_s;
  }
}

TEST(Trend, SpacerIsDeadWeight) {
  flight::Setup setup = support::light_model();
  const auto bare = fly(setup);
  setup.motor.spacer_mass_kg = 0.0005;
  const auto loaded = fly(setup);
  ASSERT_TRUE(bare && loaded);
  EXPECT_LT(loaded->duration_s, bare->duration_s);
}

// A blade that stands is dragged broadside; the one that turns slips through: the glide with the
// smaller thrust loss lasts longer, whichever it is.
TEST(Trend, GlideAfterTheMotorFollowsTheDragOfThePropellerStandingOrTurning) {
  for (const double standing : {0.0, 0.01}) {
    support::StandIn propeller;
    propeller.section_drag = 0.002;
    propeller.standing_drag = standing;
    flight::Setup setup = support::light_model(propeller);
    setup.freewheels = false;
    const auto stands = fly(setup);
    setup.freewheels = true;
    const auto turns = fly(setup);
    ASSERT_TRUE(stands && turns);
    const Instant& standing_end = stands->history.back();
    const Instant& turning_end = turns->history.back();
    EXPECT_EQ(standing_end.rev_per_s, 0);
    EXPECT_GT(turning_end.rev_per_s, 0.5);
    // In the stand-in the turning blade has the drag of the standing one and the section drag's
    // besides: CT* = -s against -s + t (beta_0 - beta) cos(beta) with beta above beta_0.
    const double w2 = standing_end.speed_m_s * standing_end.speed_m_s;
    EXPECT_NEAR(standing_end.thrust_N, -standing * 0.5 * 1.2 * w2 * base::pi * 0.19 * 0.19, 1e-9);
    EXPECT_LT(turning_end.thrust_N, standing_end.thrust_N);
    EXPECT_LT(turns->duration_s, stands->duration_s);
    EXPECT_EQ(turns->top_height_m, stands->top_height_m);
  }
}

bool warns_of(const Flight& flight, const std::string& words) {
  for (const std::string& warning : flight.warnings) {
    if (warning.find(words) != std::string::npos) return true;
  }
  return false;
}

TEST(Warning, DeadStickIsSaidOnlyWhenTheMotorRunsOut) {
  flight::Setup setup = support::light_model();
  const auto short_motor = fly(setup);
  ASSERT_TRUE(short_motor);
  EXPECT_EQ(short_motor->turns_left, 0);
  EXPECT_TRUE(warns_of(*short_motor, "dead stick"));
  setup.motor = support::motor_of(rubber::default_batch().value(), 3e-6, 0.0014);
  setup.launch.wound_turns = 0.9 * setup.motor.breaking_turns;
  setup.launch.turns = 0.8 * setup.motor.breaking_turns;
  const auto long_motor = fly(setup);
  ASSERT_TRUE(long_motor);
  EXPECT_GT(long_motor->turns_left, 1);
  EXPECT_FALSE(warns_of(*long_motor, "dead stick"));
}

TEST(Warning, ModelThatDoesNotClimbIsSaid) {
  flight::Setup setup = support::light_model();
  setup.launch.turns = 0.03 * setup.motor.breaking_turns;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  EXPECT_TRUE(warns_of(*flight, "does not climb"));
  EXPECT_EQ(flight->top_height_m, setup.launch.height_m);
}

TEST(Cruise, IsLevelFlight) {
  const flight::Setup setup = support::light_model();
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  const auto level = equilibrium(setup, flight->cruise_torque_Nm);
  ASSERT_TRUE(level);
  EXPECT_NEAR(level->climb_m_s, 0, 1e-5);  // of the table's spline
  EXPECT_NEAR(flight->cruise_speed_m_s / level->speed_m_s, 1, 1e-5);
  EXPECT_NEAR(flight->cruise_rev_per_s / level->rev_per_s, 1, 1e-5);
  EXPECT_NEAR(flight->cruise_thrust_N / level->drag_N, 1, 1e-3);
}

TEST(MeanRevs, AreTurnsUsedOverDuration) {
  const auto flight = fly(support::light_model());
  ASSERT_TRUE(flight);
  EXPECT_NEAR(flight->mean_rev_per_s,
              (flight->turns_at_launch - flight->turns_left) / flight->duration_s, 1e-12);
}

}  // namespace
}  // namespace propwright::flight
