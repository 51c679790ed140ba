// The odds against exact results of the normal case and against integration in the heavy-tailed
// one, written down here afresh.
#include <gtest/gtest.h>

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <tuple>

#include "shares.h"

namespace propwright::verdict {
namespace {

double mean_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

double squares_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += (v - mean_of(values)) * (v - mean_of(values));
  return sum;
}

std::vector<double> logs_of(std::vector<double> shares) {
  for (double& share : shares) share = std::log(share);
  return shares;
}

const std::vector<double> first{0.98, 1.03, 1.01, 0.95, 1.00, 1.02};
const std::vector<double> second{1.04, 1.02, 0.99, 1.07, 1.05};

TEST(VerdictExact, KnownScatterAndFlatLevelsGiveTheNormalDistribution) {
  const Verdict verdict = judge(scores_of({first, second}), 2, 700, known_scatter(0.03));
  const double gap = mean_of(logs_of(second)) - mean_of(logs_of(first));
  const double sigma = 0.03 * std::sqrt(1.0 / 6 + 1.0 / 5);
  const double odds = boost::math::cdf(boost::math::normal(), gap / sigma);
  // Integrals in steps of a tenth of a deviation.
  EXPECT_NEAR(verdict.propellers[1].probability_best, odds, 1e-6);
  EXPECT_NEAR(verdict.propellers[0].probability_best, 1 - odds, 1e-6);
}

TEST(VerdictExact, KnownScatterAndPriorLevelsGiveTheConjugateNormal) {
  Beliefs beliefs = known_scatter(0.03);
  beliefs.levels = {LevelPrior{0.01, 0.05}, LevelPrior{-0.02, 0.02}};
  const Verdict verdict = judge(scores_of({first, second}), 2, 700, beliefs);
  const auto posterior = [](const std::vector<double>& y, double centre, double sigma) {
    const double n = static_cast<double>(y.size()) / (0.03 * 0.03), p = 1 / (sigma * sigma);
    return std::pair((n * mean_of(y) + p * centre) / (n + p), 1 / (n + p));
  };
  const auto [m1, v1] = posterior(logs_of(first), 0.01, 0.05);
  const auto [m2, v2] = posterior(logs_of(second), -0.02, 0.02);
  const double odds = boost::math::cdf(boost::math::normal(), (m2 - m1) / std::sqrt(v1 + v2));
  EXPECT_NEAR(verdict.propellers[1].probability_best, odds, 1e-6);
  // Read off between points a tenth of a deviation apart.
  EXPECT_NEAR(verdict.propellers[1].share.median, std::exp(m2), 1e-4 * std::sqrt(v2));
  EXPECT_NEAR(verdict.propellers[1].share.high, std::exp(m2 + 1.6448536 * std::sqrt(v2)),
              3e-3 * std::sqrt(v2));
}

/// Flights of shares around a level, in the shape of a normal sample.
std::vector<double> flights_around(double level, double scatter, int count) {
  std::vector<double> shares;
  for (int i = 0; i < count; ++i) {
    const double z = boost::math::quantile(boost::math::normal(), (i + 0.5) / count);
    shares.push_back(level * std::exp(scatter * z));
  }
  return shares;
}

// A third propeller that is far worse changes nothing between the two in front, however fine their
// difference is beside the distance to it.
TEST(VerdictExact, AThirdFarOffLeavesTheOddsOfTheTwo) {
  for (const auto& [scatter, count, apart, third] :
       {std::tuple{0.03, 4, 0.01, 0.10}, std::tuple{0.001, 40, 0.00025, 0.05},
        std::tuple{0.03, 200, 0.002, 0.10}, std::tuple{0.0006, 40, 0.0001, 0.02}}) {
    const auto a = flights_around(1 + apart, scatter, count), b = flights_around(1, scatter, count);
    const auto c = flights_around(third, scatter, count);
    const Verdict verdict = judge(scores_of({a, b, c}), 3, 700, known_scatter(scatter));
    const double gap = mean_of(logs_of(a)) - mean_of(logs_of(b));
    const double odds =
        boost::math::cdf(boost::math::normal(), gap / (scatter * std::sqrt(2.0 / count)));
    EXPECT_NEAR(verdict.propellers[0].probability_best, odds, 1e-6) << scatter << ' ' << count;
    EXPECT_NEAR(verdict.propellers[1].probability_best, 1 - odds, 1e-6);
    EXPECT_NEAR(verdict.propellers[2].probability_best, 0, 1e-9);
    EXPECT_NEAR(std::log(verdict.propellers[1].share.high / verdict.propellers[1].share.median),
                1.6448536 * scatter / std::sqrt(count), 3e-3 * scatter / std::sqrt(count));
  }
}

// The same with the heavy tails that are usual, where the two are judged alone.
TEST(VerdictExact, AThirdFarOffLeavesTheOddsOfTheTwoWithHeavyTails) {
  for (const double third : {0.5, 0.1, 0.02}) {
    Beliefs beliefs = known_scatter(0.02);
    beliefs.tail_freedom = Beliefs{}.tail_freedom;
    const Verdict alone = judge(scores_of({first, second}), 2, 700, beliefs);
    const Verdict with_third =
        judge(scores_of({first, second, flights_around(third, 0.02, 5)}), 3, 700, beliefs);
    for (std::size_t k = 0; k < 2; ++k) {
      EXPECT_NEAR(with_third.propellers[k].probability_best, alone.propellers[k].probability_best,
                  2e-6)
          << third;
      EXPECT_NEAR(with_third.propellers[k].share.low, alone.propellers[k].share.low, 2e-5);
    }
  }
}

TEST(VerdictExact, UnknownSharedScatterGivesStudentsT) {
  Beliefs beliefs;
  beliefs.tail_freedom.reset();
  beliefs.scatter_spread.reset();
  const Verdict verdict = judge(scores_of({first, second}), 2, 700, beliefs);
  const auto a = logs_of(first), b = logs_of(second);
  const double sigma = std::sqrt((squares_of(a) + squares_of(b)) / 9 * (1.0 / 6 + 1.0 / 5));
  const double odds =
      boost::math::cdf(boost::math::students_t(9), (mean_of(b) - mean_of(a)) / sigma);
  // The scatter is held between 0.05 % and 100 %: beyond lie parts in 1e6.
  EXPECT_NEAR(verdict.propellers[1].probability_best, odds, 1e-5);
}

TEST(VerdictExact, OwnScatterOfOnePropellerGivesItsStudentsT) {
  Beliefs beliefs;
  beliefs.tail_freedom.reset();
  beliefs.scatter_spread.reset();
  beliefs.shared_scatter = false;
  const Verdict verdict = judge(scores_of({first, second}), 2, 700, beliefs);
  const auto a = logs_of(first);
  const boost::math::students_t t(5);
  const double sigma = std::sqrt(squares_of(a) / 5 / 6);
  const double high = std::exp(mean_of(a) + boost::math::quantile(t, 0.95) * sigma);
  EXPECT_NEAR(verdict.propellers[0].share.median, std::exp(mean_of(a)), 1e-3 * sigma);
  EXPECT_NEAR(verdict.propellers[0].share.high, high, 1e-2 * sigma);
}

/// Nested Gauss-Kronrod over scatter and both levels.
double heavy_odds(const std::vector<double>& a, const std::vector<double>& b,
                  const Beliefs& given) {
  using boost::math::quadrature::gauss_kronrod;
  const double nu = *given.tail_freedom;
  const auto density = [nu](const std::vector<double>& y, double mu, double s) {
    double product = 1;
    for (const double value : y) {
      const double z = (value - mu) / s;
      product *= std::pow(1 + z * z / nu, -0.5 * (nu + 1)) * 0.03 / s;
    }
    return product;
  };
  const auto over_scatter = [&](bool ordered) {
    return gauss_kronrod<double, 61>::integrate(
        [&](double lambda) {
          const double s = std::exp(lambda);
          const double z = (lambda - std::log(given.scatter_median)) / *given.scatter_spread;
          const auto upper = [&](double from) {
            return gauss_kronrod<double, 61>::integrate(
                [&](double mu) { return density(b, mu, s); }, from, 0.6, 6, 1e-8);
          };
          const double all_b = ordered ? 0 : upper(-0.6);
          return std::exp(-0.5 * z * z) *
                 gauss_kronrod<double, 61>::integrate(
                     [&](double mu) { return density(a, mu, s) * (ordered ? upper(mu) : all_b); },
                     -0.6, 0.6, 6, 1e-7);
        },
        std::log(0.004), std::log(0.3), 1, 1e-6);
  };
  return over_scatter(true) / over_scatter(false);
}

TEST(VerdictExact, HeavyTailAgreesWithNestedIntegration) {
  const std::vector<double> bad{1.04, 1.02, 0.99, 0.70};
  const std::vector<double> good{0.98, 1.03, 1.01, 0.95};
  const Beliefs beliefs;
  const double odds = heavy_odds(logs_of(good), logs_of(bad), beliefs);
  const Verdict verdict = judge(scores_of({good, bad}), 2, 700, beliefs);
  // The reference is cut at scatters of 0.4 % and 30 % and at levels of 0.55 and 1.8.
  EXPECT_NEAR(verdict.propellers[1].probability_best, odds, 2e-4);
}

}  // namespace
}  // namespace propwright::verdict
