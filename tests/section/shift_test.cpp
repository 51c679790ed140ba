// One draw of a polar's doubt moves what it says, and nothing else.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/section/section.h"

namespace propwright::section {
namespace {

using base::degree_rad;

class Shifted : public ::testing::Test {
 protected:
  const Family& family = Family::thin_arc();
  const Polar nominal = family.at_camber(0.05);
  const double ln_re = std::log(5000);
};

TEST_F(Shifted, LiftSlopeScalesAttachedLift) {
  const Polar moved = family.at_camber(0.05, {.lift_slope = 0.1});
  for (double degree = -4; degree <= 6; degree += 0.5) {
    const double a = degree * degree_rad;
    EXPECT_NEAR(moved.at(a, ln_re).cl, 1.1 * nominal.at(a, ln_re).cl, 1e-12) << degree;
    EXPECT_NEAR(moved.at(a, ln_re).cl_alpha, 1.1 * nominal.at(a, ln_re).cl_alpha, 1e-10);
    EXPECT_DOUBLE_EQ(moved.at(a, ln_re).cd, nominal.at(a, ln_re).cd);
  }
  EXPECT_NEAR(moved.at(1.0, ln_re).cl, nominal.at(1.0, ln_re).cl, 1e-12);  // plate untouched
}

TEST_F(Shifted, ZeroLiftMovesThePolarAlongTheAngle) {
  const double move = 0.5 * degree_rad;
  const Polar moved = family.at_camber(0.05, {.zero_lift_rad = move});
  for (double degree = -4; degree <= 90; degree += 1.3) {
    const double a = degree * degree_rad;
    EXPECT_NEAR(moved.at(a + move, ln_re).cl, nominal.at(a, ln_re).cl, 1e-12) << degree;
    EXPECT_NEAR(moved.at(a + move, ln_re).cd, nominal.at(a, ln_re).cd, 1e-12) << degree;
  }
  EXPECT_NEAR(moved.stall_onset_rad(), nominal.stall_onset_rad() + move, 1e-12);
}

TEST_F(Shifted, DragScalesDragUpToTheBlend) {
  const Polar moved = family.at_camber(0.05, {.drag = -0.2});
  for (double degree = -9; degree <= 10; degree += 1) {
    const double a = degree * degree_rad;
    EXPECT_NEAR(moved.at(a, ln_re).cd, 0.8 * nominal.at(a, ln_re).cd, 1e-12) << degree;
    EXPECT_DOUBLE_EQ(moved.at(a, ln_re).cl, nominal.at(a, ln_re).cl);
  }
  EXPECT_NEAR(moved.at(1.0, ln_re).cd, nominal.at(1.0, ln_re).cd, 1e-12);
}

TEST_F(Shifted, GreatestLiftMovesPastSixDegreesOnly) {
  const Polar moved = family.at_camber(0.05, {.cl_max = 0.15});
  for (double degree = -4; degree <= 6; degree += 1) {
    const double a = degree * degree_rad;
    EXPECT_NEAR(moved.at(a, ln_re).cl, nominal.at(a, ln_re).cl, 1e-12) << degree;
  }
  const double ten = 10 * degree_rad;
  EXPECT_NEAR(moved.at(ten, ln_re).cl, 1.15 * nominal.at(ten, ln_re).cl, 1e-12);
}

// Node derivatives are scaled with the product rule, so the moved surface is as smooth as before:
// central difference over 1e-5 rad, tolerance as in smoothness_test.
TEST_F(Shifted, StaysSmooth) {
  const Polar moved = family.at_camber(
      0.05, {.lift_slope = -0.1, .zero_lift_rad = 0.01, .drag = 0.1, .cl_max = 0.2});
  constexpr double h = 1e-5;
  for (double degree = -40; degree <= 60; degree += 0.37) {
    const double a = degree * degree_rad;
    const Coefficients c = moved.at(a, ln_re);
    const Coefficients up = moved.at(a + h, ln_re), down = moved.at(a - h, ln_re);
    EXPECT_NEAR((up.cl - down.cl) / (2 * h), c.cl_alpha, 1.5e-2) << degree;
    EXPECT_NEAR((up.cd - down.cd) / (2 * h), c.cd_alpha, 1.5e-2) << degree;
    EXPECT_GT(c.cd, 0);
  }
}

}  // namespace
}  // namespace propwright::section
