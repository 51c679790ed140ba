// The carved block against the surface it is carved to.
#include "propwright/form/block.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "random_blades.h"

namespace propwright::form {
namespace {

Surface block_surface(Hand hand, double camber = 0.06, double pitch_m = 0.6) {
  const auto rows = outline({.tip_radius_m = 0.23,
                             .root_radius_m = 0.03,
                             .widest_chord_m = 0.05,
                             .root_chord_m = 0.015},
                            40)
                        .value();
  return Surface::make(surface_rows({.pitch_m = pitch_m, .camber = camber, .hand = hand}, rows),
                       hand, Lay::across)
      .value();
}

TEST(Block, DepthOverWidthIsPitchOverTheCircumference) {
  // Common practice: a carved block's depth to width is P to 2 pi r.
  const double pitch = 0.6;
  const auto block =
      carved_block(block_surface(Hand::clockwise), {0.04, 0.08, 0.12, 0.2, 0.229}, {}).value();
  for (const BlockStation& s : block.stations) {
    EXPECT_NEAR(s.depth_over_width, pitch / (2 * base::pi * s.radius_m), 1e-9) << s.radius_m;
  }
}

TEST(Block, WithoutAllowanceHasTheChordsOwnWidthAndDepth) {
  const Surface surface = block_surface(Hand::clockwise);
  BlockOptions options;
  options.edge_allowance_m = 0;
  const Block block = carved_block(surface, {0.05, 0.1, 0.2}, options).value();
  for (const BlockStation& s : block.stations) {
    const double chord = surface.chord_m(s.radius_m), angle = surface.angle_rad(s.radius_m);
    EXPECT_NEAR(s.width_m, chord * std::cos(angle), 1e-9);
    EXPECT_NEAR(s.depth_m, chord * std::sin(angle), 1e-9);
  }
}

RC_GTEST_PROP(Block, HoldsTheWholeFaceAndIsTheLeastBoxThatDoes, ()) {
  const Surface surface = block_surface(Hand::clockwise, *between(0, 0.12), *between(0.2, 1.0));
  BlockOptions options;
  options.base_m = *between(0.002, 0.03);
  const auto block = carved_block(surface, {}, options).value();
  const double spar = block.contour.front().spar_height_m;
  double low = 1, high = 0, left = 0, right = 0;
  for (int i = 0; i <= 400; ++i) {
    const double r = surface.root_m() + (surface.tip_m() - surface.root_m()) * i / 400;
    const double width = surface.sheet_width_m(r), share = surface.spar_share(r);
    for (int k = 0; k <= 40; ++k) {
      const double a = options.edge_allowance_m;
      const Point p = surface.along_arc(r, -share * width - a + (width + 2 * a) * k / 40);
      low = std::min(low, p.z_m + spar), high = std::max(high, p.z_m + spar);
      left = std::max(left, -p.y_m), right = std::max(right, p.y_m);
    }
  }
  // Both are samples of the same smooth face; the finer one may stand out by the square of a step:
  // 2 mm along, 2.5 mm across, over radii of curvature of 50 mm and more.
  const double step = 5e-5;
  RC_ASSERT(std::abs(low - options.base_m) < step);
  RC_ASSERT(std::abs(high - block.height_m) < step);
  RC_ASSERT(std::abs(left - block.trail_side_m) < step);
  RC_ASSERT(std::abs(right - block.lead_side_m) < step);
}

TEST(Block, PlanTakesInTheOverhangOfASteepHollowSection) {
  // At 80 degrees with an arc whose half angle is 27 degrees, the trailing part leans back over.
  const Surface surface = block_surface(Hand::clockwise, 0.12, 1.2);
  const double r = 0.034, width = surface.sheet_width_m(r), share = surface.spar_share(r);
  double reach = 0;
  for (int i = 0; i <= 2000; ++i) {
    reach = std::max(reach, -surface.along_arc(r, -share * width + width * i / 2000).y_m);
  }
  BlockOptions options;
  options.edge_allowance_m = 0;
  const Block block = carved_block(surface, {r}, options).value();
  const BlockStation& s = block.stations.front();
  EXPECT_GT(s.trail_reach_m, s.trail_m + 1e-4);
  // 24 steps across a section of 20 mm with a radius of 20 mm: step^2/(8 R) = 4e-6 m.
  EXPECT_NEAR(s.trail_reach_m, reach, 5e-6);
}

void expect_mirrored(const Template& right, const Template& left) {
  ASSERT_EQ(right.lines.size(), left.lines.size());
  for (std::size_t i = 0; i < right.lines.size(); ++i) {
    const auto &a = right.lines[i].points_m, &b = left.lines[i].points_m;
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
      EXPECT_EQ(a[k].first, -b[k].first);
      EXPECT_EQ(a[k].second, b[k].second);
    }
  }
}

TEST(BlockTemplates, OfTheHandsAreMirrorImagesAndSayWhichTheyAre) {
  const auto right = carved_block(block_surface(Hand::clockwise), {0.05, 0.1}, {}).value();
  const auto left = carved_block(block_surface(Hand::anticlockwise), {0.05, 0.1}, {}).value();
  expect_mirrored(block_side_template(right), block_side_template(left));
  expect_mirrored(block_plan_template(right), block_plan_template(left));
  const auto says = [](const Drawing& drawing, const char* word) {
    return std::any_of(drawing.texts.begin(), drawing.texts.end(),
                       [&](const auto& t) { return t.text.find(word) != std::string::npos; });
  };
  EXPECT_TRUE(says(block_plan_template(right), "turns clockwise"));
  EXPECT_TRUE(says(block_plan_template(left), "turns anticlockwise"));
}

TEST(BlockTemplates, AreAsLongWideAndHighAsTheBox) {
  const auto block = carved_block(block_surface(Hand::clockwise), {0.1}, {}).value();
  const auto extent = [](const Template& drawing, auto member) {
    double low = 1, high = -1;
    for (const auto& p : drawing.lines[0].points_m) {
      low = std::min(low, p.*member), high = std::max(high, p.*member);
    }
    return high - low;
  };
  using Pair = std::pair<double, double>;
  EXPECT_NEAR(extent(block_side_template(block), &Pair::first), block.length_m, 1e-12);
  EXPECT_NEAR(extent(block_plan_template(block), &Pair::first), block.length_m, 1e-12);
  // The stations asked for take part in the box but not in the contour: a tenth of a micron.
  EXPECT_NEAR(extent(block_side_template(block), &Pair::second), block.height_m, 1e-7);
  EXPECT_NEAR(extent(block_plan_template(block), &Pair::second), block.width_m, 1e-7);
}

TEST(Block, NamesWhatIsOutOfRange) {
  const Surface surface = block_surface(Hand::clockwise);
  EXPECT_EQ(carved_block(surface, {0.3}, {}).error().front().field, "block.stations");
  EXPECT_EQ(carved_block(surface, {}, {.edge_allowance_m = 0.2}).error().front().field,
            "block.edge_allowance");
  EXPECT_EQ(carved_block(surface, {}, {.base_m = 0}).error().front().field, "block.base");
}

}  // namespace
}  // namespace propwright::form
