// tip_rule(): Gauss points with the square root of the tip taken out.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "quadrature.h"

namespace propwright::rotor {
namespace {

template <class F>
double integral(const Rule& rule, F f) {
  double sum = 0;
  for (std::size_t i = 0; i < rule.place.size(); ++i) sum += rule.weight[i] * f(rule.place[i]);
  return sum;
}

TEST(TipRule, PlacesLieInsideAndRise) {
  for (const int count : {8, 9, 24, 400}) {
    const Rule rule = tip_rule(0.02, 0.3, count);
    ASSERT_EQ(rule.place.size(), static_cast<std::size_t>(count));
    for (std::size_t i = 0; i < rule.place.size(); ++i) {
      EXPECT_GT(rule.place[i], i == 0 ? 0.02 : rule.place[i - 1]);
      EXPECT_LT(rule.place[i], 0.3);
      EXPECT_GT(rule.weight[i], 0);
    }
  }
}

// With s: r = 1 - (1-s)^2, sqrt(1-r) r^k dr is a polynomial of degree 2k + 2 in s, so n points are
// exact for 2k + 2 <= 2n - 1. B(k+1, 3/2) is the integral.
TEST(TipRule, SquareRootLoadingIsExactUpToItsDegree) {
  for (const int count : {8, 12, 24}) {
    const Rule rule = tip_rule(0, 1, count);
    for (int k = 0; 2 * k + 2 <= 2 * count - 1; ++k) {
      const double exact = std::beta(k + 1.0, 1.5);
      EXPECT_NEAR(integral(rule, [&](double r) { return std::sqrt(1 - r) * std::pow(r, k); }),
                  exact, 1e-13)
          << count << " points, r^" << k;
    }
  }
}

TEST(TipRule, PolynomialsAreExactUpToTheirDegree) {
  const Rule rule = tip_rule(0.1, 0.9, 8);
  for (int k = 0; 2 * k + 1 <= 15; ++k) {
    const double exact = (std::pow(0.9, k + 1) - std::pow(0.1, k + 1)) / (k + 1);
    EXPECT_NEAR(integral(rule, [&](double r) { return std::pow(r, k); }), exact, 1e-14) << k;
  }
}

// An elliptic loading sqrt(1 - r^2) keeps a smooth rest, sqrt(1 + r), under the substitution: the
// error falls by orders from 4 to 8 points, not by the factor 2.8 of a rule that meets the root.
TEST(TipRule, EllipticLoadingConvergesFasterThanAnyPower) {
  const auto error = [](int count) {
    return std::abs(integral(tip_rule(0, 1, count), [](double r) { return std::sqrt(1 - r * r); }) -
                    base::pi / 4);
  };
  EXPECT_LT(error(4), 1e-5);
  EXPECT_LT(error(8), 1e-9);
  EXPECT_LT(error(8) * 100, error(4));
}

}  // namespace
}  // namespace propwright::rotor
