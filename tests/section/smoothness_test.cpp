// The surface cl, cd (alpha, ln Re, camber) has the derivatives it says it has, without steps.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/section/section.h"

namespace propwright::section {
namespace {

using base::degree_rad;

rc::Gen<double> between(double low, double high) {
  return rc::gen::map(rc::gen::inRange(0, 1000001),
                      [=](int n) { return low + (high - low) * n / 1e6; });
}

// A central difference over step errs by step^2/6 times the third derivative while it stays in one
// cell, and by step/4 times the jump of the second derivative where it straddles a node line. With
// step = 1e-5 and curvatures of a cubic that turns its slope (at most 20 per rad) over 1 degree,
// 4e3, the second gives 1e-2; in ln Re and in drag the numbers are far smaller.
constexpr double step = 1e-5;

RC_GTEST_PROP(Smoothness, AngleDerivativesAreThoseOfTheSurface, ()) {
  const Polar polar = Family::thin_arc().at_camber(*between(0, 0.1));
  const double alpha = *between(-base::pi, base::pi);
  const double ln_re = *between(std::log(300.0), std::log(60000.0));
  const Coefficients c = polar.at(alpha, ln_re);
  const Coefficients up = polar.at(alpha + step, ln_re);
  const Coefficients down = polar.at(alpha - step, ln_re);
  RC_ASSERT(std::abs((up.cl - down.cl) / (2 * step) - c.cl_alpha) < 1.5e-2);
  RC_ASSERT(std::abs((up.cd - down.cd) / (2 * step) - c.cd_alpha) < 1.5e-2);
}

RC_GTEST_PROP(Smoothness, ReynoldsDerivativesAreThoseOfTheSurface, ()) {
  const Polar polar = Family::thin_arc().at_camber(*between(0, 0.1));
  const double alpha = *between(-base::pi, base::pi);
  const double ln_re = *between(std::log(300.0), std::log(60000.0));
  const Coefficients c = polar.at(alpha, ln_re);
  const Coefficients up = polar.at(alpha, ln_re + step);
  const Coefficients down = polar.at(alpha, ln_re - step);
  // Lift changes by at most 0.5 per unit of ln Re, its curvature by a few: 1e-5 times that.
  RC_ASSERT(std::abs((up.cl - down.cl) / (2 * step) - c.cl_ln_re) < 1e-4);
  RC_ASSERT(std::abs((up.cd - down.cd) / (2 * step) - c.cd_ln_re) < 1e-4);
}

// On the node lines themselves: the two sides' derivatives, 1e-9 away, differ only by 2e-9 times
// the curvature (4e3 at most).
TEST(Smoothness, NoStepOfSlopeAcrossTheAngleNodes) {
  for (const double camber : {0.0, 0.03, 0.06, 0.09, 0.1}) {
    const Polar polar = Family::thin_arc().at_camber(camber);
    for (int degree = -180; degree < 180; ++degree) {
      const double a = degree * degree_rad;
      const Coefficients left = polar.at(a - 1e-9, std::log(5000));
      const Coefficients right = polar.at(a + 1e-9, std::log(5000));
      EXPECT_NEAR(left.cl_alpha, right.cl_alpha, 1e-5) << camber << ' ' << degree;
      EXPECT_NEAR(left.cd_alpha, right.cd_alpha, 1e-5) << camber << ' ' << degree;
    }
  }
}

TEST(Smoothness, NoStepOfSlopeAcrossTheReynoldsNodesAndTheEdges) {
  for (const double camber : {0.0, 0.03, 0.1}) {
    const Polar polar = Family::thin_arc().at_camber(camber);
    for (const double re : {1000.0, 2000.0, 4000.0, 7000.0, 12000.0, 20000.0}) {
      for (double degree = -20; degree <= 40; degree += 0.5) {
        const double a = degree * degree_rad;
        const Coefficients left = polar.at(a, std::log(re) - 1e-9);
        const Coefficients right = polar.at(a, std::log(re) + 1e-9);
        EXPECT_NEAR(left.cl_ln_re, right.cl_ln_re, 1e-6) << re << ' ' << degree;
        EXPECT_NEAR(left.cd_ln_re, right.cd_ln_re, 1e-6) << re << ' ' << degree;
        EXPECT_NEAR(left.cl_alpha, right.cl_alpha, 1e-6) << re << ' ' << degree;
      }
    }
  }
}

// Slopes on both sides of the camber nodes by one-sided differences of second order. Curvature in
// camber: slopes of up to 20 per unit camber turn over 0.02, so 1e3, and its change over a step of
// 1e-5 leaves 1e-2 between the two sides.
TEST(Smoothness, NoStepOfSlopeAcrossTheCamberNodes) {
  const Family& family = Family::thin_arc();
  constexpr double step = 1e-5;
  for (const double camber : {0.02, 0.04, 0.06, 0.08}) {
    const Polar at = family.at_camber(camber);
    const Polar below = family.at_camber(camber - step),
                below2 = family.at_camber(camber - 2 * step);
    const Polar above = family.at_camber(camber + step),
                above2 = family.at_camber(camber + 2 * step);
    for (double degree = -10; degree <= 30; degree += 0.5) {
      const double a = degree * degree_rad;
      const auto cl = [&](const Polar& polar) { return polar.at(a, std::log(5000)).cl; };
      const double left = (3 * cl(at) - 4 * cl(below) + cl(below2)) / (2 * step);
      const double right = -(3 * cl(at) - 4 * cl(above) + cl(above2)) / (2 * step);
      EXPECT_NEAR(left, right, 2e-2) << camber << ' ' << degree;
    }
  }
}

RC_GTEST_PROP(Smoothness, EverythingIsFiniteAndDragIsPositive, ()) {
  const Polar polar = Family::thin_arc().at_camber(*between(0, 0.15));
  const Coefficients c = polar.at(*between(-7, 7), *between(std::log(50.0), std::log(1e6)));
  RC_ASSERT(std::isfinite(c.cl + c.cl_alpha + c.cl_ln_re + c.cd_alpha + c.cd_ln_re));
  RC_ASSERT(c.cd > 0);
}

}  // namespace
}  // namespace propwright::section
