// Gauge cards and angle tables.
#include "propwright/form/gauge.h"

#include <gtest/gtest.h>

#include <cmath>

#include "random_blades.h"

namespace propwright::form {
namespace {

constexpr double one_degree = base::degree_rad;

TEST(PitchError, IsThePitchesOwnDerivative) {
  for (double angle = 5; angle < 88; angle += 6) {
    const double r = 0.1, d = 1e-5;
    const double by_difference =
        (local_pitch_m(angle * one_degree + d, r) - local_pitch_m(angle * one_degree - d, r)) /
        (2 * d) * one_degree / local_pitch_m(angle * one_degree, r);
    // Central difference: third derivative of the tangent times 1e-10/6, below 1e-6 to 87 degrees.
    EXPECT_NEAR(pitch_error_per_degree(angle * one_degree) / by_difference, 1, 1e-6);
  }
}

TEST(PitchError, IsThreeAndAHalfPerCentAtTheFortyFiveDegreeStationAndNowhereLess) {
  // pi/90, the rule's own value at 45 degrees (common practice: about 3.5 %).
  EXPECT_NEAR(pitch_error_per_degree(45 * one_degree), base::pi / 90, 1e-15);
  for (double angle = 5; angle < 86; angle += 0.5) {
    EXPECT_GE(pitch_error_per_degree(angle * one_degree), base::pi / 90 - 1e-15);
  }
}

TEST(AngleTable, KeepsThreePitchesApart) {
  const auto rows = angle_table({{0.05, 60 * one_degree, 63 * one_degree, 64 * one_degree},
                                 {0.09, 44 * one_degree, 47 * one_degree, {}},
                                 {0.15, 30 * one_degree, 33 * one_degree, {}}})
                        .value();
  EXPECT_DOUBLE_EQ(rows[0].form_pitch_m, local_pitch_m(60 * one_degree, 0.05));
  EXPECT_DOUBLE_EQ(rows[0].set_pitch_m, local_pitch_m(63 * one_degree, 0.05));
  EXPECT_DOUBLE_EQ(*rows[0].flying_pitch_m, local_pitch_m(64 * one_degree, 0.05));
  EXPECT_FALSE(rows[1].flying_pitch_m.has_value());
  EXPECT_FALSE(rows[0].is_least_error);
  EXPECT_TRUE(rows[1].is_least_error);
}

TEST(AngleTable, NamesARadiusAndAnAngleOutOfRange) {
  EXPECT_EQ(angle_table({{0, 1, 1, {}}}).error().front().field, "gauge.radius");
  EXPECT_EQ(angle_table({{0.1, 1, 1.6, {}}}).error().front().field, "gauge.angle");
}

double slope_deg(const std::pair<double, double>& a, const std::pair<double, double>& b) {
  return std::atan2(b.second - a.second, b.first - a.first) / one_degree;
}

RC_GTEST_PROP(GaugeCard, SlopesAtItsAngleFromTheFootAndIsMirroredForTheOtherHand, ()) {
  const GaugePoint point{*between(0.02, 0.3), *between(5, 85) * one_degree};
  const auto right = gauge_card(point, Hand::clockwise, 0.06, 0.02).value();
  const auto left = gauge_card(point, Hand::anticlockwise, 0.06, 0.02).value();
  const auto& cut = right.lines[0].points_m;
  RC_ASSERT(right.lines[0].closed);
  RC_ASSERT(std::abs(slope_deg(cut[0], cut[1])) < 1e-12);  // the foot stands on the bench
  // Rounding of tangent and arc tangent.
  RC_ASSERT(std::abs(slope_deg(cut[4], cut[3]) - point.angle_rad / one_degree) < 1e-9);
  RC_ASSERT(std::abs(std::hypot(cut[3].first - cut[4].first, cut[3].second - cut[4].second) -
                     0.06) < 1e-12);
  for (std::size_t i = 0; i < cut.size(); ++i) {
    RC_ASSERT(left.lines[0].points_m[i].first == -cut[i].first);
    RC_ASSERT(left.lines[0].points_m[i].second == cut[i].second);
  }
}

TEST(GaugeCard, TellsTheRadiusOfTheFortyFiveDegreeStation) {
  const double pitch = 0.58;
  const auto card =
      gauge_card({0.06, blade_angle_rad(pitch, 0.06)}, Hand::clockwise, 0.06, 0.02).value();
  bool told = false;
  for (const auto& text : card.texts) {
    if (text.text.rfind("45°", 0) != 0) continue;
    EXPECT_NEAR(text.value_m, pitch / (2 * base::pi), 1e-12);
    told = true;
  }
  EXPECT_TRUE(told);
}

TEST(AngleBlock, IsARightTriangleOfTheAngle) {
  const Template block = angle_block({0.09, 47 * one_degree}, 0.07).value();
  const auto& cut = block.lines[0].points_m;
  ASSERT_EQ(cut.size(), 3U);
  EXPECT_NEAR(slope_deg(cut[0], cut[2]), 47, 1e-9);
  EXPECT_NEAR(slope_deg(cut[0], cut[1]), 0, 1e-12);
  EXPECT_NEAR(slope_deg(cut[1], cut[2]), 90, 1e-9);
}

TEST(GaugeCard, RefusesAnAngleThatNoCardHas) {
  EXPECT_EQ(gauge_card({0.1, 89 * one_degree}, Hand::clockwise, 0.06, 0.02).error().front().field,
            "gauge.angle");
  EXPECT_EQ(angle_block({0.1, 45 * one_degree}, 0.5).error().front().field, "gauge.edge");
}

}  // namespace
}  // namespace propwright::form
