// Drawings of flat patterns and layout lines.
#include "propwright/form/pattern_template.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::form {
namespace {

FlatPattern pattern_of_hand(Hand hand) {
  const OutlineShape shape{.tip_radius_m = 0.195,
                           .root_radius_m = 0.034,
                           .widest_chord_m = 0.046,
                           .widest_at = 0.6,
                           .root_chord_m = 0.016};
  const Form form{.pitch_m = 0.76, .camber = 0.06};
  const auto rows = surface_rows(form, outline(shape, 40).value());
  return flat_pattern(Surface::make(rows, hand, Lay::helical).value()).value();
}

TEST(PatternTemplate, CutLineGoesThroughTheEdgesOfThePattern) {
  const FlatPattern pattern = pattern_of_hand(Hand::clockwise);
  const Template drawing = pattern_template(pattern);
  const TemplateLine& cut = drawing.lines.front();
  EXPECT_EQ(cut.kind, TemplateLine::Kind::cut);
  EXPECT_TRUE(cut.closed);
  for (std::size_t i = 0; i < pattern.stations.size(); ++i) {
    EXPECT_EQ(cut.points_m[i].first, pattern.stations[i].lead.across_m);
    EXPECT_EQ(cut.points_m[i].second, pattern.stations[i].lead.along_m);
  }
  EXPECT_EQ(cut.points_m.back().first, pattern.stations.front().trail.across_m);
  EXPECT_EQ(cut.points_m.back().second, pattern.stations.front().trail.along_m);
}

TEST(PatternTemplate, OfTheOtherHandIsTheMirrorImage) {
  const Template one = pattern_template(pattern_of_hand(Hand::clockwise)),
                 two = pattern_template(pattern_of_hand(Hand::anticlockwise));
  ASSERT_EQ(one.lines.size(), two.lines.size());
  for (std::size_t i = 0; i < one.lines.size(); ++i) {
    for (std::size_t j = 0; j < one.lines[i].points_m.size(); ++j) {
      EXPECT_EQ(one.lines[i].points_m[j].first, -two.lines[i].points_m[j].first);
      EXPECT_EQ(one.lines[i].points_m[j].second, two.lines[i].points_m[j].second);
    }
  }
}

// Looking at a can from outside, tip up, the blade of a clockwise propeller is seen from in front:
// its leading edge is the left one and must fall back towards the tip. Wrapped round the can, the
// drawn line must turn the surface so.
TEST(LayoutLineTemplate, TwistsTheLeadingEdgeBackTowardsTheTip) {
  constexpr double a = 0.05;
  const LayoutLine line = layout_line(a, 0.04, 0.19, 0.7).value();
  for (const Hand hand : {Hand::clockwise, Hand::anticlockwise}) {
    const Template drawing = layout_line_template(line, a, hand);
    const auto& curve = drawing.lines.front().points_m;
    const double leading_side = hand == Hand::clockwise ? -1 : 1;  // on the page: left or right
    // Wrapped: x of the page goes round to the viewer's right, y up; the viewer looks along -depth.
    // The direction to the leading edge lies in the surface, square to the blade's axis.
    const auto depth_of_leading_edge = [&](std::size_t i) {
      const double dx = curve[i + 1].first - curve[i].first,
                   dy = curve[i + 1].second - curve[i].second;
      const double round = (curve[i].first - curve.front().first) / a;
      const double along_x = leading_side * dy / std::hypot(dx, dy);
      // The surface's own x direction at this place falls away to the side by -sin(round).
      return along_x * -std::sin(round);
    };
    EXPECT_LT(depth_of_leading_edge(curve.size() - 2), depth_of_leading_edge(0) - 0.05);
    // A root further out than the tip: the axis leans to the leading edge's side.
    EXPECT_GT(leading_side * (curve.back().first - curve.front().first), 0.01);
  }
}

TEST(LayoutLineTemplate, IsAtTrueScale) {
  const LayoutLine line = layout_line(0.05, 0.04, 0.19, 0.7).value();
  const auto curve = layout_line_template(line, 0.05, Hand::clockwise).lines.front().points_m;
  double length = 0;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    length +=
        std::hypot(curve[i].first - curve[i - 1].first, curve[i].second - curve[i - 1].second);
  }
  EXPECT_NEAR(length, 0.15, 1e-6);
}

}  // namespace
}  // namespace propwright::form
