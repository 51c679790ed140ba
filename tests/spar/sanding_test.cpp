// Sanding advice, tried out: the advised cut is made on the computer's spar, which is then read.
#include "propwright/spar/sanding.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "propwright/spar/pairs.h"
#include "test_spars.h"

namespace propwright::spar {
namespace {

using test::measured;
using test::usual_rig;
using test::usual_spar;
using test::Wood;

constexpr Limits no_limits{.smallest_m = 1e-4};

/// The spar with the advised cut made.
Spar after(const Spar& spar, const Cut& cut, const Wood& wood = {}) {
  Spar result = spar;
  result.taper = cut.after;
  result.mass_kg = wood.density_kg_m3 * volume_m3(cut.after);
  return result;
}

const Cut& cut_of(const Pair& pair, const std::string& id) {
  for (const Cut& cut : pair.cuts) {
    if (cut.id == id) return cut;
  }
  throw std::runtime_error("no cut of " + id);
}

TEST(Sanded, LosesTheThicknessBetweenTheRunOuts) {
  const Spar spar = usual_spar("1");
  Cut cut;
  cut.remove_0_per_face_m = 2e-5, cut.remove_90_per_face_m = 1e-5;
  cut.from_m = 0.03, cut.to_m = 0.15;
  const Taper taper = sanded(spar.taper, cut);
  const auto lost = [&](double x, bool depth) {
    const Section before = section_at(spar.taper, x), now = section_at(taper, x);
    return depth ? before.depth_m - now.depth_m : before.width_m - now.width_m;
  };
  EXPECT_NEAR(lost(0.02, true), 0, 1e-15);
  EXPECT_NEAR(lost(0.0315, true), 2e-5, 1e-15);  // half of the run-out of 3 mm
  EXPECT_NEAR(lost(0.1, true), 4e-5, 1e-15);
  EXPECT_NEAR(lost(0.1, false), 2e-5, 1e-15);
  EXPECT_NEAR(lost(0.16, true), 0, 1e-15);
  EXPECT_TRUE(problems(taper).empty());
}

TEST(Sanding, TheDeeperSparLosesDepthAndThenReadsLikeTheOther) {
  // 4 % deeper: 12 % stiffer with the mark up, 4 % at the side.
  const Spar a = usual_spar("5"), b = usual_spar("11", 1, 1.04);
  const Measured of_a = measured(a, usual_rig());
  const Pair p = judge(of_a, measured(b, usual_rig()), usual_rig(), no_limits);
  ASSERT_EQ(p.verdict, Verdict::sand);
  ASSERT_EQ(p.cuts.size(), 1u);
  const Cut& cut = p.cuts[0];
  EXPECT_EQ(cut.id, "11");
  EXPECT_DOUBLE_EQ(cut.remove_90_per_face_m, 0);
  // 12 % is more than twice the tolerance: 70 % at first.
  EXPECT_TRUE(cut.is_first_step);
  Cut whole = cut;
  whole.remove_0_per_face_m /= 0.7;
  whole.after = sanded(b.taper, whole);
  const Measured finished = measured(after(b, whole), usual_rig());
  // One amount for two ratios: 12 to 0 and 4 to 0 both vanish for the same depth but for the part
  // that stays as it was for the hub.
  EXPECT_NEAR(finished.at_0.ei_Nm2 / of_a.at_0.ei_Nm2, 1, 0.01);
  EXPECT_NEAR(finished.at_90.ei_Nm2 / of_a.at_90.ei_Nm2, 1, 0.01);
}

TEST(Sanding, TheTargetIsWhatTheSandedSparReads) {
  Rig rig = usual_rig();
  rig.zero_reading_m = 0.002, rig.zero = Zero::unloaded_spar;
  const Spar a = usual_spar("5"), b = usual_spar("11", 1, 1.03);
  const Pair p = judge(measured(a, rig), measured(b, rig), rig, no_limits);
  ASSERT_EQ(p.cuts.size(), 1u);
  const Readings readings = test::exact_readings(after(b, p.cuts[0]), {}, rig);
  EXPECT_NEAR(p.cuts[0].target_reading_0_m, readings.at_0_m[0], 1e-9);
  EXPECT_NEAR(p.cuts[0].target_reading_90_m, readings.at_90_m[0], 1e-9);
}

TEST(Sanding, EachIsSandedWhereItIsTheStiffer) {
  // 5 stiffer with the mark up, 11 at the side, by 7 % each.
  const Spar a = usual_spar("5", 1, 1.035), b = usual_spar("11", 1.035, 1);
  Measured of_a = measured(a, usual_rig()), of_b = measured(b, usual_rig());
  // Both much stiffer at the side, so that no quarter turn makes them alike.
  for (Measured* m : {&of_a, &of_b}) {
    m->at_90.ei_Nm2 *= 1.5, m->at_90.modulus_Pa.value *= 1.5;
  }
  const Pair p = judge(of_a, of_b, usual_rig(), no_limits);
  ASSERT_EQ(p.verdict, Verdict::sand);
  ASSERT_EQ(p.cuts.size(), 2u);
  EXPECT_DOUBLE_EQ(p.turn_b_deg, 0);
  EXPECT_GT(cut_of(p, "5").remove_0_per_face_m, 1e-5);
  EXPECT_DOUBLE_EQ(cut_of(p, "5").remove_90_per_face_m, 0);
  EXPECT_GT(cut_of(p, "11").remove_90_per_face_m, 1e-5);
  EXPECT_DOUBLE_EQ(cut_of(p, "11").remove_0_per_face_m, 0);
}

TEST(Sanding, FacesAreNamedInTheSparsOwnDirectionsWhenItIsTurned) {
  // 10 is like 6 turned by a quarter, and thicker in what is then the flap direction: its own 90.
  const Spar a = usual_spar("6", 1, 1.15), b = usual_spar("10", 1.18, 1);
  const Pair p = judge(measured(a, usual_rig()), measured(b, usual_rig()), usual_rig(), no_limits);
  EXPECT_DOUBLE_EQ(p.turn_b_deg, 90);
  ASSERT_EQ(p.cuts.size(), 1u);
  EXPECT_EQ(p.cuts[0].id, "10");
  EXPECT_GT(p.cuts[0].remove_90_per_face_m, 1e-5);
  EXPECT_DOUBLE_EQ(p.cuts[0].remove_0_per_face_m, 0);
}

TEST(Sanding, ARoundSparLosesItsDiameterAllRound) {
  const Spar a = usual_spar("1", 1, 1, Shape::round), b = usual_spar("2", 1.02, 1.02, Shape::round);
  const Pair p = judge(measured(a, usual_rig()), measured(b, usual_rig()), usual_rig(), no_limits);
  ASSERT_EQ(p.cuts.size(), 1u);
  const Cut& cut = p.cuts[0];
  EXPECT_DOUBLE_EQ(cut.remove_0_per_face_m, cut.remove_90_per_face_m);
  EXPECT_FALSE(cut.is_first_step);
  const Pair again =
      judge(measured(a, usual_rig()), measured(after(b, cut), usual_rig()), usual_rig(), no_limits);
  EXPECT_EQ(again.verdict, Verdict::matched);
  EXPECT_LT(again.mismatch, 0.005);
}

TEST(Sanding, ARoundSparThatIsStifferOneWayOnlyIsMadeAnew) {
  const Spar a = usual_spar("1", 1, 1, Shape::round), b = usual_spar("2", 1, 1, Shape::round);
  const Wood flat{1.5e9, 1.9e9, 80};
  const Pair p = judge(measured(a, usual_rig()), measured(b, usual_rig(), flat), usual_rig(), {});
  EXPECT_EQ(p.verdict, Verdict::make_new);
  EXPECT_EQ(p.make_new, "1");  // the softer lacks wood
}

TEST(Sanding, StopsShortOfATipThatIsThinAlready) {
  Limits limits;
  limits.smallest_m = 0.79e-3;  // the tip is 0.80 mm
  const Spar a = usual_spar("5"), b = usual_spar("11", 1, 1.03);
  const Spar thin_tip{"11",
                      taper(section_at(b.taper, 0), section_at(b.taper, 0.089),
                            {Shape::square, 0.8e-3, 0.8e-3, 0}, 0.178),
                      b.mass_kg, 0};
  const Pair p =
      judge(measured(a, usual_rig()), measured(thin_tip, usual_rig()), usual_rig(), limits);
  ASSERT_EQ(p.verdict, Verdict::sand);
  ASSERT_EQ(p.cuts.size(), 1u);
  EXPECT_LT(p.cuts[0].to_m, 0.178);
  EXPECT_GE(test::smallest_size_m(p.cuts[0].after), limits.smallest_m - 1e-9);
}

TEST(Sanding, ASparAtItsSmallestSizeIsNotAdvisedAndANewOneIs) {
  Limits limits;
  limits.smallest_m = 1.3e-3;
  const Spar a = usual_spar("5"), b = usual_spar("11", 1, 1.05);
  const Pair p = judge(measured(a, usual_rig()), measured(b, usual_rig()), usual_rig(), limits);
  EXPECT_EQ(p.verdict, Verdict::make_new);
  EXPECT_TRUE(p.cuts.empty());
  EXPECT_EQ(p.make_new, "5");
  EXPECT_THAT(p.reason, testing::HasSubstr("1.30 mm"));
}

RC_GTEST_PROP(Sanding, NeverGoesBelowTheSmallestSizeNorIntoTheHub, ()) {
  Limits limits;
  limits.smallest_m = test::drawn(0.5e-3, 0.9e-3), limits.keep_root_m = test::drawn(0, 0.05);
  limits.step_m = *rc::gen::element(0.0, 1e-5, 2.54e-5);
  const Shape shape = *rc::gen::element(Shape::square, Shape::round, Shape::rounded_square);
  const Spar a = usual_spar("1", test::drawn(0.95, 1.1), test::drawn(0.95, 1.1), shape);
  const Spar b = usual_spar("2", test::drawn(0.95, 1.1), test::drawn(0.95, 1.1), shape);
  const Pair p = judge(measured(a, usual_rig()), measured(b, usual_rig()), usual_rig(), limits);
  RC_CLASSIFY(p.verdict == Verdict::sand);
  for (const Cut& cut : p.cuts) {
    const Spar& spar = cut.id == "1" ? a : b;
    RC_ASSERT(cut.from_m >= limits.keep_root_m);
    RC_ASSERT(cut.remove_0_per_face_m >= 0 && cut.remove_90_per_face_m >= 0);
    RC_ASSERT(cut.remove_0_per_face_m + cut.remove_90_per_face_m > 0);
    for (double x = 0; x < 0.178; x += 0.002) {
      const Section before = section_at(spar.taper, x), now = section_at(cut.after, x);
      for (const auto& [was, is] :
           {std::pair{before.depth_m, now.depth_m}, std::pair{before.width_m, now.width_m}}) {
        RC_ASSERT(is == was || is >= limits.smallest_m - 1e-9 || was - is < 1e-12);
      }
    }
  }
}

TEST(Sanding, IsRoundedToTheBuildersStep) {
  Limits limits = no_limits;
  limits.step_m = 2.54e-6;
  const Spar a = usual_spar("5"), b = usual_spar("11", 1, 1.03);
  const Pair p = judge(measured(a, usual_rig()), measured(b, usual_rig()), usual_rig(), limits);
  const double steps = p.cuts.at(0).remove_0_per_face_m / 2.54e-6;
  EXPECT_NEAR(steps, std::round(steps), 1e-9);
  EXPECT_GE(steps, 1);
}

TEST(Sanding, DoubtTakesLessThanTheWholeDifference) {
  Rig rig = usual_rig();
  const Spar a = usual_spar("5"), b = usual_spar("11", 1, 1.03);
  const auto with_doubt = [&](double sigma) {
    Measured of_a = measured(a, rig), of_b = measured(b, rig);
    for (Measured* m : {&of_a, &of_b})
      m->at_0.ei_sigma_relative = m->at_90.ei_sigma_relative = sigma;
    return judge(of_a, of_b, rig, no_limits);
  };
  const double sure = with_doubt(0).cuts.at(0).remove_0_per_face_m;
  const Pair doubtful = with_doubt(0.03);
  ASSERT_EQ(doubtful.verdict, Verdict::sand);
  const double m = doubtful.mismatch, s = doubtful.sigma;
  EXPECT_NEAR(doubtful.cuts.at(0).remove_0_per_face_m / sure, (m - 2 * s + 0.05) / m, 1e-3);
  EXPECT_TRUE(doubtful.cuts.at(0).is_first_step);
}

TEST(Sanding, InRoundsOfSandAndMeasureAStifferSparComesToAMatch) {
  Rig rig = usual_rig();
  rig.repeatability_m = 4e-5, rig.resolution_m = 2.5e-5;
  std::mt19937_64 random(17);
  Limits limits;
  limits.step_m = 2.54e-6;
  const Spar a = usual_spar("5");
  Spar b = usual_spar("11", 1.03, 1.065);
  const auto read_twice = [&](const Spar& spar) {
    Readings readings;
    const Readings exact = test::exact_readings(spar, {}, usual_rig());
    for (int k = 0; k < 2; ++k) {
      readings.at_0_m.push_back(test::taken(exact.at_0_m[0], rig, random));
      readings.at_90_m.push_back(test::taken(exact.at_90_m[0], rig, random));
    }
    return reduce(spar, readings, rig).value();
  };
  const Measured of_a = read_twice(a);
  int rounds = 0;
  Pair p = judge(of_a, read_twice(b), rig, limits);
  EXPECT_EQ(p.verdict, Verdict::sand);
  for (double before = p.mismatch; p.verdict == Verdict::sand && rounds < 5; ++rounds) {
    ASSERT_EQ(p.cuts.size(), 1u);
    b = after(b, cut_of(p, "11"));
    p = judge(of_a, read_twice(b), rig, limits);
    EXPECT_LT(p.mismatch, before);
    before = p.mismatch;
  }
  EXPECT_EQ(p.verdict, Verdict::matched);
  EXPECT_LE(rounds, 3);
  EXPECT_GE(rounds, 2);
}

}  // namespace
}  // namespace propwright::spar
