#include "propwright/form/covering.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::form {
namespace {

Surface twisted_blade(double pitch_m, double chord_m, Hand hand = Hand::clockwise) {
  std::vector<SurfaceRow> rows;
  for (int i = 0; i <= 30; ++i) {
    rows.push_back({0.04 + 0.005 * i, pitch_m, 0, 0.4 * chord_m, 0.6 * chord_m});
  }
  return Surface::make(rows, hand, Lay::across).value();
}

double area_of(const TemplateLine& line) {
  double twice = 0;
  const auto& p = line.points_m;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const auto &a = p[i], &b = p[(i + 1) % p.size()];
    twice += a.first * b.second - b.first * a.second;
  }
  return std::abs(twice) / 2;
}

// Steiner: a convex shape grown by d gains perimeter * d + pi d^2; a flat rectangle is convex.
TEST(Covering, GrowsByItsAllowanceAllRound) {
  const FlatPattern pattern = flat_pattern(twisted_blade(1e9, 0.05)).value();
  const double d = 0.012;
  const Covering cover = covering(pattern, d).value();
  const double perimeter = 2 * (0.15 + 0.05);
  EXPECT_NEAR(cover.area_m2, 0.15 * 0.05, 1e-9);
  // Corners of 72 sides to the circle: short by 1/6 (2 pi/72)^2 = 0.13 % of pi d^2 at most.
  const double grown = 0.15 * 0.05 + perimeter * d + base::pi * d * d;
  EXPECT_NEAR(cover.cut_area_m2, grown, 0.0013 * base::pi * d * d + 1e-9);
  EXPECT_NEAR(area_of(cover.cut.lines[0]), cover.cut_area_m2, 1e-12);
  EXPECT_NEAR(area_of(cover.cut.lines[1]), cover.area_m2, 1e-12);
}

TEST(Covering, RefusesANegativeAllowance) {
  const FlatPattern pattern = flat_pattern(twisted_blade(0.6, 0.05)).value();
  const auto refused = covering(pattern, -0.001);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().field, "covering.allowance");
}

TEST(CoveringFrame, HoldsTheFilmWithinTheLimitWithAsFewBaysAsWill) {
  const Surface blade = twisted_blade(0.7, 0.05);
  const CoveringFrame frame = covering_frame(blade).value();
  EXPECT_LE(frame.worst_angle_error_rad, 0.5 * base::degree_rad);
  const int bays = static_cast<int>(frame.lead.size());
  ASSERT_GT(bays, 1);
  FrameOptions one_less;
  one_less.most_bays = bays - 1;
  EXPECT_GT(covering_frame(blade, one_less).value().worst_angle_error_rad, 0.5 * base::degree_rad);
}

// The corners of each piece, rebuilt in space from crosses, are as far apart as it is long, and the
// angles close the quadrilateral.
TEST(CoveringFrame, PiecesJoinTheCrosses) {
  const CoveringFrame frame = covering_frame(twisted_blade(0.7, 0.05)).value();
  for (std::size_t i = 0; i < frame.lead.size(); ++i) {
    const FrameCross &a = frame.crosses[i], &b = frame.crosses[i + 1];
    const double w = frame.lead_m;
    const double dx = b.radius_m - a.radius_m,
                 dy = w * (std::cos(b.angle_rad) - std::cos(a.angle_rad)),
                 dz = w * (std::sin(b.angle_rad) - std::sin(a.angle_rad));
    EXPECT_NEAR(frame.lead[i].length_m, std::sqrt(dx * dx + dy * dy + dz * dz), 1e-12);
    // A cross turned by t against its neighbour: the rail leans inwards by w (1 - cos t)/length.
    const double lean = w * (1 - std::cos(b.angle_rad - a.angle_rad)) / frame.lead[i].length_m;
    EXPECT_NEAR(std::cos(frame.lead[i].inner_angle_rad), lean, 1e-12);
    EXPECT_NEAR(std::cos(frame.lead[i].outer_angle_rad), lean, 1e-12);
  }
  EXPECT_NEAR(frame.lead_m, 0.02 + 0.010, 1e-12);
  EXPECT_NEAR(frame.trail_m, 0.03 + 0.010, 1e-12);
}

TEST(CoveringFrame, HandsAreMirrorImages) {
  const auto one = frame_templates(covering_frame(twisted_blade(0.7, 0.05)).value());
  const auto other =
      frame_templates(covering_frame(twisted_blade(0.7, 0.05, Hand::anticlockwise)).value());
  ASSERT_EQ(one.size(), other.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    ASSERT_EQ(one[i].lines.size(), other[i].lines.size());
    if (one[i].name.find("cross") == std::string::npos) continue;
    for (std::size_t j = 0; j < one[i].lines.size(); ++j) {
      for (std::size_t k = 0; k < one[i].lines[j].points_m.size(); ++k) {
        EXPECT_EQ(one[i].lines[j].points_m[k].first, 0 - other[i].lines[j].points_m[k].first);
      }
    }
  }
}

TEST(CoveringFrame, RefusesToReachOverTheShaft) {
  FrameOptions wide;
  wide.margin_m = 0.045;
  const auto refused = covering_frame(twisted_blade(0.7, 0.05), wide);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().kind, base::Kind::no_solution);
}

}  // namespace
}  // namespace propwright::form
