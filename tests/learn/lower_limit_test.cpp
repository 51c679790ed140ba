#include "lower_limit.h"

#include <gtest/gtest.h>

#include <boost/math/quadrature/exp_sinh.hpp>
#include <cmath>

#include "propwright/learn/posterior.h"

namespace propwright::learn {
namespace {

TEST(LowerLimit, SlopeAndBendAreItsDerivatives) {
  const double step = 1e-4;
  for (const double a : {-30.0, -4.0, -1.2, 0.0, 0.7, 3.0}) {
    const auto at = [](double x) { return lower_limit(x, 4, 2, 1.5); };
    const LowerLimit here = at(a);
    // Differences of the second order, steps of 1e-4: 1e-8 and rounding over the step.
    EXPECT_NEAR(here.slope, (at(a + step).ln_p - at(a - step).ln_p) / (2 * step), 1e-7) << a;
    const double bend = -(at(a + step).slope - at(a - step).slope) / (2 * step);
    EXPECT_NEAR(here.bend, std::max(bend, 0.0), 1e-6) << a;
  }
}

TEST(LowerLimit, IsTheTailOfTheJointLaw) {
  // Student's t as a mixture of normals: the weight w ~ Gamma(nu/2, nu/2); given it the exact
  // readings have exp(-w q/2) w^(m/2) and the limit the normal tail of sqrt(w) a.
  const double nu = 4, m = 3, q = 5.5;
  boost::math::quadrature::exp_sinh<double> over_half_line;
  for (const double a : {-3.0, -0.5, 1.0}) {
    const auto mean_of = [&](auto of) {
      return over_half_line.integrate([&](double w) {
        return std::pow(w, 0.5 * (nu + m) - 1) * std::exp(-0.5 * w * (nu + q)) * of(w);
      });
    };
    const auto tail = [&](double w) { return 0.5 * std::erfc(-std::sqrt(w / 2) * a); };
    const double all = mean_of([](double) { return 1.0; }), above = mean_of(tail);
    const LowerLimit limit = lower_limit(a, nu, m, q);
    EXPECT_NEAR(limit.ln_p, std::log(above / all), 1e-7) << a;
    EXPECT_NEAR(limit.weight, mean_of([&](double w) { return w * tail(w); }) / above, 1e-7) << a;
  }
}

TEST(LowerLimit, FarBelowItGoesOnDownhill) {
  const LowerLimit far = lower_limit(-1e4, 200, 0, 0), farther = lower_limit(-2e4, 200, 0, 0);
  EXPECT_TRUE(std::isfinite(far.ln_p));
  EXPECT_LT(farther.ln_p, far.ln_p);
  EXPECT_GT(far.slope, 0);
}

// Height of flight i: 8 + z. Four read 8.3; as many were at the roof, 9 m.
std::vector<std::optional<Outcome>> climbing(const std::vector<Query>& queries) {
  std::vector<std::optional<Outcome>> all;
  for (const Query& q : queries) {
    Outcome outcome{};
    outcome[static_cast<std::size_t>(Kind::top_height)] = 8 + q.z[0];
    all.emplace_back(outcome);
  }
  return all;
}

std::vector<Observed> at_the_roof(bool limits) {
  std::vector<Observed> flights;
  for (std::size_t i = 0; i < 8; ++i) {
    Observed flight{.readings = {}, .weight = 1, .parameters = {0}, .slopes_of = i};
    const bool at_roof = i % 2 == 1;
    if (!at_roof) flight.readings = {{Kind::top_height, 8.3, 0.8}};
    if (at_roof && limits) flight.readings = {{Kind::top_height, 9.0, 0.8, true}};
    flights.push_back(flight);
  }
  return flights;
}

TEST(LowerLimit, ModeAndWidthAreThoseOfTheDensityIntegrated) {
  Beliefs beliefs;
  beliefs.scatter_spread = 0;
  beliefs.tail_freedom = 200;
  const auto posterior = learn(1, at_the_roof(true), climbing, beliefs);
  ASSERT_TRUE(posterior);
  EXPECT_TRUE(posterior->converged);
  double sum = 0, first = 0, second = 0, best = -1e300, mode = 0;
  for (double z = -4; z < 6; z += 1e-3) {
    double ln = -0.5 * z * z;
    const double r = (8.3 - 8 - z) / 0.8;
    ln += 4 * (-0.5 * 201 * std::log1p(r * r / 200));
    ln += 4 * lower_limit((8 + z - 9) / 0.8, 200, 0, 0).ln_p;
    if (ln > best) {
      best = ln;
      mode = z;
    }
    sum += std::exp(ln);
    first += z * std::exp(ln);
    second += z * z * std::exp(ln);
  }
  const double sigma = std::sqrt(second / sum - first * first / (sum * sum));
  EXPECT_NEAR(posterior->mode[0], mode, 2e-3);  // the steps end within a thousandth
  EXPECT_NEAR(std::sqrt(posterior->covariance(0, 0)), sigma, 0.02 * sigma);
}

TEST(LowerLimit, FlightsAtTheRoofRaiseWhatIsHeldOfTheClimb) {
  const auto with = learn(1, at_the_roof(true), climbing);
  const auto without = learn(1, at_the_roof(false), climbing);
  ASSERT_TRUE(with && without);
  EXPECT_GT(with->mode[0], without->mode[0] + 0.1);
  EXPECT_LT(with->mode[0], 1.3);
  EXPECT_GT(with->fits[1].residual[0], 0);  // the limit is above the model
}

}  // namespace
}  // namespace propwright::learn
