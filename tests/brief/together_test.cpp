// The checks that span fields.
#include <fmt/format.h>
#include <gmock/gmock.h>

#include "sample_job.h"

namespace propwright::brief {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

std::string sample_and(const std::string& more) {
  return std::string(sample) + more;
}

std::string without_angles() {
  return sample_with("pitch = \"660 mm\"\n", "");
}

std::string without_blade() {
  std::string text = without_angles();
  return text.erase(text.find("[propeller.outline]"));
}

std::string row(const char* table, const std::string& radius, const char* rest) {
  return fmt::format("[[propeller.{}]]\nradius = \"{}\"\n{}\n", table, radius, rest);
}
std::string station(const std::string& radius) {
  return row("station", radius, "chord = \"40 mm\"\nangle = \"45 deg\"");
}
std::string measured_angle(const std::string& radius) {
  return row("measured_angle", radius, "angle = \"45 deg\"");
}
std::string measured_chord(const std::string& radius) {
  return row("measured_chord", radius, "chord = \"40 mm\"");
}

TEST(Together, ReducedPressureNeedsPressureAndAltitude) {
  EXPECT_EQ(only_line(sample_and("[air]\npressure_is_reduced = true\npressure = \"1010 hPa\"\n")),
            "sample.toml:24: air.altitude: a pressure reduced to sea level needs pressure and "
            "altitude; add air.altitude or drop air.pressure_is_reduced");
}

TEST(Together, WingNeedsChordOrAreaAndNotBoth) {
  EXPECT_THAT(only_line(sample_with("wing_chord = \"130 mm\"\n", "")),
              HasSubstr("add model.wing_chord or model.wing_area"));
  EXPECT_THAT(only_line(sample_with("wing_chord", "wing_area = \"600 cm2\"\nwing_chord")),
              HasSubstr("model.wing_area: model.wing_chord is given too"));
}

TEST(Together, ChordLargerThanSpanIsRefused) {
  EXPECT_THAT(only_line(sample_with("\"460 mm\"", "\"100 mm\"")),
              HasSubstr("the mean chord of 130 mm is larger than the span of 100 mm"));
}

TEST(Together, AtMostOneWayToDecideTheLaunch) {
  EXPECT_THAT(only_line(sample_and("[launch]\nmargin = \"1 m\"\nturns = 900\n")),
              HasSubstr("launch.turns: launch.margin is given too"));
  EXPECT_THAT(only_line(sample_and("[launch]\nwind_fraction = 0.8\nwound_turns = 900\n")),
              HasSubstr("launch.wound_turns: launch.wind_fraction is given too"));
}

TEST(Together, LaunchTurnsAreNotMoreThanWound) {
  EXPECT_THAT(only_line(sample_and("[launch]\nturns = 900\nwound_turns = 800\n")),
              HasSubstr("more turns at launch than were wound"));
}

TEST(Together, LaunchIsBelowRoofAndMargin) {
  EXPECT_THAT(only_line(sample_and("[launch]\nmargin = \"7 m\"\n")),
              HasSubstr("allowed: below 6.5 m"));
  EXPECT_THAT(only_line(sample_with("\"8 m\"", "\"2 m\"") + "[launch]\nheight = \"2.5 m\"\n"),
              HasSubstr("launch.height: the launch is not below the roof"));
}

TEST(Together, BenchTestNeedsTheTestedMotorAndReplacesTheNumbers) {
  const std::string test =
      "[rubber]\ntest_file = \"t.csv\"\ntest_section = \"5 mm2\"\ntest_length = \"300 mm\"\n";
  EXPECT_THAT(only_line(sample_and(test)), HasSubstr("rubber.test_mass: a bench test needs"));
  EXPECT_THAT(only_line(sample_and(test + "test_mass = \"1.4 g\"\nenergy = \"12 kJ/kg\"\n")),
              HasSubstr("rubber.energy: the bench test in rubber.test_file states this"));
  EXPECT_TRUE(read_job(sample_and(test + "test_mass = \"1.4 g\"\n"), "").has_value());
  EXPECT_THAT(only_line(sample_and("[rubber]\ntest_mass = \"1.4 g\"\n")),
              HasSubstr("there is no test this belongs to"));
}

TEST(Together, MotorNeedsWidthOrMass) {
  EXPECT_THAT(only_line(sample_with("strip_width = \"2.3 mm\"\n", "")),
              HasSubstr("add motor.strip_width or motor.mass"));
}

TEST(Together, BladeIsStatedExactlyOnce) {
  EXPECT_THAT(only_line(without_angles()), HasSubstr("nothing states the angles of the blade"));
  EXPECT_THAT(only_line(sample_and(measured_angle("100 mm"))),
              HasSubstr("propeller.measured_angle: propeller.pitch is given too"));
}

TEST(Together, PitchNeedsAnOutline) {
  EXPECT_THAT(only_line(sample_with("widest_chord = \"58 mm\"\n", "")),
              HasSubstr("propeller.outline.widest_chord: the outline of the blade needs"));
}

TEST(Together, StationsStateTheOutlineThemselves) {
  const std::string rows = station("30 mm") + station("100 mm") + station("190 mm");
  EXPECT_TRUE(read_job(without_blade() + rows, "").has_value());
  EXPECT_THAT(problems_of(without_angles() + rows)[0].message, "the stations state the outline");
}

TEST(Together, StationsIncreaseAndEndAtTheTip) {
  EXPECT_THAT(only_line(without_blade() + station("30 mm") + station("25 mm") + station("190 mm")),
              HasSubstr("propeller.station[2].radius: the radii do not increase (given: 25 mm)"));
  EXPECT_THAT(only_line(without_blade() + station("30 mm") + station("100 mm") + station("180 mm")),
              HasSubstr("the last station is not the tip (given: 180 mm); allowed: 190 mm"));
  EXPECT_THAT(only_line(without_blade() + station("30 mm") + station("100 mm") + station("200 mm")),
              HasSubstr("the radius is outside the tip"));
  EXPECT_THAT(only_line(without_blade() + station("30 mm") + station("190 mm")),
              HasSubstr("the table is too short for a blade"));
}

TEST(Together, OneAngleReadingWithOutlineIsEnough) {
  const Job job = read_sample(without_angles() + measured_angle("100 mm"));
  EXPECT_EQ(job.propeller.source, BladeSource::measured);
}

TEST(Together, ChordReadingsNeedThreeRowsAndAngles) {
  const std::string two = measured_chord("30 mm") + measured_chord("100 mm");
  EXPECT_THAT(only_line(without_blade() + measured_angle("100 mm") + two),
              HasSubstr("too few readings for an outline"));
  EXPECT_TRUE(
      read_job(without_blade() + measured_angle("100 mm") + two + measured_chord("180 mm"), "")
          .has_value());
  EXPECT_THAT(problems_of(sample_and(two + measured_chord("180 mm")))[0].message,
              "chord readings belong to angle readings");
}

TEST(Together, OutlineFitsIntoTheBlade) {
  EXPECT_THAT(only_line(sample_with("\"30 mm\"", "\"195 mm\"")),
              HasSubstr("the root is not inside the tip (given: 195 mm); allowed: below 190 mm"));
  EXPECT_THAT(only_line(sample_and("widest_at = 0.12\n")), HasSubstr("allowed: 0.158 to 1"));
  EXPECT_THAT(only_line(sample_with("\"16 mm\"", "\"60 mm\"")),
              HasSubstr("the root is wider than the widest chord"));
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "\"100 mm\"")),
              HasSubstr("the blade is wider than it is long"));
}

TEST(Together, GaugeRadiusIsOnTheBlade) {
  EXPECT_THAT(only_line(sample_with("pitch =", "gauge_radius = \"20 mm\"\npitch =")),
              HasSubstr("allowed: 30 mm to 190 mm"));
}

TEST(Together, SparIsWholeAndEndsOnTheBlade) {
  const std::string sizes =
      "[propeller.spar]\nroot_width = \"2 mm\"\nroot_depth = \"2 mm\"\ntip_width = \"1 mm\"\n";
  EXPECT_THAT(
      only_line(sample_and(sizes + "length = \"150 mm\"\n")),
      HasSubstr("propeller.spar.tip_depth: the spar has a length but this size is missing"));
  EXPECT_THAT(only_line(sample_and(sizes + "tip_depth = \"1 mm\"\n")),
              HasSubstr("the spar has sizes but no length"));
  EXPECT_THAT(only_line(sample_and(sizes + "tip_depth = \"1 mm\"\nlength = \"190 mm\"\n"
                                           "root_radius = \"5 mm\"\n")),
              HasSubstr("the spar ends outside the tip (given: 190 mm); allowed: up to 185 mm"));
}

TEST(Together, TestsOfTheBladeAreWholeAndOnIt) {
  const std::string twist = "[propeller.flex]\ntwist_mass = \"0.2 g\"\ntwist_arm = \"20 mm\"\n";
  EXPECT_THAT(only_line(sample_and(twist + "twist_radius = \"150 mm\"\n")),
              HasSubstr("propeller.flex.twist_angle: the twist test of the blade is incomplete"));
  EXPECT_THAT(only_line(sample_and(twist + "twist_radius = \"0.2 m\"\ntwist_angle = \"5 deg\"\n")),
              HasSubstr("the place lies outside the tip"));
}

TEST(Together, BuiltUpBladeNeedsACovering) {
  EXPECT_THAT(only_line(sample_and("[propeller.blade]\nkind = \"built-up\"\n")),
              HasSubstr("a built-up blade needs a covering"));
}

TEST(Together, ModelOutsideItsRulesIsNoProblem) {
  EXPECT_TRUE(read_job(sample_and("[rules]\nleast_mass = \"5 g\"\n"), "").has_value());
}

TEST(Together, BrokenFieldDoesNotBreedMoreProblems) {
  // The diameter cannot be read, so nothing is said of roots, tips and spars.
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "\"38 zm\"")),
              StartsWith("sample.toml:17: propeller.diameter: "));
  EXPECT_EQ(problems_of(sample_with("\"380 mm\"", "\"38 zm\"")).size(), 1u);
}

}  // namespace
}  // namespace propwright::brief
