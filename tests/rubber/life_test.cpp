// A motor's life, and half and quarter motors.
#include <gmock/gmock.h>

#include <cmath>

#include "propwright/rubber/history.h"
#include "propwright/rubber/partial.h"

namespace propwright::rubber {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

MotorLife life() {
  // kappa L/sqrt A = 10 * 0.3/2e-3 = 1500 breaking turns when fresh.
  return {.section_m2 = 4e-6, .fresh_length_m = 0.3, .turns_constant = 10};
}

TEST(MotorHistory, ThreeRisingWindsWithASettledLengthBreakIn) {
  MotorLife motor = life();
  motor.winds = {{.turns = 600},
                 {.turns = 900, .rested_length_m = 0.308},
                 {.turns = 1100, .rested_length_m = 0.309}};
  motor.rested_length_m = 0.3093;
  const auto h = motor_history(motor).value();
  EXPECT_EQ(h.state, MotorState::broken_in);
  EXPECT_NEAR(h.length_gain, 0.031, 1e-9);
  EXPECT_NEAR(h.breaking_turns, 1546.5, 1e-9);
  EXPECT_NEAR(h.shares[2], 1100 / (10 * 0.309 / 2e-3), 1e-12);
  EXPECT_EQ(h.turns_total, 2600);
}

TEST(MotorHistory, GrowingLengthIsStillBreakingIn) {
  MotorLife motor = life();
  motor.winds = {{.turns = 600},
                 {.turns = 900, .rested_length_m = 0.303},
                 {.turns = 1100, .rested_length_m = 0.306}};
  motor.rested_length_m = 0.310;
  EXPECT_EQ(motor_history(motor).value().state, MotorState::breaking_in);
  EXPECT_EQ(motor_history(life()).value().state, MotorState::fresh);
}

TEST(MotorHistory, RestAfterAFullWindIsTakenAgainstADay) {
  MotorLife motor = life();
  motor.winds = {{.turns = 1400}};
  motor.rest_s = 6 * 3600;
  const auto h = motor_history(motor).value();
  EXPECT_EQ(h.full_winds, 1);
  EXPECT_NEAR(h.recovered.value(), 0.25, 1e-12);
  EXPECT_THAT(h.notes, Contains(HasSubstr("24 h")));
}

// A test wind in between is no full wind, and takes nothing of the rest.
TEST(MotorHistory, RestIsCountedFromTheLastFullWind) {
  MotorLife motor = life();
  motor.winds = {{.turns = 1400}, {.turns = 400, .rest_before_s = 300}};
  motor.rest_s = 600;
  EXPECT_NEAR(motor_history(motor).value().recovered.value(), 900.0 / 86400, 1e-12);
  motor.winds.push_back({.turns = 1400, .rest_before_s = 600});
  EXPECT_NEAR(motor_history(motor).value().recovered.value(), 600.0 / 86400, 1e-12);
  motor.winds = {{.turns = 400}};
  motor.rest_s.reset();
  EXPECT_EQ(motor_history(motor).value().recovered, 1.0);
}

TEST(MotorHistory, ImpossibleTurnsAreNamedByTheirWind) {
  MotorLife motor = life();
  motor.winds = {{.turns = 900}, {.turns = 2100}};
  const auto wrong = motor_history(motor);
  ASSERT_FALSE(wrong);
  EXPECT_EQ(wrong.error()[0].field, "winds[1].turns");
}

TEST(PartialMotor, SpacerMakesUpTheMissingMassAndLength) {
  const auto half = partial_setup({4e-6, 0.4, 1.5e-3, 2000}, 0.5).value();
  EXPECT_NEAR(half.mass_kg + half.spacer_mass_kg, 1.5e-3, 1e-18);
  EXPECT_NEAR(half.length_m + half.spacer_length_m, 0.4, 1e-15);
  EXPECT_NEAR(half.breaking_turns, 1000, 1e-9);
  EXPECT_FALSE(partial_setup({4e-6, 0.4, 1.5e-3, 2000}, 1.2));
}

TEST(PartialMotor, HalfMotorDoublesTheRiseAndReadsHighByTheLaunchHeight) {
  const auto full = full_from_partial({.share = 0.5,
                                       .duration_s = 300,
                                       .top_height_m = 4.5,
                                       .launch_height_m = 1.5,
                                       .sink_m_s = 0.5,
                                       .relaxation_per_s = 0})
                        .value();
  EXPECT_NEAR(full.top_height_m, 7.5, 1e-12);  // builders' archive: double the rise
  EXPECT_NEAR(full.duration_s, 600 - 3, 1e-12);
  EXPECT_TRUE(full.sound);
}

TEST(PartialMotor, QuartersReadHighByThriceAsMuchAndAreInGreaterDoubt) {
  const PartialFlight half{
      .share = 0.5, .duration_s = 300, .top_height_m = 3, .sink_m_s = 0.4, .relaxation_per_s = 0};
  PartialFlight quarter = half;
  quarter.share = 0.25;
  quarter.duration_s = 150;
  const auto a = full_from_partial(half).value(), b = full_from_partial(quarter).value();
  EXPECT_NEAR(b.reads_high_s / a.reads_high_s, 3, 1e-12);
  EXPECT_GT(b.duration_sigma_s, a.duration_sigma_s);
  EXPECT_THAT(b.notes, Contains(HasSubstr("Quarters")));
  // Archive, 2006: a scatter of 5 to 10 s on quarters is 20 to 40 s on full motors.
  quarter.duration_sigma_s = 5;
  EXPECT_GT(full_from_partial(quarter).value().duration_sigma_s, 20);
}

TEST(PartialMotor, RoofSpoilsTheScalingAndIsSaid) {
  const PartialFlight high{.share = 0.5, .duration_s = 300, .top_height_m = 6, .roof_m = 8.5};
  const auto full = full_from_partial(high).value();
  EXPECT_FALSE(full.sound);
  EXPECT_THAT(full.notes, Contains(HasSubstr("over the roof")));
}

TEST(PartialMotor, ATimeThatNobodyFliesIsQuestionedInsteadOfGivenWithAHugeDoubt) {
  PartialFlight slip{.share = 0.5, .duration_s = 7200, .top_height_m = 6};
  const auto full = full_from_partial(slip).value();
  EXPECT_FALSE(full.sound);
  EXPECT_THAT(full.notes, Contains(HasSubstr("look at the time, its unit and the share")));
  EXPECT_GT(full.duration_sigma_s, 0.3 * full.duration_s);
  // Half an hour is flown, also where the torque slackens fast.
  slip.duration_s = 900;
  EXPECT_TRUE(full_from_partial(slip).value().sound);
  slip.relaxation_per_s = 0.0006;
  EXPECT_FALSE(full_from_partial(slip).value().sound);
}

}  // namespace
}  // namespace propwright::rubber
