// Helix arithmetic against figures printed for builders.
//  - Station of 45 degrees at P/(2 pi): common practice.
//  - "pitch-gauge note": a published note on a pitch gauge, r45 of a 24 cm propeller at four P/D,
//    and a builder's article of 2003: a 45-degree triangle at 3 in gives 18.8 in.
//  - Tables marked "computed": worked out by hand calculator from the helix, to the digits shown.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/form.h"

namespace propwright::form {
namespace {

constexpr double inch_m = 0.0254;

double degrees(double angle_rad) {
  return angle_rad / base::degree_rad;
}

TEST(PitchGauge, FortyFiveDegreeStationIsPitchOverTwoPi) {
  EXPECT_NEAR(degrees(blade_angle_rad(1.0, 1.0 / (2 * base::pi))), 45, 1e-13);
  // 45-degree triangle at 3 in: 18.8 in, three digits (2 pi 3 = 18.85).
  EXPECT_NEAR(local_pitch_m(base::pi / 4, 3 * inch_m) / inch_m, 18.8, 0.05);
}

TEST(PitchGauge, FortyFiveDegreeStationsOfThePitchGaugeNote) {
  const double pitch_over_diameter[] = {1.5, 1.7, 2.0, 2.2}, r45_m[] = {0.057, 0.065, 0.076, 0.084};
  for (int i = 0; i < 4; ++i) {
    EXPECT_NEAR(radius_45deg_m(pitch_over_diameter[i] * 0.24), r45_m[i], 0.0005);  // to 1 mm
  }
}

TEST(PitchGauge, AnglesOfThreeExamplePropellers) {
  struct Example {
    double pitch_in, r45_in, degrees[6];  // at r = 2..7 in; 0: beyond the tip
  };
  const Example examples[] = {{29, 4.62, {66.6, 57.0, 49.1, 42.7, 37.6, 33.4}},
                              {23, 3.66, {61.3, 50.7, 42.5, 36.2, 31.4, 27.6}},
                              {22, 3.50, {60.3, 49.4, 41.2, 35.0, 30.3, 0}}};
  for (const auto& example : examples) {
    EXPECT_NEAR(radius_45deg_m(example.pitch_in * inch_m) / inch_m, example.r45_in, 0.005);
    for (int i = 0; i < 6 && example.degrees[i] > 0; ++i) {
      // Printed to 0.1 degree; half a unit of the last digit.
      EXPECT_NEAR(degrees(blade_angle_rad(example.pitch_in * inch_m, (i + 2) * inch_m)),
                  example.degrees[i], 0.05)
          << "pitch " << example.pitch_in << " in at " << i + 2 << " in";
    }
  }
}

// Error per degree of a gauge, dP/P = 2 d(theta)/sin(2 theta): 3.5 % at 45, 4.6 % at 25 and 65,
// 5.4 % at 20 and 70 degrees (computed, two digits).
TEST(PitchGauge, ErrorOfPitchPerDegree) {
  const double at_degrees[] = {45, 25, 65, 20, 70}, percent[] = {3.5, 4.6, 4.6, 5.4, 5.4};
  for (int i = 0; i < 5; ++i) {
    const double angle = at_degrees[i] * base::degree_rad, half = 0.5 * base::degree_rad;
    const double change = (local_pitch_m(angle + half, 0.1) - local_pitch_m(angle - half, 0.1)) /
                          local_pitch_m(angle, 0.1);
    EXPECT_NEAR(100 * change, percent[i], 0.06) << at_degrees[i];
  }
}

// Block 1.5 in wide, pitch 29 in: heights at r = 2, 3, 5, 7, 9 in (computed).
TEST(PitchGauge, BlockHeightsOfA29InchPropeller) {
  const double radius_in[] = {2, 3, 5, 7, 9}, height_in[] = {3.46, 2.31, 1.38, 0.99, 0.77};
  for (int i = 0; i < 5; ++i) {
    const double angle = blade_angle_rad(29 * inch_m, radius_in[i] * inch_m);
    const auto rows =
        outline_from_chords({radius_in[i] * inch_m}, {1.5 * inch_m / std::cos(angle)}, 0.4);
    const auto station = form_stations({.pitch_m = 29 * inch_m}, rows).front();
    EXPECT_NEAR(station.block_width_m / inch_m, 1.5, 1e-12);
    EXPECT_NEAR(station.block_height_m / inch_m, height_in[i], 0.005) << radius_in[i];
  }
}

// A 22.5 in form set to 26 in at 5 in is turned 4 degrees (computed; to the degree).
TEST(PitchGauge, FormOf22Point5InchesSetTo26IsTurnedFourDegrees) {
  const auto reset = reset_turn(22.5 * inch_m, 26 * inch_m, 5 * inch_m);
  EXPECT_NEAR(degrees(reset.turn_rad), 4, 0.5);
}

// Turning a 30 in helical blade by +4 degrees: 37 in at r = 2 in, 34.5 to 35.3 in from 4 to 9 in.
TEST(PitchGauge, ThirtyInchBladeTurnedFourDegrees) {
  const Reset turned{4 * base::degree_rad};
  const auto pitch_in = [&](double radius_in) {
    const double radius_m = radius_in * inch_m;
    return local_pitch_m(reset_angle_rad(30 * inch_m, turned, radius_m), radius_m) / inch_m;
  };
  EXPECT_NEAR(pitch_in(2), 37, 0.5);
  double least = 100, greatest = 0;
  for (double radius_in = 4; radius_in <= 9; radius_in += 0.125) {
    least = std::min(least, pitch_in(radius_in));
    greatest = std::max(greatest, pitch_in(radius_in));
  }
  EXPECT_NEAR(least, 34.5, 0.05);
  EXPECT_NEAR(greatest, 35.3, 0.05);
}

}  // namespace
}  // namespace propwright::form
