#include "propwright/base/monotone_curve.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace propwright::base {
namespace {

struct Points {
  std::vector<double> x, y;
};

/// Two to twelve points, unevenly spaced by up to a hundredfold, values in -50..50 with repeats.
Points random_points() {
  const auto count = *rc::gen::inRange<std::size_t>(2, 13);
  Points points;
  double x = *rc::gen::inRange(-100, 101) / 10.0;
  for (std::size_t i = 0; i < count; ++i) {
    points.x.push_back(x);
    points.y.push_back(*rc::gen::inRange(-50, 51));
    x += *rc::gen::inRange(1, 101) / 50.0;
  }
  return points;
}

/// Composite Simpson; exact for a cubic, so a piece needs one panel only.
template <class Function>
double simpson(Function f, double from, double to, int panels) {
  const double h = (to - from) / panels;
  double sum = 0;
  for (int i = 0; i < panels; ++i) {
    const double a = from + i * h;
    sum += h / 6 * (f(a) + 4 * f(a + h / 2) + f(a + h));
  }
  return sum;
}

RC_GTEST_PROP(MonotoneCurve, PassesThroughItsPoints, ()) {
  const Points p = random_points();
  const MonotoneCurve curve = MonotoneCurve::through(p.x, p.y).value();
  for (std::size_t i = 0; i < p.x.size(); ++i) {
    RC_ASSERT(std::abs(curve.value(p.x[i]) - p.y[i]) < 1e-12);  // rounding of values below 50
  }
}

RC_GTEST_PROP(MonotoneCurve, StaysBetweenNeighboursAndNeverTurnsBetweenThem, ()) {
  const Points p = random_points();
  const MonotoneCurve curve = MonotoneCurve::through(p.x, p.y).value();
  for (std::size_t i = 0; i + 1 < p.x.size(); ++i) {
    const double rise = p.y[i + 1] - p.y[i];
    double before = p.y[i];
    for (int k = 1; k <= 40; ++k) {
      const double x = p.x[i] + (p.x[i + 1] - p.x[i]) * k / 40;
      const double value = curve.value(x);
      // 1e-12: rounding of values below 50.
      RC_ASSERT(value >= std::min(p.y[i], p.y[i + 1]) - 1e-12);
      RC_ASSERT(value <= std::max(p.y[i], p.y[i + 1]) + 1e-12);
      RC_ASSERT((rise >= 0 ? value - before : before - value) >= -1e-12);
      before = value;
    }
  }
}

RC_GTEST_PROP(MonotoneCurve, SlopeIsContinuousAndTheDerivativeOfTheValue, ()) {
  const Points p = random_points();
  const MonotoneCurve curve = MonotoneCurve::through(p.x, p.y).value();
  for (std::size_t i = 1; i + 1 < p.x.size(); ++i) {
    // Slopes reach 3 * 100/0.02 and second derivatives 6e7 times the step of 1e-10.
    const double left = curve.slope(p.x[i] - 1e-10);
    const double right = curve.slope(p.x[i] + 1e-10);
    RC_ASSERT(std::abs(left - right) < 0.02);
  }
  for (std::size_t i = 0; i + 1 < p.x.size(); ++i) {
    const double width = p.x[i + 1] - p.x[i];
    const double x = p.x[i] + 0.3 * width;
    // Central difference of a cubic: error h^2 y'''/6, y''' below 6 * 5 * 100/width^3.
    const double h = 1e-3 * width;
    const double difference = (curve.value(x + h) - curve.value(x - h)) / (2 * h);
    RC_ASSERT(std::abs(difference - curve.slope(x)) < 1e-3 / width);
  }
}

RC_GTEST_PROP(MonotoneCurve, IntegralIsTheQuadratureOfTheValue, ()) {
  const Points p = random_points();
  const MonotoneCurve curve = MonotoneCurve::through(p.x, p.y).value();
  const auto value = [&](double x) { return curve.value(x); };
  double whole = 0;
  for (std::size_t i = 0; i + 1 < p.x.size(); ++i) whole += simpson(value, p.x[i], p.x[i + 1], 1);
  RC_ASSERT(std::abs(curve.integral(p.x.front(), p.x.back()) - whole) < 1e-10);
  // Part of the curve, from inside the first piece to inside the last; many panels across knots.
  const double from = p.x.front() + 0.3 * (p.x[1] - p.x[0]);
  const double to = p.x.back() - 0.2 * (p.x.back() - p.x[p.x.size() - 2]);
  const double part = curve.integral(from, to);
  double split = 0;
  double left = from;
  for (const double x : p.x) {
    if (x <= from || x >= to) continue;
    split += simpson(value, left, x, 1);
    left = x;
  }
  split += simpson(value, left, to, 1);
  RC_ASSERT(std::abs(part - split) < 1e-10);
  RC_ASSERT(std::abs(curve.integral(to, from) + part) < 1e-12);
}

TEST(MonotoneCurve, OutsideItsPointsTheEndValuesAreHeldAndTheSlopeIsZero) {
  const MonotoneCurve curve = MonotoneCurve::through({0, 1, 3}, {2, 4, 5}).value();
  EXPECT_EQ(curve.value(-7), 2);
  EXPECT_EQ(curve.value(9), 5);
  EXPECT_EQ(curve.slope(-7), 0);
  EXPECT_EQ(curve.slope(9), 0);
  EXPECT_NEAR(curve.integral(-7, 0), 14, 1e-13);
  EXPECT_NEAR(curve.integral(3, 9), 30, 1e-13);
}

TEST(MonotoneCurve, OnePointIsAConstant) {
  const MonotoneCurve curve = MonotoneCurve::through({2}, {5}).value();
  for (const double x : {-1.0, 2.0, 8.0}) {
    EXPECT_EQ(curve.value(x), 5);
    EXPECT_EQ(curve.slope(x), 0);
  }
  EXPECT_NEAR(curve.integral(0, 4), 20, 1e-13);
}

TEST(MonotoneCurve, TwoPointsAreAStraightLine) {
  const MonotoneCurve curve = MonotoneCurve::through({1, 3}, {4, 8}).value();
  for (const double x : {1.0, 1.7, 2.0, 3.0}) {
    EXPECT_NEAR(curve.value(x), 4 + 2 * (x - 1), 1e-14);
    EXPECT_NEAR(curve.slope(x), 2, 1e-14);
  }
  EXPECT_NEAR(curve.integral(1, 3), 12, 1e-13);
}

// The three-point end formula gives a parabola its own slope at the ends: 2x at 0 and at 3.
TEST(MonotoneCurve, EndSlopesOfEvenlySpacedParabolaAreExact) {
  const MonotoneCurve curve = MonotoneCurve::through({0, 1, 2, 3}, {0, 1, 4, 9}).value();
  EXPECT_NEAR(curve.slope(0), 0, 1e-14);
  EXPECT_NEAR(curve.slope(3), 6, 1e-14);
}

TEST(MonotoneCurve, PointsOutOfOrderAreAProblemThatNamesTheRow) {
  const auto repeated = MonotoneCurve::through({0, 1, 1, 2}, {0, 1, 2, 3});
  ASSERT_FALSE(repeated);
  EXPECT_EQ(repeated.error().front().kind, Kind::bad_input);
  EXPECT_NE(repeated.error().front().message.find("row 3"), std::string::npos);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto undefined = MonotoneCurve::through({0, 1}, {0, nan});
  ASSERT_FALSE(undefined);
  EXPECT_NE(undefined.error().front().message.find("row 2"), std::string::npos);
}

TEST(MonotoneCurve, NothingIsKnownAtNoNumber) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const auto& points : {std::vector<double>{1}, {1, 2}, {1, 2, 3}}) {
    const MonotoneCurve curve = MonotoneCurve::through(points, points).value();
    EXPECT_TRUE(std::isnan(curve.value(nan)));
    EXPECT_TRUE(std::isnan(curve.integral(1, nan)));
  }
}

TEST(MonotoneCurve, NoPointsOrUnequalColumnsAreAProblem) {
  EXPECT_FALSE(MonotoneCurve::through({}, {}));
  EXPECT_FALSE(MonotoneCurve::through({0, 1}, {0}));
}

}  // namespace
}  // namespace propwright::base
