// The parametric outline keeps its promises: widest, root, tip, smoothness; rows and problems.
#include <gmock/gmock.h>

#include <cmath>
#include <stdexcept>

#include "random_blades.h"

namespace propwright::form {
namespace {

RC_GTEST_PROP(Outline, WidestAndRootChordsAreExactAndTipIsZero, ()) {
  const auto shape = random_shape();
  RC_ASSERT(outline_chord_m(shape, shape.widest_at * shape.tip_radius_m) == shape.widest_chord_m);
  RC_ASSERT(outline_chord_m(shape, shape.root_radius_m) == shape.root_chord_m);
  RC_ASSERT(outline_chord_m(shape, shape.tip_radius_m) == 0);
}

RC_GTEST_PROP(Outline, ChordIsPositiveInsideAndNowhereAboveTheWidest, ()) {
  const auto shape = random_shape();
  for (int i = 0; i < 500; ++i) {
    const double radius =
        shape.root_radius_m + (shape.tip_radius_m - shape.root_radius_m) * i / 500;
    const double chord = outline_chord_m(shape, radius);
    RC_ASSERT(chord > 0);
    // A weighted mean of two chords: one rounding above the greater at the most.
    RC_ASSERT(chord <= shape.widest_chord_m * (1 + 3e-16));
  }
}

RC_GTEST_PROP(Outline, SlopeIsContinuousThroughTheWidestPoint, ()) {
  const auto shape = random_shape();
  const double widest = shape.widest_at * shape.tip_radius_m, h = 1e-6 * shape.tip_radius_m;
  const double inner = (shape.widest_chord_m - outline_chord_m(shape, widest - h)) / h;
  const double outer = (outline_chord_m(shape, widest + h) - shape.widest_chord_m) / h;
  // Both are level; the one-sided difference is curvature times h/2. Curvature is at most
  // 2 c/(0.15 R)^2 inside and 2 c/(0.2 R)^2 outside, c at most 0.3 R.
  RC_ASSERT(std::abs(inner) < 3e-5);
  RC_ASSERT(std::abs(outer) < 3e-5);
}

RC_GTEST_PROP(Outline, TipGoesWithTheRoundnessPower, ()) {
  const auto shape = random_shape();
  const double tip = shape.tip_radius_m;
  const double near = outline_chord_m(shape, tip * (1 - 1e-6));
  const double nearer = outline_chord_m(shape, tip * (1 - 1e-8));
  // (1 + t)^roundness differs from its end value by 1e-6/(1 - widest), 1 - 0.8 at the most.
  RC_ASSERT(std::abs(std::log(near / nearer) / std::log(100.0) - shape.tip_roundness) < 1e-5);
}

RC_GTEST_PROP(Outline, RowsSplitTheChordAtTheSpar, ()) {
  const auto shape = random_shape();
  const auto rows = outline(shape, 40).value();
  RC_ASSERT(rows.size() == 40U);
  RC_ASSERT(rows.front().radius_m == shape.root_radius_m);
  RC_ASSERT(rows.back().radius_m == shape.tip_radius_m);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    // One rounding of a chord of up to 0.09 m is 1.4e-17.
    RC_ASSERT(std::abs(rows[i].lead_m + rows[i].trail_m - rows[i].chord_m) < 3e-17);
    RC_ASSERT(std::abs(rows[i].lead_m - shape.spar_position * rows[i].chord_m) < 3e-17);
    if (i > 1) {
      const double step = rows[i].radius_m - rows[i - 1].radius_m;
      RC_ASSERT(step > 0);
      RC_ASSERT(step < rows[i - 1].radius_m - rows[i - 2].radius_m);
    }
  }
}

TEST(Outline, HalfRoundnessIsAnEllipseOutboard) {
  OutlineShape shape{.tip_radius_m = 0.2,
                     .root_radius_m = 0.02,
                     .widest_chord_m = 0.04,
                     .widest_at = 0.5,
                     .root_chord_m = 0.01};
  // Half-axes 0.1 and 0.04: at 0.6 of the way the ellipse stands at 0.8.
  EXPECT_NEAR(outline_chord_m(shape, 0.16), 0.032, 1e-16);
}

TEST(Outline, EveryMemberOutOfRangeIsNamed) {
  OutlineShape shape{.tip_radius_m = 0.2,
                     .root_radius_m = 0.1,
                     .widest_chord_m = 0.04,
                     .widest_at = 0.4,
                     .root_chord_m = 0.05,
                     .tip_roundness = 3,
                     .spar_position = -0.1};
  const auto rows = outline(shape, 2);
  ASSERT_FALSE(rows);
  std::vector<std::string> fields;
  for (const auto& problem : rows.error()) fields.push_back(problem.field);
  EXPECT_THAT(fields, ::testing::ElementsAre("widest_at", "root_chord_m", "tip_roundness",
                                             "spar_position", "count"));
  shape.tip_radius_m = std::nan("");
  EXPECT_FALSE(outline(shape, 40));
}

TEST(OutlineFromChords, RowsCarryTheTable) {
  const auto rows = outline_from_chords({0.05, 0.1}, {0.02, 0.04}, 0.25);
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[1].radius_m, 0.1);
  EXPECT_EQ(rows[1].chord_m, 0.04);
  EXPECT_EQ(rows[1].lead_m, 0.01);
  EXPECT_EQ(rows[1].trail_m, 0.03);
}

TEST(OutlineFromChords, UnequalListsAreABug) {
  EXPECT_THROW(outline_from_chords({0.05}, {0.02, 0.04}, 0.25), std::invalid_argument);
}

}  // namespace
}  // namespace propwright::form
