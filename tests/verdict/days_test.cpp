// Flights of several days, each of which shifts all its times alike.
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <string>

#include "shares.h"

namespace propwright::verdict {
namespace {

/// `each` flights of two propellers on every day, the days shifted with standard deviation
/// `spread`.
std::vector<Score> over_days(std::mt19937& random, int days, int each, double spread,
                             double difference, double scatter) {
  std::normal_distribution<double> normal;
  std::student_t_distribution<double> student(4);
  std::vector<Score> scores;
  for (int day = 0; day < days; ++day) {
    const double shift = spread * normal(random);
    for (std::size_t k = 0; k < 2; ++k) {
      for (int i = 0; i < each; ++i) {
        const double level = k == 1 ? difference : 0;
        scores.push_back({k, std::exp(level + shift + scatter * student(random)), 1,
                          static_cast<std::size_t>(day)});
      }
    }
  }
  return scores;
}

/// Two evenings, A B B A in each, the second 5 % worse.
std::vector<Score> two_evenings(double second) {
  const std::vector<double> a{0.985, 0.993, 0.990, 0.983}, b{1.008, 1.015, 1.013, 1.009};
  std::vector<Score> scores;
  for (std::size_t i = 0; i < 4; ++i) {
    const std::size_t day = i / 2;
    const double shift = day == 1 ? second : 1;
    scores.push_back({0, a[i] * shift, 1, day});
    scores.push_back({1, b[i] * shift, 1, day});
  }
  return scores;
}

TEST(Days, ADifferenceWithinEachEveningIsSeenAcrossAShiftBetweenThem) {
  const Verdict told_apart = judge(two_evenings(0.95), 2, 520);
  Beliefs alike;
  alike.day_scatter = 0;
  const Verdict as_one = judge(two_evenings(0.95), 2, 520, alike);
  EXPECT_GT(told_apart.propellers[1].probability_best, 0.98);
  EXPECT_LT(as_one.propellers[1].probability_best, 0.95);
  EXPECT_LT(told_apart.scatter.median, 0.7 * as_one.scatter.median);
  // 5 % between the evenings is found, to a third of the scatter of a flight.
  ASSERT_EQ(told_apart.day_shift.size(), 2);
  EXPECT_NEAR(told_apart.day_shift[0] - told_apart.day_shift[1], -std::log(0.95), 0.01);
  EXPECT_GT(told_apart.day_scatter.median, 0);
}

TEST(Days, OneDayIsAsWithoutDays) {
  std::vector<Score> scores = two_evenings(1);
  for (Score& score : scores) score.day = 7;
  Beliefs alike;
  alike.day_scatter = 0;
  EXPECT_EQ(odds_of_best(scores, 2), odds_of_best(scores, 2, alike));
  EXPECT_TRUE(judge(scores, 2, 520).day_shift.empty());
}

TEST(Days, WhoFlewOnOneDayOnlyIsNotJudgedByItsWeather) {
  // All of A on a bad evening, all of B on a good one: 3 % apart says little of the propellers.
  std::vector<Score> scores;
  for (const double share : {0.968, 0.970, 0.972, 0.971}) scores.push_back({0, share, 1, 0});
  for (const double share : {1.000, 1.002, 0.998, 1.001}) scores.push_back({1, share, 1, 1});
  EXPECT_LT(odds_of_best(scores, 2)[1], 0.9);
  EXPECT_GT(odds_of_best(scores, 2)[1], 0.5);
}

TEST(Days, OddsOfEqualPropellersAreUniform) {
  // Type I over three evenings shifted by 3 %, as with one day: Kolmogorov, 1.63/sqrt(n) is passed
  // once in a hundred. The seed was fixed before the first run.
  Beliefs flat;
  flat.scatter_spread.reset();
  std::mt19937 random(20261128);
  constexpr int tests = 1000;
  std::vector<double> odds;
  odds.reserve(tests);
  for (int i = 0; i < tests; ++i) {
    odds.push_back(odds_of_best(over_days(random, 3, 2, 0.03, 0, 0.015), 2, flat)[1]);
  }
  std::sort(odds.begin(), odds.end());
  double distance = 0;
  for (int i = 0; i < tests; ++i) {
    distance = std::max({distance, std::abs(odds[i] - static_cast<double>(i) / tests),
                         std::abs(odds[i] - static_cast<double>(i + 1) / tests)});
  }
  RecordProperty("kolmogorov_distance", std::to_string(distance));
  EXPECT_LT(distance, 1.63 / std::sqrt(tests));
}

/// Normal and known scatter, a prior of each level: exact integration over the spread of the days,
/// the rest in closed form for two days (each day's times have the covariance s^2 1 + tau^2 all).
double normal_odds(const std::vector<Score>& scores, double s, double prior, double scale) {
  const auto moments = [&](double tau) {
    // Information of the levels and its right side, day by day.
    double m[2][2] = {{1 / (prior * prior), 0}, {0, 1 / (prior * prior)}}, right[2] = {0, 0};
    double log_density = 0;
    for (std::size_t day = 0; day < 2; ++day) {
      double n[2] = {0, 0}, sum[2] = {0, 0}, squares = 0;
      for (const Score& score : scores) {
        if (score.day != day) continue;
        const double y = std::log(score.share);
        n[score.propeller] += 1;
        sum[score.propeller] += y;
        squares += y * y;
      }
      const double all = n[0] + n[1], v = s * s, shared = tau * tau / (v + all * tau * tau);
      for (int i = 0; i < 2; ++i) {
        for (int j = 0; j < 2; ++j) m[i][j] += ((i == j ? n[i] : 0) - shared * n[i] * n[j]) / v;
        right[i] += (sum[i] - shared * n[i] * (sum[0] + sum[1])) / v;
      }
      const double total = sum[0] + sum[1];
      log_density -=
          0.5 * (squares - shared * total * total) / v + 0.5 * std::log(v + all * tau * tau);
    }
    const double determinant = m[0][0] * m[1][1] - m[0][1] * m[1][0];
    const double c00 = m[1][1] / determinant, c11 = m[0][0] / determinant,
                 c01 = -m[0][1] / determinant;
    const double mean0 = c00 * right[0] + c01 * right[1], mean1 = c01 * right[0] + c11 * right[1];
    log_density += 0.5 * (mean0 * right[0] + mean1 * right[1]) - 0.5 * std::log(determinant);
    const double z = (mean1 - mean0) / std::sqrt(c00 + c11 - 2 * c01);
    const double weight = std::exp(log_density - 0.5 * tau * tau / (scale * scale));
    return std::pair{weight, weight * 0.5 * std::erfc(-z / std::sqrt(2.0))};
  };
  using boost::math::quadrature::gauss_kronrod;
  const auto over = [&](bool odds) {
    return gauss_kronrod<double, 61>::integrate(
        [&](double tau) { return odds ? moments(tau).second : moments(tau).first; }, 1e-6,
        6 * scale, 6, 1e-9);
  };
  return over(true) / over(false);
}

TEST(Days, NormalScatterAgreesWithExactIntegration) {
  Beliefs beliefs = known_scatter(0.02);
  beliefs.levels = {LevelPrior{0, 0.03}, LevelPrior{0, 0.03}};
  for (const double second : {1.0, 0.97, 0.92}) {
    std::vector<Score> scores = two_evenings(second);
    scores.resize(7);  // not balanced
    const double exact = normal_odds(scores, 0.02, 0.03, beliefs.day_scatter);
    EXPECT_NEAR(judge(scores, 2, 700, beliefs).propellers[1].probability_best, exact, 3e-4)
        << second;
    EXPECT_NEAR(odds_of_best(scores, 2, beliefs)[1], exact, 1e-3) << second;
  }
}

TEST(Days, OwnScatterHasDaysAsWell) {
  Beliefs own;
  own.shared_scatter = false;
  const Verdict verdict = judge(two_evenings(0.95), 2, 520, own);
  EXPECT_GT(verdict.propellers[1].probability_best, 0.95);
  EXPECT_EQ(verdict.day_shift.size(), 2);
}

}  // namespace
}  // namespace propwright::verdict
