// The blade made from pitch, stations or readings.
#include <gmock/gmock.h>

#include <cmath>

#include "parts.h"
#include "propwright/base/constants.h"
#include "sample_job.h"

namespace propwright::brief {
namespace {

constexpr double degree = base::degree_rad;

Propeller helical() {
  Propeller p;
  p.diameter_m = 0.38;
  p.pitch_m = 0.66;
  p.root_radius_m = 0.03;
  p.root_chord_m = 0.016;
  p.widest_chord_m = 0.058;
  return p;
}

double angle_at(const BladeGeometry& made, double radius_m) {
  std::vector<double> r, angle;
  for (const auto& row : made.blade.rows) {
    r.push_back(row.radius_m);
    angle.push_back(row.angle_rad);
  }
  return base::MonotoneCurve::through(r, angle).value().value(radius_m);
}

TEST(Blade, PitchWithoutFormPitchIsAHelix) {
  const auto made = make_blade(helical()).value();
  ASSERT_GE(made.blade.rows.size(), 40u);
  for (const auto& row : made.blade.rows) {
    // tan(theta) = P/(2 pi r); only rounding is left.
    EXPECT_NEAR(std::tan(row.angle_rad) * 2 * base::pi * row.radius_m, 0.66, 1e-12);
  }
  EXPECT_EQ(made.reset_turn_rad, 0);
  EXPECT_DOUBLE_EQ(made.form.pitch_m, made.set_pitch_m);
}

TEST(Blade, GaugeStandsAtThe45DegreeStationOfTheSetPitch) {
  const auto made = make_blade(helical()).value();
  EXPECT_NEAR(made.gauge_radius_m, 0.66 / (2 * base::pi), 1e-12);
  EXPECT_NEAR(made.gauge_angle_rad, 45 * degree, 1e-12);
  EXPECT_NEAR(made.radius_45_m, made.gauge_radius_m, 1e-12);
}

TEST(Blade, GaugeFallsBackTo70PercentWhere45DegreesIsOffTheBlade) {
  Propeller p = helical();
  p.pitch_m = 1.3;  // 45 degrees at 207 mm, outside the tip
  const auto made = make_blade(p).value();
  EXPECT_DOUBLE_EQ(made.gauge_radius_m, 0.7 * 0.19);
  EXPECT_EQ(made.radius_45_m, 0);
  EXPECT_NEAR(made.set_pitch_m, 1.3, 1e-12);
}

TEST(Blade, FormPitchTurnsEveryStationByTheSameAngle) {
  Propeller p = helical();
  p.form_pitch_m = 0.56;
  p.gauge_radius_m = 0.12;
  const auto made = make_blade(p).value();
  const double turn_rad =
      std::atan(0.66 / (2 * base::pi * 0.12)) - std::atan(0.56 / (2 * base::pi * 0.12));
  EXPECT_NEAR(made.reset_turn_rad, turn_rad, 1e-12);
  EXPECT_NEAR(made.set_pitch_m, 0.66, 1e-12);
  EXPECT_EQ(made.form.pitch_m, 0.56);
  for (const auto& row : made.blade.rows) {
    EXPECT_NEAR(row.angle_rad, std::atan(0.56 / (2 * base::pi * row.radius_m)) + turn_rad, 1e-12);
  }
  // Where the turned blade stands at 45 degrees: P = 2 pi r tan(45 deg - turn).
  EXPECT_NEAR(made.radius_45_m, 0.56 / (2 * base::pi * std::tan(45 * degree - turn_rad)), 1e-12);
}

TEST(Blade, StationsAreTakenAsTheyAre) {
  Propeller p;
  p.diameter_m = 0.38;
  p.source = BladeSource::stations;
  p.stations = {{0.03, 0.02, 70 * degree, {}},
                {0.10, 0.05, 46 * degree, 0.05},
                {0.15, 0.05, 35 * degree, {}},
                {0.19, 0, 29 * degree, {}}};
  const auto made = make_blade(p).value();
  ASSERT_EQ(made.blade.rows.size(), 4u);
  EXPECT_EQ(made.blade.rows[1].angle_rad, 46 * degree);
  EXPECT_EQ(made.blade.rows[1].camber, 0.05);
  EXPECT_EQ(made.blade.rows[0].camber, p.camber);
  EXPECT_EQ(made.outline.front().radius_m, 0.03);
  EXPECT_EQ(made.outline.back().radius_m, 0.19);
  EXPECT_NEAR(angle_at(made, made.radius_45_m), 45 * degree, 1e-9);
  EXPECT_NEAR(made.outline[20].lead_m + made.outline[20].trail_m, made.outline[20].chord_m, 1e-15);
}

TEST(Blade, OneReadingMakesAHelixThroughIt) {
  Propeller p = helical();
  p.source = BladeSource::measured;
  p.pitch_m.reset();
  p.measured_angles = {{0.1, 45 * degree}};
  const auto made = make_blade(p).value();
  for (const auto& row : made.blade.rows) {
    EXPECT_NEAR(form::local_pitch_m(row.angle_rad, row.radius_m), 2 * base::pi * 0.1, 1e-12);
  }
  EXPECT_THAT(made.notes, testing::Contains(testing::HasSubstr("taken for a true helix")));
}

TEST(Blade, ReadingsAreMetAndPitchIsHeldOutsideThem) {
  Propeller p = helical();
  p.source = BladeSource::measured;
  p.pitch_m.reset();
  p.measured_angles = {{0.07, 55 * degree}, {0.10, 45 * degree}, {0.16, 30 * degree}};
  const auto made = make_blade(p).value();
  // The readings are rows of the blade: only rounding is left.
  EXPECT_NEAR(angle_at(made, 0.10), 45 * degree, 1e-12);
  EXPECT_NEAR(angle_at(made, 0.16), 30 * degree, 1e-12);
  const auto& tip = made.blade.rows.back();
  EXPECT_NEAR(form::local_pitch_m(tip.angle_rad, tip.radius_m),
              form::local_pitch_m(30 * degree, 0.16), 1e-12);
}

TEST(Blade, ChordReadingsAreMetAndTheTipIsRounded) {
  Propeller p = helical();
  p.source = BladeSource::measured;
  p.pitch_m.reset();
  p.measured_angles = {{0.1, 45 * degree}};
  p.measured_chords = {{0.03, 0.02}, {0.1, 0.055}, {0.17, 0.04}};
  const auto made = make_blade(p).value();
  EXPECT_DOUBLE_EQ(made.outline.front().chord_m, 0.02);
  EXPECT_EQ(made.outline.back().chord_m, 0);
  EXPECT_EQ(made.blade.hub_radius_m, 0.03);
  EXPECT_THAT(made.notes, testing::Contains(testing::HasSubstr("rounded off")));
}

TEST(Blade, NoUsableAngleAtTheGaugeIsAProblem) {
  Propeller p;
  p.diameter_m = 0.38;
  p.source = BladeSource::stations;
  p.stations = {
      {0.03, 0.02, 100 * degree, {}}, {0.10, 0.05, 95 * degree, {}}, {0.19, 0.01, 92 * degree, {}}};
  const auto made = make_blade(p);
  ASSERT_FALSE(made.has_value());
  EXPECT_EQ(made.error().front().field, "propeller.gauge_radius");
}

}  // namespace
}  // namespace propwright::brief
