#include <gtest/gtest.h>

#include <cmath>

#include "stand_in.h"

namespace propwright::flight {
namespace {

/// The light model under a 10 m roof with a motor of this section.
flight::Setup with_section(double section_m2) {
  support::StandIn propeller;
  propeller.section_drag = 0.002;
  propeller.standing_drag = 0.01;
  flight::Setup setup = support::light_model(propeller);
  setup.hall.roof_m = 10;
  setup.motor = support::motor_of(rubber::default_batch().value(), section_m2, 0.0014);
  setup.launch.wound_turns = 0.9 * setup.motor.breaking_turns;
  setup.launch.turns.reset();
  setup.launch.margin_m = 0.5;
  return setup;
}

TEST(MotorMatch, FliesNoWorseThanThePresentMotor) {
  for (const double section : {2.5e-6, 3.5e-6, 5e-6}) {
    const flight::Setup setup = with_section(section);
    const auto present = fly(setup);
    const auto match = match_motor(setup, 0, 0.9);
    ASSERT_TRUE(present && match);
    // The scan's nearest section is the present one within 7 %: an optimum flat to second order.
    EXPECT_GE(match->flight.duration_s, 0.999 * present->duration_s) << section;
  }
}

TEST(MotorMatch, KeepsTheMassOfTheRubber) {
  const flight::Setup setup = with_section(3.5e-6);
  const auto match = match_motor(setup, 0, 0.9);
  ASSERT_TRUE(match);
  EXPECT_NEAR(match->section_m2 * match->length_m * 930, 0.0014, 1e-9);
  const auto lighter = match_motor(setup, 0.0010, 0.9);
  ASSERT_TRUE(lighter);
  EXPECT_NEAR(lighter->section_m2 * lighter->length_m * 930, 0.0010, 1e-9);
  EXPECT_LT(lighter->flight.duration_s, match->flight.duration_s);
}

// The best section does not depend on where the search starts, so a motor too thick is advised
// thinner and longer, one too thin thicker and shorter.
TEST(MotorMatch, LeadsFromTooThickAndTooThinToTheSameSection) {
  const auto from_thick = match_motor(with_section(5e-6), 0, 0.9);
  const auto from_thin = match_motor(with_section(2.5e-6), 0, 0.9);
  ASSERT_TRUE(from_thick && from_thin);
  EXPECT_FALSE(from_thick->at_limit);
  EXPECT_FALSE(from_thin->at_limit);
  EXPECT_LT(from_thick->section_m2, 5e-6);
  EXPECT_GT(from_thin->section_m2, 2.5e-6);
  // The durations are equal to 0.2 %; the place of a flat optimum is less sharp.
  EXPECT_NEAR(from_thick->flight.duration_s / from_thin->flight.duration_s, 1, 2e-3);
  EXPECT_NEAR(from_thick->section_m2 / from_thin->section_m2, 1, 0.1);
}

TEST(MotorMatch, OptimumOutOfTheSearchIsSaid) {
  const auto match = match_motor(with_section(16e-6), 0, 0.9);
  ASSERT_TRUE(match);
  EXPECT_TRUE(match->at_limit);
}

}  // namespace
}  // namespace propwright::flight
