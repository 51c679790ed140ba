#include "propwright/flex/choice.h"

#include <gtest/gtest.h>

#include "flex_blade.h"

namespace propwright::flex {
namespace {

Parts choice_parts() {
  Parts parts;
  const double hub = flex_test::hub_m, tip = flex_test::tip_m;
  for (int i = 0; i <= 20; ++i) {
    const double r = hub + (tip - hub) * i / 20;
    parts.plan.push_back({r, flex_test::chord_m(r), flex_test::angle_rad(r), 0.06});
  }
  const spar::Section in{.width_m = 2.4e-3, .depth_m = 2.4e-3};
  const spar::Section out{.width_m = 1.1e-3, .depth_m = 1.1e-3};
  parts.spar = SparPart{.taper = spar::taper(in, {}, out, tip - 0.006),
                        .root_radius_m = 0.006,
                        .position = 0.35,
                        .wood = {.density_kg_m3 = 100}};
  parts.built_up = BuiltUpPart{.edge_size_m = 0.8e-3,
                               .rib_count = 8,
                               .rib_depth_m = 1.2e-3,
                               .rib_thickness_m = 0.6e-3,
                               .wood = {.density_kg_m3 = 90}};
  parts.film = {.mass_kg_m2 = 0.6e-3, .sides = 1};
  return parts;
}

const ChoiceState launch_state{1.2e-3, 0.8, flex_test::air};

TEST(FlareChart, SparFurtherBackAndSofterFlareMore) {
  const auto chart = flare_chart(flex_test::make_rotor(), choice_parts(), launch_state,
                                 {0.30, 0.36, 0.42}, {1.0, 3.0})
                         .value();
  ASSERT_EQ(chart.size(), 6U);
  for (const FlareChoice& c : chart) ASSERT_TRUE(c.holds) << c.problem;
  for (std::size_t i = 2; i < chart.size(); ++i) {
    EXPECT_GT(chart[i].flare_rad, chart[i - 2].flare_rad) << chart[i].spar_position;
  }
  for (std::size_t i = 0; i < chart.size(); i += 2) {
    EXPECT_LT(std::abs(chart[i + 1].flare_rad), std::abs(chart[i].flare_rad));
    EXPECT_EQ(chart[i].pitch_rise_m > 0, chart[i].flare_rad > 0);
    EXPECT_GT(chart[i].margin, 1);
  }
}

TEST(FlareChart, BladeThatDoesNotHoldIsARow) {
  const auto chart =
      flare_chart(flex_test::make_rotor(), choice_parts(), launch_state, {0.35, 0.75}, {1.0, 0.05})
          .value();
  EXPECT_TRUE(chart.front().holds);
  EXPECT_FALSE(chart.back().holds);
  EXPECT_NE(chart.back().problem, "");
}

TEST(FlareChart, NeedsASpar) {
  Parts parts = choice_parts();
  parts.spar.reset();
  EXPECT_FALSE(flare_chart(flex_test::make_rotor(), parts, launch_state, {0.3}, {1.0}));
  EXPECT_FALSE(spar_ends(parts, {1.0}));
}

TEST(SparEnds, ShorterSparSavesMassAndBreaksUnderLess) {
  const auto ends = spar_ends(choice_parts(), {1.0, 0.8, 0.6}).value();
  ASSERT_EQ(ends.size(), 3U);
  for (std::size_t i = 1; i < ends.size(); ++i) {
    EXPECT_LT(ends[i].mass_kg, ends[i - 1].mass_kg);
    EXPECT_LE(ends[i].flapwise.load_N, ends[i - 1].flapwise.load_N);
  }
  // Cut at 0.6 the edges alone carry the tip, and break where the spar ends.
  EXPECT_NEAR(ends.back().flapwise.break_radius_m, 0.6 * flex_test::tip_m, 1e-4);
  EXPECT_FALSE(spar_ends(choice_parts(), {0.04}));
}

}  // namespace
}  // namespace propwright::flex
