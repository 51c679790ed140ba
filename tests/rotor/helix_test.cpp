// The velocity of the shed helices against plain Biot-Savart integration and its closed limits.
#include "helix.h"

#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::rotor {
namespace {

using base::pi;

/// Biot and Savart's law for B semi-infinite helices, at radius r and azimuth `azimuth` of the
/// plane they start in. Midpoint rule to z = reach, beyond it the mean of the leading term; what is
/// left is of order (a/reach)^4.
Induced biot_savart(int blades, double a, double h, double r, double azimuth = 0) {
  const double reach = 100 * a, step = 2e-3;
  const double px = r * std::cos(azimuth), py = r * std::sin(azimuth);
  double x_sum = 0, y_sum = 0, z_sum = 0;
  for (double t = step / 2; h * t < reach; t += step) {
    for (int k = 0; k < blades; ++k) {
      const double tau = t + 2 * pi * k / blades;
      const double dx = -a * std::sin(tau), dy = a * std::cos(tau);
      const double rx = px - a * std::cos(tau), ry = py - a * std::sin(tau), rz = -h * t;
      const double cube = std::pow(rx * rx + ry * ry + rz * rz, 1.5);
      x_sum += (dy * rz - h * ry) / cube;
      y_sum += (h * rx - dx * rz) / cube;
      z_sum += (dx * ry - dy * rx) / cube;
    }
  }
  const double swirl = y_sum * std::cos(azimuth) - x_sum * std::sin(azimuth);
  const double tail = blades / (2 * reach * reach);
  return {(z_sum * step + a * a / h * tail) / (4 * pi), (swirl * step + r * tail) / (4 * pi)};
}

TEST(HelixSet, IsTheBiotSavartIntegral) {
  for (const int blades : {2, 3, 4}) {
    for (const double h : {0.15, 0.4, 1.2}) {
      const HelixSet helices(blades, 1, 1 / h);
      for (const double r : {0.15, 0.6, 0.9, 1.15, 2.0}) {
        const Induced series = helices.at(r), sum = biot_savart(blades, 1, h, r);
        // The series: 2e-6 (1 + 1/h) of B/(4 pi); the integral's tail, the oscillating part of
        // which is left out: 1e-5 of it.
        const double allowed = 1.2e-5 * blades / (4 * pi) * (1 + 1 / h);
        EXPECT_NEAR(series.axial, sum.axial, allowed) << blades << ' ' << h << ' ' << r;
        EXPECT_NEAR(series.swirl, sum.swirl, allowed) << blades << ' ' << h << ' ' << r;
      }
    }
  }
}

TEST(HelixSet, OfInfinitePitchAreStraightVortices) {
  for (const int blades : {1, 2, 3, 4}) {
    const HelixSet straight(blades, 0.7, 0);
    for (const double r : {0.1, 0.5, 0.69, 0.9, 3.0}) {
      // B half-lines on a circle: B/(4 pi r) /(1 - (a/r)^B), exact.
      const double swirl = blades / (4 * pi * r) / (1 - std::pow(0.7 / r, blades));
      EXPECT_NEAR(straight.at(r).swirl / swirl, 1, 1e-12) << blades << ' ' << r;
      EXPECT_EQ(straight.at(r).axial, 0);
    }
  }
}

TEST(HelixSet, OnTheAxisAndFarAwayAreTheCoilAndTheLine) {
  for (const int blades : {2, 3, 4}) {
    const HelixSet helices(blades, 1, 2.5);
    // The inside of a coil: half of B/(2 pi h). The first harmonic is of order r^B.
    EXPECT_NEAR(helices.at(1e-5).axial, blades * 2.5 / (4 * pi), 1e-8);
    EXPECT_NEAR(helices.at(1e-5).swirl, 0, 1e-4);
    // From afar a line of circulation B; the first harmonic is of order exp(-B r/h).
    EXPECT_NEAR(helices.at(30).axial, 0, 1e-12);
    EXPECT_NEAR(helices.at(30).swirl * 4 * pi * 30 / blades, 1, 1e-12);
  }
}

TEST(HelixSet, OfTheOtherHandIsTheMirrorImage) {
  const HelixSet right(3, 1, 1.7), left(3, 1, -1.7);
  for (const double r : {0.3, 0.95, 1.4}) {
    EXPECT_DOUBLE_EQ(left.at(r).axial, -right.at(r).axial);
    EXPECT_DOUBLE_EQ(left.at(r).swirl, right.at(r).swirl);
  }
}

TEST(HelixSet, NearTheVortexGoesAsItsLogCoefficientSays) {
  // u(a + e) + u(a - e) = 2 (C ln e + const): the jump in 1/e cancels. Left: terms of order e ln e.
  const double a = 0.8, k = 1.6;
  const HelixSet helices(2, a, k);
  const Induced c = log_coefficient(a, k);
  const auto even = [&](double e) { return helices.at(a + e).axial + helices.at(a - e).axial; };
  EXPECT_NEAR((even(1e-4) - even(1e-3)) / (2 * std::log(0.1)) / c.axial, 1, 1e-2);
}

TEST(Polylogarithm, HasItsClosedValuesAtOneHalf) {
  const double ln2 = std::log(2.0), zeta3 = 1.2020569031595942;
  EXPECT_NEAR(polylogarithm(1, ln2), ln2, 1e-15);
  EXPECT_NEAR(polylogarithm(2, ln2), pi * pi / 12 - ln2 * ln2 / 2, 1e-11);
  EXPECT_NEAR(polylogarithm(3, ln2), 7 * zeta3 / 8 - pi * pi / 12 * ln2 + ln2 * ln2 * ln2 / 6,
              1e-11);
  // The two ways of summing meet at mu = 1: the value moves by its slope times 2e-9.
  for (const int order : {2, 3, 4}) {
    EXPECT_NEAR(polylogarithm(order, 1 - 1e-9), polylogarithm(order, 1 + 1e-9), 3e-9) << order;
  }
}

// Ampere's law: round a circle of the far wake the mean axial velocity is B/(2 pi h) times the
// circulation shed outside it. It is what makes the wake's momentum equal to the blades' thrust.
TEST(HelixSet, FarWakeHasTheMeanAxialVelocityOfACoil) {
  const double h = 0.4;
  for (const double r : {0.5, 0.8}) {
    double mean = 0;
    const int places = 12;
    for (int i = 0; i < places; ++i) {
      const double azimuth = pi * (i + 0.5) / places;  // half a turn is a period of two blades
      // A doubly infinite helix: both halves, the second seen from the other side.
      mean += biot_savart(2, 1, h, r, azimuth).axial + biot_savart(2, 1, h, r, -azimuth).axial;
    }
    // 12 places leave the 24th harmonic, at most 2 exp(-24 eta) with eta 0.25: 0.5 %.
    EXPECT_NEAR(mean / places / (2 / (2 * pi * h)), 1, 6e-3) << r;
  }
}

}  // namespace
}  // namespace propwright::rotor
