#include "propwright/form/built_up.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "propwright/base/constants.h"
#include "propwright/form/cylinder.h"

namespace propwright::form {
namespace {

/// A helical blade of one chord between two radii.
Surface even_blade(double pitch_m, double chord_m, double camber, Lay lay = Lay::across) {
  std::vector<SurfaceRow> rows;
  for (int i = 0; i <= 20; ++i) {
    rows.push_back({0.04 + 0.006 * i, pitch_m, camber, 0.4 * chord_m, 0.6 * chord_m});
  }
  return Surface::make(rows, Hand::clockwise, lay).value();
}

TEST(Ribs, StandEvenlyAndKeepTheArcOfTheBlade) {
  const Surface blade = even_blade(0.6, 0.05, 0.06);
  const auto all = ribs(blade, {.count = 5}).value();
  ASSERT_EQ(all.size(), 5u);
  for (std::size_t i = 0; i < all.size(); ++i) {
    EXPECT_NEAR(all[i].radius_m, 0.04 + 0.02 * all[i].number, 1e-12);
    EXPECT_NEAR(all[i].chord_m, 0.05, 1e-12);
    // An arc of height h over a chord c has the radius (c^2/4 + h^2)/2h.
    const double h = 0.06 * 0.05;
    EXPECT_NEAR(all[i].arc_radius_m, (0.05 * 0.05 / 4 + h * h) / (2 * h), 1e-12);
    EXPECT_NEAR(all[i].arc_m, 2 * all[i].arc_radius_m * std::asin(0.025 / all[i].arc_radius_m),
                1e-12);
  }
}

// A flat blade of straight taper: the strip lies along an edge that leans by atan(slope) from the
// spar line, and takes strip/cos(slope) off the rib at each end.
TEST(Ribs, AreTrimmedAlongTheStrip) {
  std::vector<SurfaceRow> rows;
  for (int i = 0; i <= 20; ++i) {
    const double r = 0.05 + 0.005 * i;
    // A pitch of 1e9 m stands the blade upright: the section square to the spar stays flat.
    rows.push_back({r, 1e9, 0, 0.03 - 0.2 * (r - 0.05), 0.02 - 0.1 * (r - 0.05)});
  }
  const Surface blade = Surface::make(rows, Hand::clockwise, Lay::across).value();
  const double strip = 0.0008;
  const auto all = ribs(blade, {.count = 4, .strip_m = strip}).value();
  for (const Rib& rib : all) {
    const double lead = std::atan(0.2), trail = std::atan(0.1);
    // Differences over 1e-5 of the blade: 1e-6 of an angle.
    EXPECT_NEAR(std::abs(rib.lead_cut_rad), lead, 1e-6);
    EXPECT_NEAR(std::abs(rib.trail_cut_rad), trail, 1e-6);
    EXPECT_NEAR(rib.trimmed_m, rib.chord_m - strip / std::cos(lead) - strip / std::cos(trail),
                1e-9);
  }
}

TEST(Ribs, RefuseWhatCannotBe) {
  const Surface blade = even_blade(0.6, 0.05, 0.06);
  const auto refused = ribs(blade, {.count = 0, .depth_m = 0, .thickness_m = 1, .strip_m = -1});
  ASSERT_FALSE(refused);
  ASSERT_EQ(refused.error().size(), 4u);
  EXPECT_EQ(refused.error()[0].field, "ribs.count");
  EXPECT_EQ(refused.error()[3].allowed, "0 mm to 5 mm");
}

TEST(RibSlices, OneTemplateServesRibsOfOneChordExactly) {
  const auto all = ribs(even_blade(0.6, 0.05, 0.06), {.count = 6}).value();
  const RibOptions wood{.count = 6, .depth_m = 0.00125};
  const RibSlices slices = rib_slices(all, wood, {.blades = 2, .step_m = 1e-5}).value();
  EXPECT_EQ(slices.slices, 12);
  EXPECT_EQ(slices.cuts, 13);
  EXPECT_EQ(slices.steps, 125);
  // The shallow height c^2/8R is 1 + 4k^2 times the exact one: 1.4 % of 6 %.
  for (const double camber : slices.cambers) EXPECT_NEAR(camber, 0.06, 0.06 * 0.016);
}

// Steps of 0.001 in that do not divide the depth: the error of any stop is at most half a step.
TEST(RibSlices, RoundedStopsDoNotAddUp) {
  const auto all = ribs(even_blade(0.6, 0.05, 0.06), {.count = 8}).value();
  const double step = 25.4e-6;
  const RibSlices slices =
      rib_slices(all, {.depth_m = 0.00121}, {.blades = 4, .step_m = step}).value();
  ASSERT_EQ(slices.stops_m.size(), 33u);
  for (std::size_t cut = 0; cut < slices.stops_m.size(); ++cut) {
    EXPECT_LE(std::abs(slices.stops_m[cut] - 0.00121 * static_cast<double>(cut)), step / 2 + 1e-12);
    EXPECT_NEAR(slices.stops_m[cut] / step, std::round(slices.stops_m[cut] / step), 1e-6);
  }
}

TEST(RibSlices, TheTemplateIsAsLongAsTheLongestRibAndItsSpare) {
  const auto all = ribs(even_blade(0.6, 0.05, 0.06), {}).value();
  const RibSlices slices = rib_slices(all, {}, {.spare_m = 0.004}).value();
  const Template blank = blank_template(all, slices, Hand::clockwise);
  double length = 0;
  const auto& cut = blank.lines.front().points_m;
  for (std::size_t i = 1; i + 2 < cut.size(); ++i) {
    length += std::hypot(cut[i].first - cut[i - 1].first, cut[i].second - cut[i - 1].second);
  }
  // 80 chords of an arc of 0.9 rad: short by (0.9/80)^2/24 = 5e-6.
  EXPECT_NEAR(length, all.front().arc_m + 0.008, 1e-5 * length);
}

// A flat rectangle: two edges and the tip's chord.
TEST(OutlineStrip, GoesRoundAFlatRectangle) {
  const Surface blade = even_blade(1e9, 0.05, 0);
  const OutlineStrip strip = outline_strip(blade, 0.0006, 0.010);
  EXPECT_NEAR(strip.length_m, 2 * 0.12 + 0.05, 1e-9);
  EXPECT_NEAR(strip.cut_length_m, strip.length_m + 0.020, 1e-12);
  EXPECT_TRUE(strip.corner_at_tip);
  EXPECT_EQ(strip.tightest_radius_m, 0);
}

// An edge at the distance a from the axis of a helicoid, square sections laid on cylinders: a helix
// about the shaft has length sqrt(r^2 + p^2) times the turn. Here the rulings are the sections:
// for a flat blade laid across, each edge is r -> (r, a cos(t), a sin(t)), tan(t) = p/r, whose
// length is the integral of sqrt(1 + a^2 t'^2), t' = -p/(r^2 + p^2).
TEST(OutlineStrip, OfATwistedBladeIsTheIntegralOfItsTwist) {
  const double pitch = 0.5, p = pitch / (2 * base::pi), chord = 0.06;
  const OutlineStrip strip = outline_strip(even_blade(pitch, chord, 0), 0.0006, 0);
  double expected = chord;
  for (const double a : {0.4 * chord, 0.6 * chord}) {
    constexpr int n = 2000;  // Simpson
    for (int i = 0; i <= n; ++i) {
      const double r = 0.04 + 0.12 * i / n, twist = a * p / (r * r + p * p);
      const double weight = i == 0 || i == n ? 1 : i % 2 == 1 ? 4 : 2;
      expected += weight * std::sqrt(1 + twist * twist) * 0.12 / n / 3;
    }
  }
  EXPECT_NEAR(strip.length_m, expected, 1e-6 * expected);
}

// A round disc standing on edge: bent everywhere to its own radius.
TEST(OutlineStrip, FeelsTheBendOfARoundTip) {
  const double radius = 0.03, root = 0.05;
  std::vector<SurfaceRow> rows;
  for (int i = 0; i <= 400; ++i) {
    const double along = radius * std::sin(base::pi / 2 * i / 400);
    const double half = std::sqrt(std::max(0.0, radius * radius - along * along));
    rows.push_back({root + along, 1e9, 0, half, half});
  }
  const Surface blade = Surface::make(rows, Hand::clockwise, Lay::across).value();
  const OutlineStrip strip = outline_strip(blade, 0.0006, 0);
  EXPECT_FALSE(strip.corner_at_tip);
  EXPECT_NEAR(strip.length_m, base::pi * radius, 1e-4 * radius);
  // Points on the chords of the sampled edge, not on the circle: within 1 %.
  EXPECT_NEAR(strip.tightest_radius_m, radius, 0.01 * radius);
  EXPECT_NEAR(strip.bending_strain, bending_strain(strip.tightest_radius_m, 0.0006), 1e-15);
}

TEST(SparSlots, FollowTheTaperAndSayWhereTheSparIsDeeper) {
  const auto all = ribs(even_blade(0.6, 0.05, 0.06), {.count = 5}).value();
  const SparTaper spar{0.05, 0.10, 0.002, 0.0018, 0.001, 0.0008};
  const auto slots = spar_slots(all, spar, 0.0012);
  // Ribs at 60, 80, 100, 120, 140 mm; the spar runs from 50 to 150.
  ASSERT_EQ(slots.size(), 5u);
  EXPECT_NEAR(slots[0].along_m, 0.010, 1e-12);
  EXPECT_NEAR(slots[0].width_m, 0.0019, 1e-12);
  EXPECT_NEAR(slots[0].depth_m, 0.0017, 1e-12);
  EXPECT_TRUE(slots[0].through);
  EXPECT_FALSE(slots[4].through);
  EXPECT_EQ(spar_slots(all, {0.05, 0.04, 0.002, 0.002, 0.001, 0.001}, 0.0012).size(), 2u);
}

}  // namespace
}  // namespace propwright::form
