// Strip width, mass per length and loop.
#include "propwright/rubber/strip.h"
#include "propwright/rubber/usual_strip.h"

#include <gmock/gmock.h>

namespace propwright::rubber {
namespace {

TEST(Strip, WidthInInchesIsAboutOneAndAHalfTimesGramsPerInch) {
  // Builders' archive (2007, 2010), for strip about 0.042 in thick; "about" is taken as 3 %.
  const double gram_per_inch = 0.060;
  const auto strip = strip_figures({.thickness_m = 0.042 * 0.0254,
                                    .density_kg_m3 = 965,
                                    .line_density_kg_m = gram_per_inch * 1e-3 / 0.0254})
                         .value();
  EXPECT_NEAR(strip.width_m / 0.0254 / gram_per_inch, 1.5, 0.045);
}

TEST(Strip, PostedLoopsOfSixTenthsOfAGramHaveTheirPostedMassPerMetre) {
  // Builders' archive, 2008: 0.6 g loops of 9.8 in at 1.2 g/m, 8.4 in at 1.4, 7.4 in at 1.6. The
  // lengths are told to 0.1 in, the masses per length to 0.1 g/m: 4 % together.
  const double posted[][2] = {{9.8, 1.2}, {9.1, 1.3}, {8.4, 1.4}, {7.9, 1.5}, {7.4, 1.6}};
  for (const auto& [inches, gram_per_m] : posted) {
    const auto strip = strip_figures({.loop_length_m = inches * 0.0254, .mass_kg = 0.6e-3}).value();
    EXPECT_NEAR(1e3 * strip.line_density_kg_m / gram_per_m, 1, 0.04) << inches;
  }
}

TEST(Strip, LoopOfAMassIsAsLongAsItsStrandsTogetherOverTheirNumber) {
  const auto strip = strip_figures({.width_m = 2e-3,
                                    .thickness_m = 1e-3,
                                    .density_kg_m3 = 950,
                                    .strands = 4,
                                    .mass_kg = 1.52e-3})
                         .value();
  EXPECT_NEAR(strip.section_m2, 8e-6, 1e-18);
  EXPECT_NEAR(strip.line_density_kg_m, 1.9e-3, 1e-15);
  EXPECT_NEAR(strip.loop_length_m.value(), 0.2, 1e-12);
  EXPECT_TRUE(strip.notes.empty());
}

TEST(Strip, WhatIsLeftOutFollowsFromTheRestOrIsSaidToBeAssumed) {
  const auto density =
      strip_figures({.width_m = 2e-3, .thickness_m = 1e-3, .line_density_kg_m = 1.86e-3}).value();
  EXPECT_NEAR(density.density_kg_m3, 930, 1e-9);
  const auto assumed = strip_figures({.width_m = 2e-3}).value();
  EXPECT_EQ(assumed.notes.size(), 2u);
  EXPECT_NEAR(assumed.section_m2, 2 * 2e-3 * usual_strip_thickness_m, 1e-18);
}

TEST(Strip, WhatDoesNotFitIsTold) {
  const auto nothing = strip_figures({});
  ASSERT_FALSE(nothing);
  EXPECT_EQ(nothing.error()[0].field, "width_m");
  // A single strand's length taken for the loop's doubles the section.
  const auto heavy = strip_figures(
      {.width_m = 2e-3, .thickness_m = 1e-3, .loop_length_m = 0.2, .mass_kg = 1.5e-3});
  ASSERT_FALSE(heavy);
  EXPECT_EQ(heavy.error()[0].field, "density_kg_m3");
  const auto apart =
      strip_figures(
          {.width_m = 2e-3, .thickness_m = 1e-3, .density_kg_m3 = 930, .line_density_kg_m = 2.1e-3})
          .value();
  EXPECT_THAT(apart.notes, ::testing::Contains(::testing::HasSubstr("one of them is off")));
}

}  // namespace
}  // namespace propwright::rubber
