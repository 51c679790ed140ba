#include "propwright/bench/blade.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "bench_test_tools.h"
#include "propwright/base/constants.h"

namespace propwright::bench {
namespace {

using testing::HasSubstr;
using FindingSubject = Finding::Subject;

double helix_angle(double pitch_m, double radius_m) {
  return std::atan(pitch_m / (2 * base::pi * radius_m));
}

BladeReading helical(double pitch_m, const std::vector<double>& radii_m, double turn_rad = 0) {
  BladeReading b{.id = "A", .length_m = 0.23, .mass_kg = 75 * mg};
  for (const double r : radii_m) b.angles.push_back({r, helix_angle(pitch_m, r) + turn_rad});
  return b;
}

const Finding& finding_of(const PairFigures& p, FindingSubject subject) {
  return p.findings.at(static_cast<std::size_t>(subject));
}

Instruments fine() {
  Instruments i;
  i.scale_resolution_kg = 0.1 * mg;
  i.rule_resolution_m = 0.1e-3;
  i.angle_resolution_rad = 0.1 * degree;
  return i;
}

TEST(Blade, PitchOfAHelixIsTheSameEverywhereAndItsDoubtLeastAt45Degrees) {
  const double pitch = 0.7;
  const auto f = blade_figures(helical(pitch, {0.2, 0.05, 0.7 / (2 * base::pi)}), {}).value();
  ASSERT_EQ(f.stations.size(), 3u);
  EXPECT_LT(f.stations[0].radius_m, f.stations[1].radius_m);
  for (const auto& s : f.stations) EXPECT_NEAR(s.pitch_m.value, pitch, 1e-12);
  EXPECT_NEAR(f.mean_pitch_m.value, pitch, 1e-12);
  // dP/P = 2 dtheta/sin(2 theta): 0.5 degrees in steps are 0.144 degrees, 0.50 % at 45; the rule's
  // 0.144 mm in 111 adds 0.13 %.
  EXPECT_NEAR(f.stations[1].pitch_m.sigma / pitch, std::hypot(0.00504, 0.00130), 2e-5);
  EXPECT_LT(f.stations[1].pitch_m.sigma, f.stations[0].pitch_m.sigma);
  EXPECT_LT(f.stations[1].pitch_m.sigma, f.stations[2].pitch_m.sigma);
}

TEST(Blade, CamberIsTheTemplatesPlusTheDaylight) {
  BladeReading b = helical(0.7, {0.05, 0.15});
  b.cambers = {{.radius_m = 0.1, .chord_m = 0.05, .template_camber = 0.06, .gap_m = 0.5e-3},
               {.radius_m = 0.15, .chord_m = 0.04, .template_camber = 0.06, .gap_m = -0.4e-3}};
  const auto f = blade_figures(b, {}).value();
  EXPECT_NEAR(f.cambers[0].camber.value, 0.07, 1e-15);
  EXPECT_NEAR(f.cambers[1].camber.value, 0.05, 1e-15);
}

TEST(Blade, MomentIsMassTimesCentreOrAsWeighedAtTheTip) {
  BladeReading b = helical(0.7, {0.05, 0.15});
  EXPECT_FALSE(blade_figures(b, {}).value().moment_kgm.has_value());
  b.centre_of_mass_m = 0.1;
  EXPECT_NEAR(blade_figures(b, {}).value().moment_kgm->value, 7500e-9, 1e-15);
  b.centre_of_mass_m.reset();
  b.moment_kgm = 7500e-9;
  const Figure weighed = *blade_figures(b, {}).value().moment_kgm;
  // The scale's 0.41 mg at 230 mm outweighs the rule's 0.14 mm under 33 mg.
  EXPECT_NEAR(weighed.sigma, std::hypot(0.408e-6 * 0.23, 7500e-9 / 0.23 * 0.144e-3), 2e-10);
}

TEST(Blade, AngleFromTheShaftIsAskedAbout) {
  BladeReading b = helical(0.7, {0.1, 0.2});
  for (auto& a : b.angles) a.angle_rad = 15 * degree;
  const auto f = blade_figures(b, {}).value();
  ASSERT_EQ(f.questions.size(), 1u);  // 0.366 diameters at 0.1 m, 0.73 at 0.2 m
  EXPECT_THAT(f.questions[0].message, HasSubstr("disc plane"));
}

TEST(Blade, BadMembersAreNamed) {
  BladeReading b = helical(0.7, {0.05, 0.05, 0.5});
  b.centre_of_mass_m = 0.3;
  b.moment_kgm = 1;
  const auto f = blade_figures(b, {});
  ASSERT_FALSE(f.has_value());
  std::vector<std::string> fields;
  for (const auto& p : f.error()) fields.push_back(p.field);
  EXPECT_THAT(fields, testing::ElementsAre("angles[1].radius_m", "angles[2].radius_m",
                                           "centre_of_mass_m", "moment_kgm", "moment_kgm"));
  EXPECT_EQ(blade_figures({.length_m = 0.2, .mass_kg = mg}, {}).error()[0].field, "angles");
}

TEST(Pair, EqualBladesMatchInEverything) {
  BladeReading a = helical(0.7, {0.05, 0.1, 0.15, 0.2});
  a.centre_of_mass_m = 0.1;
  a.cambers = {{.radius_m = 0.1, .chord_m = 0.05, .template_camber = 0.06}};
  const auto p = pair_figures(a, a, fine(), {}).value();
  for (const auto& f : p.findings) EXPECT_EQ(f.verdict, Verdict::matched) << f.sentence;
  EXPECT_EQ(p.verdict, Verdict::matched);
}

TEST(Pair, TurnedBladeIsToBeSetBackByJustThatTurn) {
  const std::vector<double> radii{0.05, 0.1, 0.15, 0.2};
  const auto p =
      pair_figures(helical(0.7, radii), helical(0.7, radii, -3 * degree), fine(), {}).value();
  EXPECT_NEAR(p.reset.turn_rad.value, 3 * degree, 1e-14);
  EXPECT_NEAR(p.angle_difference_rad.sigma, 0.1 * degree / std::sqrt(12.0) * std::sqrt(2 / 4.0),
              1e-12);
  EXPECT_NEAR(p.twist_difference_rad_m.value, 0, 1e-12);
  EXPECT_NEAR(p.reset.left_over_rad, 0, 1e-14);
  EXPECT_NEAR(p.reset.set_angle_rad.value, helix_angle(0.7, p.reset.gauge_radius_m), 1e-14);
  EXPECT_NEAR(p.reset.gauge_radius_m, 0.1, 1e-15);  // 45 degrees less 3 is nearest there
  EXPECT_EQ(finding_of(p, FindingSubject::angle).verdict, Verdict::re_set);
  EXPECT_THAT(finding_of(p, FindingSubject::angle).sentence, HasSubstr("turn B up by 3 degrees"));
  EXPECT_EQ(finding_of(p, FindingSubject::twist).verdict, Verdict::matched);
  EXPECT_EQ(p.verdict, Verdict::re_set);
}

TEST(Pair, AnotherPitchIsNotCuredByATurn) {
  const std::vector<double> radii{0.05, 0.1, 0.15, 0.2};
  const auto p = pair_figures(helical(0.7, radii), helical(0.95, radii), fine(), {}).value();
  EXPECT_EQ(finding_of(p, FindingSubject::twist).verdict, Verdict::re_form);
  EXPECT_GT(p.reset.left_over_rad, 1.2 * degree);
  double sum = 0;
  for (const auto& s : p.stations) sum += s.after_turn_rad;
  EXPECT_NEAR(sum, 0, 1e-14);  // the mean turn leaves differences of both signs
  EXPECT_EQ(p.verdict, Verdict::re_form);
}

RC_GTEST_PROP(Pair, HelicalBladesReadAtOtherRadiiStillAgree, ()) {
  const auto radius = [] { return *rc::gen::inRange(60, 100) * 1e-3; };
  const BladeReading a = helical(0.7, {0.05, radius(), 0.15, 0.21});
  const BladeReading b = helical(0.7, {0.055, radius(), 0.2});
  const auto p = pair_figures(a, b, {}, {}).value();
  // Between stations the pitch runs straight, and a helix has one pitch.
  for (const auto& s : p.stations) {
    RC_ASSERT(std::abs(s.difference_rad.value) < 1e-12);
    RC_ASSERT(s.radius_m >= 0.055 - 1e-9);
    RC_ASSERT(s.radius_m <= 0.2 + 1e-9);
  }
}

RC_GTEST_PROP(Pair, SwappingTheBladesTurnsEverySign, ()) {
  const auto pick = [](int low, int high) { return *rc::gen::inRange(low, high); };
  BladeReading a = helical(0.6 + 0.001 * pick(0, 200), {0.05, 0.1, 0.2});
  BladeReading b = helical(0.7, {0.06, 0.1, 0.2}, 0.001 * pick(-60, 60));
  a.mass_kg = pick(60, 90) * mg;
  a.centre_of_mass_m = 0.09, b.centre_of_mass_m = pick(80, 110) * 1e-3;
  const auto p = pair_figures(a, b, {}, {}).value(), q = pair_figures(b, a, {}, {}).value();
  RC_ASSERT(std::abs(p.angle_difference_rad.value + q.angle_difference_rad.value) < 1e-14);
  RC_ASSERT(std::abs(p.twist_difference_rad_m.value + q.twist_difference_rad_m.value) < 1e-11);
  RC_ASSERT(std::abs(p.imbalance_kgm->value + q.imbalance_kgm->value) < 1e-20);
  RC_ASSERT(std::abs(p.mass_difference_kg.value + q.mass_difference_kg.value) < 1e-20);
  RC_ASSERT(p.verdict == q.verdict);
}

RC_GTEST_PROP(Pair, TrimLevelsThePropellerEitherWay, ()) {
  const auto pick = [](int low, int high) { return *rc::gen::inRange(low, high); };
  BladeReading a = helical(0.7, {0.05, 0.2}), b = a;
  a.mass_kg = pick(60, 90) * mg, b.mass_kg = pick(60, 90) * mg;
  a.centre_of_mass_m = pick(80, 110) * 1e-3, b.centre_of_mass_m = pick(80, 110) * 1e-3;
  const auto p = pair_figures(a, b, {}, {}).value();
  const double moment_a = a.mass_kg * *a.centre_of_mass_m,
               moment_b = b.mass_kg * *b.centre_of_mass_m;
  const TrimAdvice& t = *p.trim;
  const double added = t.add_mass_kg.value * t.radius_m,
               sanded = t.sand_off_mass_kg.value * t.radius_m;
  const bool light_b = t.light == Blade::b;
  RC_ASSERT(std::abs(moment_a + (light_b ? 0 : added) - moment_b - (light_b ? added : 0)) < 1e-18);
  RC_ASSERT(std::abs(moment_a - (light_b ? sanded : 0) - moment_b + (light_b ? 0 : sanded)) <
            1e-18);
  const double after = a.mass_kg - b.mass_kg + (light_b ? -1 : 1) * t.add_mass_kg.value;
  RC_ASSERT(std::abs(t.mass_difference_after_kg.value - after) < 1e-18);
}

TEST(Pair, LevelTestOutranksTheMoments) {
  BladeReading a = helical(0.7, {0.05, 0.2}), b = a;
  a.centre_of_mass_m = 0.11, b.centre_of_mass_m = 0.1;
  PairOptions options;
  options.level_test =
      LevelTest{.light = Blade::a, .mass_kg = 3 * mg, .radius_m = 0.15, .least_moment_kgm = 0.1e-6};
  const auto p = pair_figures(a, b, fine(), options).value();
  EXPECT_NEAR(p.imbalance_kgm->value, -0.45e-6, 1e-18);
  EXPECT_EQ(p.trim->light, Blade::a);
  EXPECT_GT(p.imbalance_kgm->sigma, 0.1e-6 / std::sqrt(3.0));
  EXPECT_NEAR(p.trim->radius_m, 0.7 * 0.23, 1e-12);
  EXPECT_EQ(finding_of(p, FindingSubject::balance).verdict, Verdict::trim);
}

TEST(Pair, CoarseGaugeCannotTellNearTheToleranceAndSaysHowManyReadingsWould) {
  const std::vector<double> radii{0.1, 0.2};
  const auto p =
      pair_figures(helical(0.7, radii), helical(0.7, radii, -0.8 * degree), {}, {}).value();
  const Finding& f = finding_of(p, FindingSubject::angle);
  EXPECT_EQ(f.verdict, Verdict::cannot_tell);
  // sigma 0.144 degrees; 1.645 x 0.144/0.2 = 1.187, squared 1.41.
  EXPECT_EQ(f.readings_to_settle, 2);
  EXPECT_EQ(finding_of(p, FindingSubject::balance).verdict, Verdict::not_measured);
  EXPECT_EQ(finding_of(p, FindingSubject::camber).verdict, Verdict::not_measured);
}

TEST(Pair, LongerAndHeavierAreToBeTrimmed) {
  BladeReading a = helical(0.7, {0.05, 0.2}), b = a;
  b.length_m += 1.2e-3;
  b.mass_kg = 80 * mg;
  const auto p = pair_figures(a, b, fine(), {}).value();
  EXPECT_THAT(finding_of(p, FindingSubject::length).sentence, HasSubstr("shorten B at the root"));
  EXPECT_EQ(finding_of(p, FindingSubject::mass).verdict, Verdict::trim);
  EXPECT_NEAR(p.mass_difference_share.value, -5 / 77.5, 1e-12);
}

TEST(Pair, StatedDoubtOfTheTurnIsTheScatterOfReadings) {
  const Instruments i;
  Noise noise(5);
  Scatter turn, slope;
  Figure stated_turn, stated_slope;
  for (int k = 0; k < 4000; ++k) {
    BladeReading a = helical(0.7, {0.06, 0.1, 0.2}), b = helical(0.7, {0.06, 0.14, 0.2}, -0.03);
    for (auto& r : a.angles) r.angle_rad = noise.read(r.angle_rad, i.angle_resolution_rad);
    for (auto& r : b.angles) r.angle_rad = noise.read(r.angle_rad, i.angle_resolution_rad);
    const auto p = pair_figures(a, b, i, {}).value();
    turn.add(p.angle_difference_rad.value);
    slope.add(p.twist_difference_rad_m.value);
    stated_turn = p.angle_difference_rad, stated_slope = p.twist_difference_rad_m;
  }
  EXPECT_NEAR(turn.sigma() / stated_turn.sigma, 1, 0.045);  // 4,000 draws: 1.1 %, four times that
  EXPECT_NEAR(slope.sigma() / stated_slope.sigma, 1, 0.045);
}

TEST(Pair, BladesWithoutCommonRadiiAndBadOptionsAreRefused) {
  const auto apart = pair_figures(helical(0.7, {0.05, 0.1}), helical(0.7, {0.15, 0.2}), {}, {});
  ASSERT_FALSE(apart.has_value());
  EXPECT_EQ(apart.error()[0].field, "b.angles");
  PairOptions options;
  options.tolerances.length_m = 0;
  options.trim_radius_m = 1;
  BladeReading bad = helical(0.7, {0.05, 0.1});
  bad.mass_kg = -1;
  const auto p = pair_figures(bad, helical(0.7, {0.05, 0.2}), {}, options);
  ASSERT_FALSE(p.has_value());
  std::vector<std::string> fields;
  for (const auto& e : p.error()) fields.push_back(e.field);
  EXPECT_THAT(fields, testing::ElementsAre("a.mass_kg", "options.tolerances.length_m",
                                           "options.trim_radius_m"));
}

}  // namespace
}  // namespace propwright::bench
