// Motors cut from a batch: energy balance and similarity for every size, inverse, temperature.
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rubber/rubber.h"

namespace propwright::rubber {
namespace {

using ::testing::HasSubstr;

/// A number between two, evenly spread.
rc::Gen<double> between(double low, double high) {
  return rc::gen::map(rc::gen::inRange(0, 1000001),
                      [=](int n) { return low + (high - low) * n / 1e6; });
}

Motor motor_of(double section_m2, double length_m, double mass_kg = 0,
               double temperature_K = 293.15) {
  return make_motor(default_batch().value(), section_m2, length_m, mass_kg, 0, temperature_K)
      .value();
}

RC_GTEST_PROP(Motor, EnergyFromBreakingTurnsIsEnergyPerMassTimesMass, ()) {
  const double section = *between(2e-7, 2e-5), length = *between(0.05, 0.6);
  const double mass_factor = *between(0.95, 1.05);
  const double mass = 930 * section * length * mass_factor;
  const auto motor = motor_of(section, length, mass);
  // An identity; only rounding of about ten operations.
  RC_ASSERT(std::abs(energy_J(motor, motor.breaking_turns, 0) / (12000 * mass) - 1) < 1e-12);
}

RC_GTEST_PROP(Motor, TorqueGoesWithSectionTo1Point5AtEqualShareOfBreakingTurns, ()) {
  const double section = *between(2e-7, 2e-5), factor = *between(0.3, 3), x = *between(0, 1);
  const auto one = motor_of(section, 0.25);
  const auto other = motor_of(factor * section, 0.25);
  const double expected = torque_Nm(one, x * one.breaking_turns) * std::pow(factor, 1.5);
  const double got = torque_Nm(other, x * other.breaking_turns);
  RC_ASSERT(std::abs(got - expected) <= 1e-12 * expected);
}

TEST(Motor, GreatestTorqueIsThatOfAHumpOnTheWay) {
  Motor motor = motor_of(3e-6, 0.25);
  motor.batch.unwinding =
      base::MonotoneCurve::through({0, 0.2, 0.5, 0.7, 1}, {0, 0.3, 0.9, 0.6, 1}).value();
  const double at_break = torque_Nm(motor, motor.breaking_turns);
  EXPECT_NEAR(greatest_torque_Nm(motor, 0.7 * motor.breaking_turns), 0.9 * at_break,
              1e-12 * at_break);
  EXPECT_EQ(greatest_torque_Nm(motor, 0.4 * motor.breaking_turns),
            torque_Nm(motor, 0.4 * motor.breaking_turns));
  EXPECT_EQ(greatest_torque_Nm(motor, motor.breaking_turns), at_break);
}

RC_GTEST_PROP(Motor, BreakingTurnsGoWithLengthOverRootOfSection, ()) {
  const double section = *between(2e-7, 2e-5), a = *between(0.3, 3), b = *between(0.3, 3);
  const auto one = motor_of(section, 0.2);
  const auto other = motor_of(a * section, b * 0.2);
  RC_ASSERT(std::abs(other.breaking_turns / one.breaking_turns - b / std::sqrt(a)) <
            1e-12 * b / std::sqrt(a));
}

RC_GTEST_PROP(Motor, TorqueAtATurnsDoesNotDependOnLengthAtEqualShare, ()) {
  const double length = *between(0.05, 0.6), x = *between(0, 1);
  const auto one = motor_of(2e-6, 0.25);
  const auto other = motor_of(2e-6, length);
  const double expected = torque_Nm(one, x * one.breaking_turns);
  RC_ASSERT(std::abs(torque_Nm(other, x * other.breaking_turns) - expected) <= 1e-12 * expected);
}

RC_GTEST_PROP(Motor, TurnsAtTorqueInvertsTorque, ()) {
  const auto motor = motor_of(2e-6, 0.25);
  const double turns = *between(0.001, 1) * motor.breaking_turns;
  const auto found = turns_at_torque(motor, torque_Nm(motor, turns), motor.breaking_turns);
  RC_ASSERT(found.has_value());
  RC_ASSERT(std::abs(*found - turns) < 1e-10 * motor.breaking_turns);
}

RC_GTEST_PROP(Motor, EnergyAddsUpOverParts, ()) {
  const auto motor = motor_of(3e-6, 0.3);
  const double a = *between(0, 1) * motor.breaking_turns, b = *between(0, 1) * motor.breaking_turns;
  const double whole = energy_J(motor, motor.breaking_turns, 0);
  const double sum =
      energy_J(motor, motor.breaking_turns, a) + energy_J(motor, a, b) + energy_J(motor, b, 0);
  RC_ASSERT(std::abs(sum - whole) < 1e-13 * whole);
}

TEST(Motor, EnergyIsTheIntegralOfTorqueOverAngle) {
  const auto motor = motor_of(2e-6, 0.25);
  const int steps = 200000;
  double sum = 0;
  for (int i = 0; i < steps; ++i) {
    sum += torque_Nm(motor, (i + 0.5) / steps * motor.breaking_turns);
  }
  const double angle_rad = 2 * base::pi * motor.breaking_turns;
  // Midpoint rule: error h^2/24 times the change of slope, below 1e-9 here.
  EXPECT_NEAR(sum / steps * angle_rad / energy_J(motor, motor.breaking_turns, 0), 1, 1e-9);
}

TEST(Motor, TorqueIsZeroBelowZeroTurnsAndHeldBeyondBreaking) {
  const auto motor = motor_of(2e-6, 0.25);
  EXPECT_EQ(torque_Nm(motor, -1), 0);
  EXPECT_EQ(winding_torque_Nm(motor, -1), 0);
  EXPECT_EQ(torque_Nm(motor, 2 * motor.breaking_turns), torque_Nm(motor, motor.breaking_turns));
  EXPECT_EQ(energy_J(motor, 100, -50), energy_J(motor, 100, 0));
}

TEST(Motor, WindingTakesAboutHalfAgainTheEnergyReturned) {
  const auto motor = motor_of(2e-6, 0.25);
  EXPECT_GT(winding_torque_Nm(motor, 0.5 * motor.breaking_turns),
            1.4 * torque_Nm(motor, 0.5 * motor.breaking_turns));
  EXPECT_DOUBLE_EQ(winding_torque_Nm(motor, motor.breaking_turns),
                   torque_Nm(motor, motor.breaking_turns));
}

TEST(Motor, TenDegreesWarmerGivesEightPointOnePercentMoreTorqueAndEnergy) {
  const auto cool = motor_of(2e-6, 0.25, 0, 293.15);
  const auto warm = motor_of(2e-6, 0.25, 0, 303.15);
  EXPECT_NEAR(torque_Nm(warm, 700) / torque_Nm(cool, 700), 1.081, 1e-12);
  EXPECT_NEAR(energy_J(warm, 700, 0) / energy_J(cool, 700, 0), 1.081, 1e-12);
}

TEST(Motor, TemperatureFactorIsHeldAndNoted) {
  auto batch = default_batch().value();
  batch.temperature_coefficient_per_K = 0.02;
  const auto hot = make_motor(batch, 2e-6, 0.25, 0, 0, 318.15).value();
  const auto plain = make_motor(batch, 2e-6, 0.25, 0, 0, 293.15).value();
  EXPECT_NEAR(torque_Nm(hot, 700) / torque_Nm(plain, 700), 1.2, 1e-12);
  EXPECT_THAT(hot.notes, ::testing::ElementsAre(HasSubstr("beyond where it was read"),
                                                HasSubstr("held within")));
  EXPECT_TRUE(plain.notes.empty());
}

TEST(Motor, MassFarFromSectionTimesLengthIsNotedAndScalesTorque) {
  const double cut = 930 * 2e-6 * 0.25;
  const auto plain = motor_of(2e-6, 0.25);
  const auto heavy = motor_of(2e-6, 0.25, 1.2 * cut);
  EXPECT_NEAR(plain.mass_kg, cut, 1e-18);
  EXPECT_NEAR(torque_Nm(heavy, 500) / torque_Nm(plain, 500), 1.2, 1e-12);
  EXPECT_THAT(heavy.notes, ::testing::ElementsAre(HasSubstr("120 %")));
  EXPECT_TRUE(motor_of(2e-6, 0.25, 1.09 * cut).notes.empty());
}

TEST(Motor, LoopLengthGivesTheMassBack) {
  const auto batch = default_batch().value();
  const double length = loop_length_m(batch, 0.4e-3, 1.2e-6);
  EXPECT_NEAR(make_motor(batch, 1.2e-6, length, 0, 0, 293.15)->mass_kg, 0.4e-3, 1e-17);
}

TEST(Motor, TurnsAtTorqueStaysWithinTheLimit) {
  const auto motor = motor_of(2e-6, 0.25);
  const double torque = torque_Nm(motor, 0.9 * motor.breaking_turns);
  const auto found = turns_at_torque(motor, torque, 0.8 * motor.breaking_turns);
  ASSERT_FALSE(found);
  EXPECT_EQ(found.error()[0].kind, base::Kind::no_solution);
  EXPECT_EQ(*turns_at_torque(motor, 0, motor.breaking_turns), 0);
  EXPECT_FALSE(turns_at_torque(motor, -1e-4, motor.breaking_turns));
}

TEST(Motor, TurnsAtTorqueTakesTheLargestOfSeveral) {
  auto batch = default_batch().value();
  // A measured curve with a dip: torque 0.35 of the greatest is passed three times.
  batch.unwinding =
      base::MonotoneCurve::through({0, 0.2, 0.4, 0.6, 1}, {0, 0.4, 0.3, 0.5, 1}).value();
  const auto motor = make_motor(batch, 2e-6, 0.25, 0, 0, 293.15).value();
  const double torque = 0.35 * torque_Nm(motor, motor.breaking_turns);
  const double found = turns_at_torque(motor, torque, motor.breaking_turns).value();
  EXPECT_GT(found, 0.4 * motor.breaking_turns);
  EXPECT_NEAR(torque_Nm(motor, found) / torque, 1, 1e-9);
  const double lower = turns_at_torque(motor, torque, 0.39 * motor.breaking_turns).value();
  EXPECT_GT(lower, 0.2 * motor.breaking_turns);
  EXPECT_LT(lower, 0.4 * motor.breaking_turns);
}

TEST(Motor, EveryMeasureOutOfRangeIsNamed) {
  const auto motor = make_motor(default_batch().value(), 2, 25, -1, 0, 20);
  ASSERT_FALSE(motor);
  ASSERT_EQ(motor.error().size(), 4U);
  EXPECT_EQ(motor.error()[0].field, "section_m2");
  EXPECT_EQ(motor.error()[1].field, "length_m");
  EXPECT_EQ(motor.error()[2].field, "mass_kg");
  EXPECT_EQ(motor.error()[3].field, "temperature_K");
}

}  // namespace
}  // namespace propwright::rubber
