// Identities of the helix, the re-set blade and the arc.
#include <gtest/gtest.h>

#include <cmath>

#include "random_blades.h"

namespace propwright::form {
namespace {

RC_GTEST_PROP(Helix, AngleIs45DegreesAtPitchOverTwoPi, ()) {
  const double pitch = *between(0.05, 2.0);
  RC_ASSERT(std::abs(blade_angle_rad(pitch, radius_45deg_m(pitch)) - base::pi / 4) < 1e-15);
}

RC_GTEST_PROP(Helix, LocalPitchInvertsBladeAngle, ()) {
  const double pitch = *between(-2.0, 2.0), radius = *between(0.005, 0.3);
  // tan(atan(x)) loses digits as x grows: x below 64 here, so 64^2 roundings at the most.
  RC_ASSERT(std::abs(local_pitch_m(blade_angle_rad(pitch, radius), radius) - pitch) < 1e-12);
}

TEST(Helix, NegativePitchGivesTheNegativeAngle) {
  EXPECT_EQ(blade_angle_rad(-0.7, 0.1), -blade_angle_rad(0.7, 0.1));
}

RC_GTEST_PROP(Reset, NoTurnLeavesTheHelix, ()) {
  const double pitch = *between(0.1, 2.0), radius = *between(0.005, 0.3);
  const Reset none = reset_turn(pitch, pitch, *between(0.02, 0.3));
  RC_ASSERT(none.turn_rad == 0);
  RC_ASSERT(reset_angle_rad(pitch, none, radius) == blade_angle_rad(pitch, radius));
}

RC_GTEST_PROP(Reset, BladeHasTheSetPitchAtTheGaugeRadius, ()) {
  const double made = *between(0.3, 1.2), wanted = *between(0.3, 1.2), gauge = *between(0.03, 0.3);
  const Reset reset = reset_turn(made, wanted, gauge);
  const double pitch = local_pitch_m(reset_angle_rad(made, reset, gauge), gauge);
  RC_ASSERT(std::abs(pitch - wanted) < 1e-12);
}

RC_GTEST_PROP(Reset, ThereAndBackIsNoTurn, ()) {
  const double a = *between(0.3, 1.2), b = *between(0.3, 1.2), gauge = *between(0.03, 0.3);
  RC_ASSERT(std::abs(reset_turn(a, b, gauge).turn_rad + reset_turn(b, a, gauge).turn_rad) < 1e-15);
}

TEST(ArcLength, SemicircleIsHalfPiTimesChord) {
  EXPECT_NEAR(arc_length_m(0.05, 0.5), 0.05 * base::pi / 2, 1e-16);
}

TEST(ArcLength, FlatIsTheChordItself) {
  EXPECT_EQ(arc_length_m(0.05, 0), 0.05);
}

TEST(ArcLength, SmallCamberFollowsTheSeries) {
  // phi/sin(phi) with tan(phi/2) = 2h is 1 + 8 h^2/3 - 32 h^4/15 + ...; next term below h^6 * 4.
  for (const double h : {1e-9, 1e-6, 1e-4, 1e-3, 1e-2}) {
    const double series = 1 + 8 * h * h / 3 - 32 * h * h * h * h / 15;
    EXPECT_NEAR(arc_length_m(1, h), series, 4 * std::pow(h, 6) + 3e-16) << h;
  }
}

TEST(ArcLength, AgreesWithRadiusTimesAngle) {
  for (const double h : {0.02, 0.06, 0.10, 0.15}) {
    const double radius = 1 / (8 * h) + h / 2;
    EXPECT_NEAR(arc_length_m(1, h), 2 * radius * std::asin(0.5 / radius), 1e-14) << h;
  }
}

}  // namespace
}  // namespace propwright::form
