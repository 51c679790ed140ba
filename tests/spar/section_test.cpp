// Sections and tapers.
#include "propwright/spar/section.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "test_spars.h"

namespace propwright::spar {
namespace {

/// Area and second moments by strips across the depth, from the outline alone.
struct ByStrips {
  double area = 0, i_0 = 0;
};
ByStrips strips(const Section& s, int n) {
  ByStrips sum;
  const double h = s.depth_m / n, r = s.corner_radius_m;
  for (int i = 0; i < n; ++i) {
    const double y = -s.depth_m / 2 + (i + 0.5) * h;
    const double into = std::max(0.0, std::abs(y) - (s.depth_m / 2 - r));
    const double width = s.width_m - 2 * (r - std::sqrt(r * r - into * into));
    sum.area += width * h;
    sum.i_0 += width * h * (y * y + h * h / 12);
  }
  return sum;
}

TEST(Section, RectangleHasWidthTimesDepthCubedOverTwelve) {
  const SecondMoments i = second_moments({Shape::rectangular, 1e-3, 2e-3, 0});
  EXPECT_DOUBLE_EQ(i.i_0_m4, 8e-12 / 12);
  EXPECT_DOUBLE_EQ(i.i_90_m4, 2e-12 / 12);
}

TEST(Section, RoundHasPiDToTheFourthOverSixtyFourAndTwiceThatInTorsion) {
  const Section round{Shape::round, 2e-3, 2e-3, 0};
  EXPECT_DOUBLE_EQ(second_moments(round).i_0_m4, base::pi * 16e-12 / 64);
  EXPECT_DOUBLE_EQ(torsion_constant_m4(round), base::pi * 16e-12 / 32);
}

TEST(Section, RoundedSquareAgreesWithStripsOfItsOutline) {
  const Section s{Shape::rounded_square, 1.6e-3, 2.0e-3, 0.3e-3};
  const ByStrips expected = strips(s, 200'000);
  // Midpoint strips at the corners' vertical tangents: error of order h^1.5, here 1e-8.
  EXPECT_NEAR(area_m2(s) / expected.area, 1, 1e-7);
  EXPECT_NEAR(second_moments(s).i_0_m4 / expected.i_0, 1, 1e-7);
}

TEST(Section, RoundedSquareRunsFromSquareToRound) {
  const Section square{Shape::square, 2e-3, 2e-3, 0}, round{Shape::round, 2e-3, 2e-3, 0};
  const Section sharp{Shape::rounded_square, 2e-3, 2e-3, 0};
  const Section full{Shape::rounded_square, 2e-3, 2e-3, 1e-3};
  // Identities in exact arithmetic; 1e-12 for the roundings of a dozen operations.
  EXPECT_NEAR(second_moments(sharp).i_0_m4 / second_moments(square).i_0_m4, 1, 1e-12);
  EXPECT_NEAR(second_moments(full).i_0_m4 / second_moments(round).i_0_m4, 1, 1e-12);
  EXPECT_NEAR(area_m2(full) / area_m2(round), 1, 1e-12);
  EXPECT_NEAR(torsion_constant_m4(sharp) / torsion_constant_m4(square), 1, 1e-12);
  EXPECT_NEAR(torsion_constant_m4(full) / torsion_constant_m4(round), 1, 1e-12);
}

TEST(Section, RoundedCornersInTorsionAgreeWithFiniteDifferences) {
  // The membrane equation solved on squares of 1/60 of the depth with boundary distances, for this
  // test: good for 0.3 %.
  struct Solved {
    double width, radius, torsion;
  };
  for (const auto& [width, radius, torsion] :
       {Solved{1, 0.1, 0.14030}, Solved{1, 0.2, 0.13775}, Solved{1, 0.4, 0.11730},
        Solved{1.5, 0.2, 0.29052}, Solved{2, 0.3, 0.44576}, Solved{2, 0.5, 0.40463}}) {
    EXPECT_NEAR(torsion_constant_m4({Shape::rounded_square, width, 1, radius}) / torsion, 1, 0.015);
  }
}

RC_GTEST_PROP(Section, ATurnOfAQuarterSwapsItsMomentsAndKeepsItsTorsion, ()) {
  const Shape shape = *rc::gen::element(Shape::rectangular, Shape::round, Shape::rounded_square);
  const double w = test::drawn(0.5e-3, 3e-3), d = test::drawn(0.5e-3, 3e-3);
  const double r = test::drawn(0, 1) * std::min(w, d) / 2;
  const Section one{shape, w, d, r}, turned{shape, d, w, r};
  RC_ASSERT(std::abs(second_moments(one).i_0_m4 / second_moments(turned).i_90_m4 - 1) < 1e-12);
  RC_ASSERT(std::abs(torsion_constant_m4(one) / torsion_constant_m4(turned) - 1) < 1e-12);
}

TEST(Taper, MiddleIsAtHalfTheLengthAndSizesAreLinearBetween) {
  const Taper t = taper({Shape::square, 2e-3, 2e-3, 0}, Section{Shape::square, 1.6e-3, 1.5e-3, 0},
                        {Shape::square, 1e-3, 1e-3, 0}, 0.2);
  EXPECT_DOUBLE_EQ(length_m(t), 0.2);
  EXPECT_DOUBLE_EQ(section_at(t, 0.05).width_m, 1.8e-3);
  EXPECT_DOUBLE_EQ(section_at(t, 0.15).depth_m, 1.25e-3);
  EXPECT_DOUBLE_EQ(section_at(t, 0.3).depth_m, 1e-3);
}

TEST(Taper, SquareTaperHasTheVolumeOfAFrustum) {
  // Root area * L * (1 + k + k^2)/3.
  const Taper t =
      taper({Shape::square, 2e-3, 2e-3, 0}, {}, {Shape::square, 0.8e-3, 0.8e-3, 0}, 0.2);
  EXPECT_NEAR(volume_m3(t) / (4e-6 * 0.2 * (1 + 0.4 + 0.16) / 3), 1, 1e-14);
}

TEST(Taper, NamesEverySizeThatCannotBe) {
  const Taper t =
      taper({Shape::square, 0, 2e-3, 0}, {}, {Shape::rounded_square, 1e-3, -1e-3, 0}, 0.2);
  const base::Problems found = problems(t);
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].field, "width_root_m");
  EXPECT_EQ(found[1].field, "depth_tip_m");
  EXPECT_EQ(found[1].value, "-0.001 m");
}

TEST(Taper, ASizeInTheWrongUnitIsNoticed) {
  const Taper t = taper({Shape::square, 2, 2, 0}, Section{Shape::square, 1e-3, std::nan(""), 0},
                        {Shape::square, 1e-3, 1e-3, 0}, 0.2);
  const base::Problems found = problems(t);
  ASSERT_EQ(found.size(), 3u);
  EXPECT_EQ(found[2].field, "depth_mid_m");
}

TEST(Taper, NamesTheLengthACornerAndTheOrderOfATable) {
  const Section s{Shape::rounded_square, 1e-3, 1e-3, 0.6e-3};
  EXPECT_EQ(problems(taper(s, {}, s, 0)).front().field, "length_m");
  EXPECT_EQ(problems(taper(s, {}, s, 0.1)).front().field, "corner_radius_root_m");
  const Section plain{Shape::round, 1e-3, 1e-3, 0};
  const Taper table{{{0, plain}, {0.1, plain}, {0.05, plain}, {0.2, plain}}};
  EXPECT_EQ(problems(table).front().field, "x_m[2]");
}

}  // namespace
}  // namespace propwright::spar
