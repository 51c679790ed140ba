#include "propwright/bench/tube.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::bench {
namespace {

RolledTube tissue_tube() {
  return {.mandrel_diameter_m = 2e-3,
          .paper_thickness_m = 0.03e-3,
          .paper_areal_mass_kg_m2 = 12e-3,
          .glue_areal_mass_kg_m2 = 5e-3,
          .wraps = 5,
          .length_m = 12e-3};
}

/// The same length by a polygon of many sides.
double polygon_length(double first, double lap, double wraps, int steps) {
  double length = 0, x = first, y = 0;
  for (int i = 1; i <= steps; ++i) {
    const double angle = 2 * base::pi * wraps * i / steps;
    const double r = first + lap * angle / (2 * base::pi);
    length += std::hypot(r * std::cos(angle) - x, r * std::sin(angle) - y);
    x = r * std::cos(angle), y = r * std::sin(angle);
  }
  return length;
}

TEST(Spiral, OfNoThicknessIsACircle) {
  EXPECT_NEAR(spiral_length_m(1e-3, 0, 4), 8e-3 * base::pi, 1e-15);
  // Circles of the laps' mean radius on both sides of where the formula changes; above it the
  // difference of two terms of 80 m leaves 1e-14 m.
  for (const double lap : {0.9e-9, 1.1e-9}) {
    EXPECT_NEAR(spiral_length_m(1e-3, lap, 4), 8 * base::pi * (1e-3 + 2 * lap), 1e-13);
  }
}

RC_GTEST_PROP(Spiral, LengthIsThatOfAFinePolygon, ()) {
  const double first = *rc::gen::inRange(2, 100) * 1e-4, wraps = *rc::gen::inRange(4, 80) / 4.0;
  const double lap = *rc::gen::inRange(1, 200) * 1e-6;
  const double exact = spiral_length_m(first, lap, wraps);
  // Sides fall short by (angle step)^2/24 each: 20 turns in 20,000 steps is 1.6e-6.
  RC_ASSERT(std::abs(polygon_length(first, lap, wraps, 20000) / exact - 1) < 2e-6);
  // Laps as circles of their mean radius differ only by the slope: below (lap/2 pi r)^2/2.
  const double circles = 2 * base::pi * wraps * (first + wraps * lap / 2);
  const double slope = lap / (2 * base::pi * first);
  RC_ASSERT(exact >= circles * (1 - 1e-12));
  RC_ASSERT(exact <= circles * (1 + slope * slope / 2) * (1 + 1e-12));
}

TEST(Tube, WallBoreAndMassAreThoseOfItsLaps) {
  RolledTube t = tissue_tube();
  t.glue_areal_mass_kg_m2 = 0;
  t.bore_gain_m = 0.02e-3;
  const auto f = tube_figures(t).value();
  EXPECT_NEAR(f.wall_m.value, 5 * 0.03e-3, 1e-15);
  EXPECT_EQ(f.wall_m.sigma, 0);
  EXPECT_NEAR(f.bore_m, 2.02e-3, 1e-15);
  EXPECT_NEAR(f.outside_diameter_m.value, 2.32e-3, 1e-15);
  // Cross-section of paper = length times thickness = annulus, but for the slope of the laps.
  const double annulus = base::pi / 4 * (2.3e-3 * 2.3e-3 - 2e-3 * 2e-3);
  EXPECT_NEAR(f.paper_length_m.value * 0.03e-3 / annulus, 1, 2e-5);
  EXPECT_NEAR(f.mass_kg.value, f.paper_length_m.value * 12e-3 * 12e-3, 1e-15);
}

TEST(Tube, GlueSitsBetweenTheLapsOrInThePaper) {
  const auto f = tube_figures(tissue_tube()).value();
  const double glue_m = 5e-3 / 1400;
  EXPECT_NEAR(f.wall_m.value, 5 * (0.03e-3 + glue_m / 2), 1e-15);
  EXPECT_NEAR(f.wall_m.sigma, 5 * glue_m / std::sqrt(12.0), 1e-15);
  EXPECT_NEAR(f.glue_mass_kg.value / f.paper_mass_kg.value, 5.0 / 12, 1e-12);
  EXPECT_GT(f.mass_kg.sigma, 0.07 * f.mass_kg.value);  // 10 % of each, independent: 7.6 %
  EXPECT_LT(f.mass_kg.sigma, 0.1 * f.mass_kg.value);
}

RC_GTEST_PROP(Tube, WrapsForAMassGiveThatMass, ()) {
  RolledTube t = tissue_tube();
  t.wraps = *rc::gen::inRange(10, 400) / 10.0;
  const double wanted = tube_figures(t).value().mass_kg.value;
  const auto choice = wraps_for_mass(t, wanted).value();
  RC_ASSERT(std::abs(choice.exact - t.wraps) < 1e-6);
  RC_ASSERT(choice.below <= choice.exact + 1e-6);
  RC_ASSERT(choice.above >= choice.exact - 1e-6);
  RC_ASSERT(choice.mass_below_kg.value <= wanted * (1 + 1e-9));
  RC_ASSERT(choice.mass_above_kg.value >= wanted * (1 - 1e-9));
}

TEST(Tube, LighterThanOneWrapHasNothingBelow) {
  const auto choice = wraps_for_mass(tissue_tube(), 0.5e-6).value();
  EXPECT_EQ(choice.below, 0);
  EXPECT_EQ(choice.above, 1);
  EXPECT_GT(choice.mass_above_kg.value, 0.5e-6);
}

TEST(Tube, BadMembersAreNamed) {
  RolledTube t = tissue_tube();
  t.paper_thickness_m = 1e-3;
  t.wraps = 0.5;
  const auto f = tube_figures(t);
  ASSERT_FALSE(f.has_value());
  ASSERT_EQ(f.error().size(), 2u);
  EXPECT_EQ(f.error()[0].field, "paper_thickness_m");
  EXPECT_EQ(f.error()[1].field, "wraps");
  EXPECT_EQ(wraps_for_mass(tissue_tube(), 1).error()[0].field, "wanted_mass_kg");
}

TEST(Root, CircleOfSquareRoundAndRounded) {
  EXPECT_NEAR(root_circle_m({.width_m = 2e-3, .depth_m = 2e-3}), 2e-3 * std::sqrt(2.0), 1e-15);
  EXPECT_NEAR(root_circle_m({.width_m = 2e-3, .depth_m = 2e-3, .corner_radius_m = 1e-3}), 2e-3,
              1e-15);
  EXPECT_NEAR(root_circle_m({.width_m = 3e-3, .depth_m = 4e-3}), 5e-3, 1e-15);
}

TEST(Mandrel, IsTheThinnestThatLeavesTheAllowance) {
  const SparRoot root{.width_m = 1.4e-3, .depth_m = 1.4e-3};  // circle 1.980 mm
  const std::vector<double> wires{2.5e-3, 1.6e-3, 2.0e-3, 2.05e-3};
  const auto choice = choose_mandrel(root, wires).value();
  ASSERT_TRUE(choice.fits.has_value());
  EXPECT_EQ(choice.fits->index, 3u);  // 2.00 leaves 0.020 of the 0.030 mm wanted
  EXPECT_NEAR(choice.fits->clearance_m, 2.05e-3 - 1.4e-3 * std::sqrt(2.0), 1e-15);
  EXPECT_EQ(choice.next_below->index, 2u);
  const auto widened = choose_mandrel(root, wires, 0.02e-3).value();
  EXPECT_EQ(widened.fits->index, 2u);
}

TEST(Mandrel, AllTooThinLeavesOnlyTheNextBelow) {
  const auto choice = choose_mandrel({.width_m = 3e-3, .depth_m = 3e-3}, {1e-3, 2e-3}).value();
  EXPECT_FALSE(choice.fits.has_value());
  EXPECT_EQ(choice.next_below->index, 1u);
  EXPECT_LT(choice.next_below->clearance_m, 0);
  EXPECT_EQ(choose_mandrel({.width_m = 3e-3, .depth_m = 3e-3}, {}).error()[0].field, "mandrels_m");
  EXPECT_EQ(choose_mandrel({.width_m = 0, .depth_m = 3e-3}, {1e-3}).error()[0].field, "width_m");
}

}  // namespace
}  // namespace propwright::bench
