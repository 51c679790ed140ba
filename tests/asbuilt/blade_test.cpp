#include <gtest/gtest.h>

#include "asbuilt_design.h"
#include "propwright/base/monotone_curve.h"

namespace propwright::asbuilt {
namespace {

using asbuilt_test::rigid_design;
using base::degree_rad;

double designed_angle(const Design& design, double radius_m) {
  std::vector<double> r, angle;
  for (const rotor::BladeRow& row : design.blade.rows) {
    r.push_back(row.radius_m);
    angle.push_back(row.angle_rad);
  }
  return base::MonotoneCurve::through(r, angle).value().value(radius_m);
}

TEST(BladeDeviation, NothingMeasuredIsTheDesign) {
  const auto d = deviation_of(rigid_design(), {.id = "A"}, 0).value();
  EXPECT_EQ(d.value, Deviation{});
  EXPECT_EQ(d.sigma, Deviation{});
  for (const bool measured : d.measured) EXPECT_FALSE(measured);
}

TEST(BladeDeviation, AnglesOfATurnAndAnEvenTwistAreFoundAgain) {
  const Design design = rigid_design();
  const double tip = design.blade.rows.back().radius_m, turn = 0.5 * degree_rad, twist = 0.2;
  BladeReading reading{.id = "A"};
  for (const double share : {0.3, 0.5, 0.7, 0.9}) {
    const double r = share * tip;
    reading.angles.push_back(
        {r, {designed_angle(design, r) + turn + twist * (r - reference_station * tip), 0.01}});
  }
  const auto d = deviation_of(design, reading, 0).value();
  // A straight line through points on it: rounding only.
  EXPECT_NEAR(d.at(Aspect::angle), turn, 1e-12);
  EXPECT_NEAR(d.at(Aspect::twist), twist, 1e-11);
  for (const double rest : d.left_over_rad) EXPECT_NEAR(rest, 0, 1e-12);
}

TEST(BladeDeviation, DoubtOfOneAngleReadingIsTheTurns) {
  const Design design = rigid_design();
  const double r = 0.1;
  BladeReading reading{.id = "A"};
  reading.angles.push_back({r, {designed_angle(design, r) - 0.01, 0.004}});
  const auto d = deviation_of(design, reading, 0).value();
  EXPECT_NEAR(d.at(Aspect::angle), -0.01, 1e-12);
  EXPECT_NEAR(d.sigma[0], 0.004, 1e-12);
  EXPECT_FALSE(d.measured[static_cast<std::size_t>(Aspect::twist)]);
}

// The variance of the line's value at a place x from the mean of n equal readings is
// sigma^2 (1/n + x^2/S), S the sum of squares (any textbook of linear regression).
TEST(BladeDeviation, DoubtOfTheTurnIsThatOfARegressionLine) {
  const Design design = rigid_design();
  const double tip = design.blade.rows.back().radius_m;
  BladeReading reading{.id = "A"};
  for (const double r : {0.06, 0.10, 0.14}) {
    reading.angles.push_back({r, {designed_angle(design, r), 0.01}});
  }
  const auto d = deviation_of(design, reading, 0).value();
  const double x = reference_station * tip - 0.10, square = 2 * 0.04 * 0.04;
  EXPECT_NEAR(d.sigma[0], 0.01 * std::sqrt(1.0 / 3 + x * x / square), 1e-12);
  EXPECT_NEAR(d.sigma[1], 0.01 / std::sqrt(square), 1e-10);
}

TEST(BladeDeviation, StiffnessIsTheLogarithmOfTheFactor) {
  BladeReading reading{.id = "A"};
  reading.flapwise = Measured{0.8, 0.04};
  const auto d = deviation_of(rigid_design(), reading, 0).value();
  EXPECT_DOUBLE_EQ(d.at(Aspect::flapwise), std::log(0.8));
  EXPECT_DOUBLE_EQ(d.sigma[static_cast<std::size_t>(Aspect::flapwise)], 0.05);
}

TEST(BladeDeviation, EveryReadingOutOfRangeIsNamedAtOnce) {
  BladeReading reading{.id = "B"};
  reading.length_m = Measured{1.95, 0};  // a slip of the point
  reading.flapwise = Measured{-1, 0};
  reading.angles.push_back({0.001, {0.5, 0}});
  const auto d = deviation_of(rigid_design(), reading, 1);
  ASSERT_FALSE(d);
  ASSERT_EQ(d.error().size(), 3U);
  EXPECT_EQ(d.error()[0].field, "blade[2].length");
  EXPECT_EQ(d.error()[1].field, "blade[2].flapwise_stiffness");
  EXPECT_EQ(d.error()[2].field, "blade[2].angle[1].radius");
  for (const base::Problem& p : d.error()) {
    EXPECT_FALSE(p.allowed.empty());
    EXPECT_FALSE(p.remedy.empty());
  }
}

}  // namespace
}  // namespace propwright::asbuilt
