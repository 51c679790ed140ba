#include "propwright/bench/weighing.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "bench_test_tools.h"

namespace propwright::bench {
namespace {

using testing::HasSubstr;

TEST(WeighTogether, MeanAndDoubtShrinkWithTheNumber) {
  const auto f = weigh_together({.parts = 12, .reading_kg = 420 * mg, .on_tare = true}, {}).value();
  EXPECT_NEAR(f.each_kg.value, 35 * mg, 1e-15);
  EXPECT_NEAR(f.each_kg.sigma, std::sqrt(2 / 12.0) * mg / 12, 1e-15);
  EXPECT_TRUE(f.questions.empty());
}

TEST(WeighTogether, DifferenceOnATareIsLoadedLessTare) {
  const auto f =
      weigh_together({.reading_kg = 5032 * mg, .zero_kg = 5000 * mg, .on_tare = true}, {}).value();
  EXPECT_NEAR(f.each_kg.value, 32 * mg, 1e-15);
  EXPECT_NEAR(f.each_kg.sigma, std::sqrt(2 / 12.0) * mg, 1e-15);
}

TEST(WeighTogether, SmallLoadWithoutTareAsksAboutZeroTracking) {
  const auto f = weigh_together({.reading_kg = 12 * mg}, {}).value();
  ASSERT_EQ(f.questions.size(), 1u);
  EXPECT_THAT(f.questions[0].message, HasSubstr("tracks its zero"));
  EXPECT_TRUE(
      weigh_together({.reading_kg = 12 * mg, .on_tare = true}, {}).value().questions.empty());
}

TEST(WeighTogether, RepeatsAverageScatterButNotTheRoundingOfAQuietScale) {
  Instruments quiet, lively;
  lively.scale_repeatability_kg = 2 * mg;
  const WeighedTogether nine{.reading_kg = 100 * mg, .repeats = 9};
  EXPECT_NEAR(weigh_together(nine, quiet).value().each_kg.sigma, std::sqrt(2 / 12.0) * mg, 1e-15);
  EXPECT_NEAR(weigh_together(nine, lively).value().each_kg.sigma,
              std::sqrt(2 * (4 + 1 / 12.0) / 9) * mg, 1e-15);
}

TEST(WeighTogether, StatedDoubtIsTheScatterOfReadings) {
  Noise noise(3);
  Scatter scatter;
  for (int i = 0; i < 4000; ++i) {
    const double zero = 5000 * mg;
    scatter.add(weigh_together({.parts = 3,
                                .reading_kg = noise.read(zero + 96.3 * mg, mg),
                                .zero_kg = noise.read(zero, mg),
                                .on_tare = true},
                               {})
                    .value()
                    .each_kg.value);
  }
  const double stated = std::sqrt(2 / 12.0) * mg / 3;
  EXPECT_NEAR(scatter.sigma() / stated, 1, 0.045);  // 4,000 draws: 1.1 %, four times that
  EXPECT_NEAR(scatter.mean(), 32.1 * mg, 4 * stated / std::sqrt(4000.0));
}

RC_GTEST_PROP(WeighTogether, AsManyPartsAsAdvisedReachTheWantedDoubt, ()) {
  const double mass = *rc::gen::inRange(1, 200) * mg, share = *rc::gen::inRange(2, 200) / 1000.0;
  const auto n = parts_for_share(mass, share, {}).value();
  const auto reached = [&](int parts) {
    return weigh_together({.parts = parts, .reading_kg = parts * mass}, {}).value().share_sigma;
  };
  RC_ASSERT(reached(n) <= share * (1 + 1e-6));
  if (n > 1) RC_ASSERT(reached(n - 1) > share * (1 - 1e-6));
}

TEST(WeighTogether, BadMembersAreNamed) {
  const auto f = weigh_together({.parts = 0, .reading_kg = 5 * mg, .zero_kg = 5 * mg}, {});
  ASSERT_FALSE(f.has_value());
  ASSERT_EQ(f.error().size(), 2u);
  EXPECT_EQ(f.error()[0].field, "parts");
  EXPECT_EQ(f.error()[1].field, "reading_kg");
  EXPECT_EQ(parts_for_share(1e-9, 1e-4, {}).error()[0].field, "wanted_share");
}

TEST(ScaleCheck, OneDigitIsSoundAndMoreIsNot) {
  EXPECT_EQ(check_scale({20 * mg, 21 * mg}, {}).value().within_noise, Within::yes);
  const auto off = check_scale({20 * mg, 0}, {}).value();
  EXPECT_EQ(off.within_noise, Within::no);
  EXPECT_NEAR(off.error_kg.value, -20 * mg, 1e-18);
  EXPECT_THAT(off.sentence, HasSubstr("tare"));
}

TEST(Design, ABAndBothGiveEachWithTwoThirdsOfTheVariance) {
  const auto f =
      weigh_design(2, {{{1, 0}, 30 * mg}, {{0, 1}, 40 * mg}, {{1, 1}, 73 * mg}}, {}).value();
  // Normal equations (2 1; 1 2) m = (103, 113): m = (31, 41).
  EXPECT_NEAR(f.masses_kg[0].value, 31 * mg, 1e-16);
  EXPECT_NEAR(f.masses_kg[1].value, 41 * mg, 1e-16);
  const double variance = 2 / 12.0 * mg * mg;
  EXPECT_NEAR(f.masses_kg[0].sigma, std::sqrt(2 / 3.0 * variance), 1e-16);
  EXPECT_NEAR(f.covariance_kg2[0][1], -variance / 3, 1e-20);
  EXPECT_EQ(f.spare, 1);
  EXPECT_NEAR(f.residual_rms_kg, mg, 1e-15);  // each of the three is out by 1 mg
  // 3 mg^2 over a variance of 1/6 mg^2 with one to spare: 18, beyond the 99 % of 6.6.
  EXPECT_EQ(f.questions.size(), 1u);
}

TEST(Design, OppositeSidesAddAndSubtract) {
  // Hotelling's pair: A + B and A - B, each mass with half the variance of one weighing.
  const auto f = weigh_design(2, {{{1, 1}, 70 * mg}, {{1, -1}, -10 * mg}}, {}).value();
  EXPECT_NEAR(f.masses_kg[0].value, 30 * mg, 1e-16);
  EXPECT_NEAR(f.masses_kg[1].value, 40 * mg, 1e-16);
  EXPECT_NEAR(f.masses_kg[0].sigma, std::sqrt(2 / 12.0 / 2) * mg, 1e-16);
  EXPECT_EQ(f.residual_rms_kg, 0);
}

RC_GTEST_PROP(Design, TrueReadingsComeBackWhateverTheDesign, ()) {
  const int parts = *rc::gen::inRange(1, 6);
  std::vector<double> truth;
  for (int k = 0; k < parts; ++k) truth.push_back(*rc::gen::inRange(1, 500) * mg);
  std::vector<DesignWeighing> weighings;
  const int rows = parts + *rc::gen::inRange(0, 8);
  for (int i = 0; i < rows; ++i) {
    DesignWeighing w;
    for (int k = 0; k < parts; ++k) {
      w.parts.push_back(*rc::gen::inRange(-1, 2));
      w.reading_kg += w.parts.back() * truth[k];
    }
    weighings.push_back(w);
  }
  const auto f = weigh_design(parts, weighings, {});
  RC_PRE(f.has_value());
  for (int k = 0; k < parts; ++k) RC_ASSERT(std::abs(f->masses_kg[k].value - truth[k]) < 1e-14);
  RC_ASSERT(f->questions.empty());
}

TEST(Design, PartsThatAreNeverApartCannotBeTold) {
  const auto f = weigh_design(2, {{{1, 1}, 70 * mg}, {{1, 1}, 71 * mg}}, {});
  ASSERT_FALSE(f.has_value());
  EXPECT_EQ(f.error()[0].field, "weighings");
  EXPECT_THAT(f.error()[0].message, HasSubstr("only 1 of 2"));
  const auto wrong = weigh_design(2, {{{1}, 70 * mg}, {{1, 2}, 71 * mg}}, {});
  ASSERT_EQ(wrong.error().size(), 2u);
  EXPECT_EQ(wrong.error()[1].field, "weighings[1].parts");
}

TEST(Humidity, ThirtyToSixtyPercentAddsFourToFivePercentToWood) {
  const auto c = humidity_factor(20, 0.3, 20, 0.6).value();
  EXPECT_GT(c.factor.value, 1.04);
  EXPECT_LT(c.factor.value, 1.05);
  EXPECT_GT(c.factor.sigma, 0.002);
  EXPECT_LT(c.factor.sigma, 0.02);
}

RC_GTEST_PROP(Humidity, ThereAndBackIsWhereItStarted, ()) {
  const auto rh = [] { return *rc::gen::inRange(0, 90) / 100.0; };
  const auto t = [] { return *rc::gen::inRange(-5, 40) * 1.0; };
  const double t1 = t(), t2 = t(), h1 = rh(), h2 = rh();
  const double there = humidity_factor(t1, h1, t2, h2).value().factor.value;
  const double back = humidity_factor(t2, h2, t1, h1).value().factor.value;
  RC_ASSERT(std::abs(there * back - 1) < 1e-12);
}

TEST(Humidity, OnlyTheWoodOfAPartChanges) {
  const double whole = humidity_factor(20, 0.3, 20, 0.6).value().factor.value;
  const double half = humidity_factor(20, 0.3, 20, 0.6, 0.5).value().factor.value;
  EXPECT_NEAR(half - 1, (whole - 1) / 2, 1e-15);
  EXPECT_EQ(humidity_factor(20, 0.3, 20, 0.6, 0).value().factor.value, 1);
}

RC_GTEST_PROP(Humidity, MoistureRisesWithHumidity, ()) {
  const double t = *rc::gen::inRange(-10, 60) * 1.0;
  const double h = *rc::gen::inRange(0, 95) / 100.0;
  RC_ASSERT(wood_moisture(t, h + 0.01).value() > wood_moisture(t, h).value());
}

TEST(Humidity, OutOfRangeIsNamed) {
  EXPECT_EQ(wood_moisture(20, 1.2).error()[0].field, "humidity");
  const auto c = humidity_factor(20, 0.3, 90, 60, 2);
  ASSERT_FALSE(c.has_value());
  std::vector<std::string> fields;
  for (const auto& p : c.error()) fields.push_back(p.field);
  EXPECT_THAT(fields, testing::ElementsAre("temperature_now_C", "humidity_now", "wood_share"));
}

}  // namespace
}  // namespace propwright::bench
