// The rig's repeatability.
#include "propwright/spar/rig.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace propwright::spar {
namespace {

TEST(Calibration, PoolsTheScatterWithinEachSpar) {
  // Deviations -1, 0, 1 and -2, 2: squares 2 + 8 over 2 + 1 degrees of freedom.
  const auto c = calibrate({{0.009, 0.010, 0.011}, {0.018, 0.022}}, 0).value();
  EXPECT_EQ(c.freedom, 3);
  EXPECT_NEAR(c.repeatability_m, std::sqrt(10e-6 / 3), 1e-15);
  EXPECT_NEAR(c.relative_sigma, 1 / std::sqrt(6.0), 1e-15);
}

TEST(Calibration, ThreeRepeatsLeaveAFactorOfSevenBetweenTheEndsOfTheInterval) {
  const auto c = calibrate({{0.009, 0.010, 0.011}}, 0).value();
  // Chi-square with 2 degrees of freedom is an exponential: quantiles -2 ln(1 - p).
  EXPECT_NEAR(c.low_m / c.reading_sigma_m, std::sqrt(2 / (-2 * std::log(0.05))), 1e-9);
  EXPECT_NEAR(c.high_m / c.reading_sigma_m, std::sqrt(2 / (-2 * std::log(0.95))), 1e-9);
}

TEST(Calibration, TakesRoundingOutOfTheScatterAndSaysWhenNothingIsLeft) {
  const double step = 0.001;
  const auto rough = calibrate({{0.009, 0.010, 0.012}}, step).value();
  EXPECT_NEAR(std::pow(rough.repeatability_m, 2) + step * step / 12,
              std::pow(rough.reading_sigma_m, 2), 1e-15);
  EXPECT_FALSE(rough.resolution_governs);
  const auto same = calibrate({{0.010, 0.010, 0.010}}, step).value();
  EXPECT_TRUE(same.resolution_governs);
  EXPECT_DOUBLE_EQ(same.repeatability_m, 0);
  EXPECT_DOUBLE_EQ(same.reading_sigma_m, step / std::sqrt(12.0));
}

TEST(Calibration, ItsIntervalHoldsTheTrueScatterNineTimesInTen) {
  std::mt19937_64 random(5);
  std::normal_distribution<double> normal(0.01, 1e-4);
  int held = 0;
  for (int k = 0; k < 2000; ++k) {
    const auto c = calibrate({{normal(random), normal(random), normal(random)}}, 0).value();
    held += c.low_m <= 1e-4 && 1e-4 <= c.high_m;
  }
  // Exact for normal scatter: binomial with 1-sigma of 13.4; three of them are 40.
  EXPECT_NEAR(held, 1800, 40);
}

TEST(Calibration, AsksForRepeats) {
  EXPECT_EQ(calibrate({{0.01}, {0.012}}, 0).error().front().field, "readings_m");
  EXPECT_EQ(calibrate({}, 0).error().front().field, "readings_m");
  EXPECT_EQ(calibrate({{0.01, 0.01}, {0.01, std::nan("")}}, 0).error().front().field,
            "readings_m[1]");
  EXPECT_EQ(calibrate({{0.01, 0.01}}, -1).error().front().field, "resolution_m");
}

TEST(MeanSigma, RoundingAveragesOutOnlyUnderScatter) {
  const Rig scattered{.resolution_m = 1e-4, .repeatability_m = 2e-4};
  EXPECT_NEAR(mean_sigma_m(scattered, 4), std::sqrt(4e-8 + 1e-8 / 12) / 2, 1e-15);
  const Rig steady{.resolution_m = 1e-4, .repeatability_m = 1e-5};
  EXPECT_NEAR(mean_sigma_m(steady, 100), std::sqrt(1e-12 + 1e-8 / 12), 1e-15);
}

TEST(Coverage, GrowsForARepeatabilityKnownFromFewReadings) {
  EXPECT_NEAR(coverage_90({}), 1.645, 1e-3);
  EXPECT_NEAR(coverage_90({.repeatability_freedom = 2}), 2.920, 1e-3);  // tables of Student's t
  EXPECT_NEAR(coverage_90({.repeatability_freedom = 1000}), 1.646, 1e-3);
}

}  // namespace
}  // namespace propwright::spar
