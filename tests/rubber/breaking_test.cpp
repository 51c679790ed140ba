// Breaking turns at a chosen risk.
#include "propwright/rubber/breaking.h"

#include <gmock/gmock.h>

#include <boost/math/distributions/normal.hpp>
#include <cmath>

namespace propwright::rubber {
namespace {

constexpr double section = 4e-6, length = 0.3;

Wind wind_at(double kappa, bool broke) {
  return {turns_at(kappa, section, length), section, length, broke};
}

/// Breaks at the evenly spread quantiles of a log-normal, with the sample deviation brought to s.
std::vector<Wind> breaks(int number, double median, double s) {
  std::vector<double> z;
  double square = 0;
  for (int i = 0; i < number; ++i) {
    z.push_back(boost::math::quantile(boost::math::normal(), (i + 0.5) / number));
    square += z.back() * z.back();
  }
  std::vector<Wind> winds;
  for (const double value : z) {
    winds.push_back(wind_at(median * std::exp(s * value / std::sqrt(square / number)), true));
  }
  return winds;
}

double normal_quantile(double p) {
  return boost::math::quantile(boost::math::normal(), p);
}

TEST(Breaking, KnownSpreadGivesTheConjugateAnswer) {
  // With the spread held at s by a narrow prior, ln median is normal about the precision-weighted
  // mean, and the next motor is normal with both variances (Bayes' rule for a normal mean).
  const double s = 0.05, m = std::log(10.6), w = 0.1;
  const BreakingPrior prior{
      .median = 10.6, .median_sigma = w, .spread = s, .spread_log_sigma = 0.01};
  const std::vector<Wind> winds{wind_at(10.0, true), wind_at(10.4, true), wind_at(11.1, true)};
  const double mean = (std::log(10.0) + std::log(10.4) + std::log(11.1)) / 3;
  const double precision = 1 / (w * w) + 3 / (s * s);
  const double middle = (m / (w * w) + 3 * mean / (s * s)) / precision;
  const double expected = middle + normal_quantile(0.05) * std::sqrt(s * s + 1 / precision);
  const auto b = breaking_statistics(winds, 0.05, prior).value();
  // The spread's prior is 1 % wide: it moves ln kappa by some 1e-5.
  EXPECT_NEAR(std::log(b.safe_kappa), expected, 1e-4);
  EXPECT_FALSE(b.by_rule);
}

TEST(Breaking, ManyBreaksGiveTheQuantileOfTheBatchItself) {
  const auto b = breaking_statistics(breaks(400, 11.2, 0.04), 0.05).value();
  // Doubt of the 5 % quantile from 400 breaks: 0.04 sqrt((1 + 1.645^2/2)/400) = 0.0031.
  EXPECT_NEAR(std::log(b.safe_kappa / 11.2), 0.04 * normal_quantile(0.05), 0.0031);
  EXPECT_NEAR(b.spread, 0.04, 0.002);
  EXPECT_LT(b.risk_high, 0.08);
  EXPECT_TRUE(b.notes.empty());
}

TEST(Breaking, FewBreaksOfTheSameBatchGiveFewerSafeTurns) {
  const auto few = breaking_statistics(breaks(4, 11.2, 0.04), 0.05).value();
  const auto many = breaking_statistics(breaks(60, 11.2, 0.04), 0.05).value();
  EXPECT_LT(few.safe_kappa, many.safe_kappa);
  EXPECT_GT(few.risk_high, many.risk_high);
  EXPECT_GT(few.median_high - few.median_low, many.median_high - many.median_low);
}

TEST(Breaking, WithoutBreaksTheRuleOfNineTenthsIsNotPassed) {
  const auto b = breaking_statistics({}, 0.3).value();
  EXPECT_TRUE(b.by_rule);
  // The median of the prior itself, within the grid's step.
  EXPECT_NEAR(b.safe_kappa, 0.9 * 10.6, 0.02 * 10.6);
  EXPECT_THAT(b.notes, ::testing::Contains(::testing::HasSubstr("No motor")));
}

TEST(Breaking, MotorsThatHeldRaiseTheSafeTurns) {
  auto winds = breaks(4, 10.6, 0.05);
  const double before = breaking_statistics(winds, 0.05).value().safe_kappa;
  for (int i = 0; i < 10; ++i) winds.push_back(wind_at(10.5, false));
  EXPECT_GT(breaking_statistics(winds, 0.05).value().safe_kappa, before);
}

TEST(Breaking, MotorsThatHeldFarBelowTellNothing) {
  auto winds = breaks(6, 10.6, 0.05);
  const double before = breaking_statistics(winds, 0.05).value().safe_kappa;
  winds.push_back(wind_at(3, false));
  EXPECT_NEAR(breaking_statistics(winds, 0.05).value().safe_kappa, before, 1e-3);
}

TEST(Breaking, ChanceAtTheSafeTurnsIsTheRiskAskedForOrLessByTheRule) {
  const auto b = breaking_statistics(breaks(8, 10.9, 0.06), 0.1).value();
  EXPECT_EQ(b.safe_risk, 0.1);
  const auto rule = breaking_statistics({}, 0.3).value();
  EXPECT_LT(rule.safe_risk, 0.3);
  EXPECT_GT(rule.safe_risk, rule.risk_low);
  EXPECT_LT(rule.safe_risk, rule.risk_high);
  // Asked for that chance itself, the same turns come out.
  const auto again = breaking_statistics({}, rule.safe_risk).value();
  EXPECT_NEAR(again.safe_kappa / rule.safe_kappa, 1, 1e-6);
}

TEST(Breaking, LargerRiskGivesMoreTurns) {
  const auto winds = breaks(5, 10.9, 0.06);
  double before = 0;
  for (const double risk : {0.01, 0.05, 0.1, 0.3}) {
    const double at = breaking_statistics(winds, risk).value().safe_kappa;
    EXPECT_GT(at, before);
    before = at;
  }
}

TEST(Breaking, WinderTurnsAreRefusedAsTurnsOfTheMotor) {
  const auto wrong = breaking_statistics({wind_at(10.6 / 15, true)}, 0.05);
  ASSERT_FALSE(wrong);
  EXPECT_EQ(wrong.error()[0].field, "winds[0].turns");
  EXPECT_THAT(wrong.error()[0].remedy, ::testing::HasSubstr("crank"));
  EXPECT_FALSE(breaking_statistics({}, 0.0));
}

}  // namespace
}  // namespace propwright::rubber
