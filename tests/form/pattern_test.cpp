// Flat patterns: exact where the surface can be unrolled, and the least strain elsewhere.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/flat_pattern.h"

namespace propwright::form {
namespace {

using base::pi;

Surface usual_blade(double pitch_m, double camber, Hand hand = Hand::clockwise,
                    Lay lay = Lay::helical) {
  const OutlineShape shape{.tip_radius_m = 0.195,
                           .root_radius_m = 0.034,
                           .widest_chord_m = 0.046,
                           .widest_at = 0.6,
                           .root_chord_m = 0.016};
  const Form form{.pitch_m = pitch_m, .camber = camber};
  return Surface::make(surface_rows(form, outline(shape, 40).value()), hand, lay).value();
}

TEST(Fermi, LengthIsThatOfTheGeodesicOnTheSurface) {
  // Along the geodesic of the answer, laid out in many small steps, the point is reached.
  const double pitch = 0.7, p = pitch / (2 * pi), r = 0.08, psi = 0.35;
  const FlatPoint flat = helicoid_fermi(pitch, r, psi);
  double radius = flat.along_m, turn = 0, length = 0;
  const double clairaut = std::sqrt(radius * radius + p * p), step = 2e-7;
  double q = 0;  // r^2 = r0^2 + q^2
  while (turn < psi) {
    const double middle = std::hypot(flat.along_m, q + step / 2);
    const double metric = std::sqrt(middle * middle + p * p);
    length += metric / middle * step;
    turn += clairaut / (metric * middle) * step;
    q += step;
  }
  radius = std::hypot(flat.along_m, q);
  EXPECT_NEAR(radius, r, 1e-6);
  EXPECT_NEAR(length, flat.across_m, 1e-6);
}

TEST(Fermi, IsPlanePolarWhereThePitchIsNothing) {
  const FlatPoint flat = helicoid_fermi(1e-9, 0.1, 0.4);
  EXPECT_NEAR(flat.along_m, 0.1 * std::cos(0.4), 1e-9);
  EXPECT_NEAR(flat.across_m, 0.1 * std::sin(0.4), 1e-9);
}

TEST(Fermi, OfTheOtherSideIsTheMirrorImage) {
  const FlatPoint one = helicoid_fermi(0.7, 0.1, 0.3), two = helicoid_fermi(0.7, 0.1, -0.3);
  EXPECT_EQ(one.along_m, two.along_m);
  EXPECT_EQ(one.across_m, -two.across_m);
}

TEST(FlatPattern, OfAFlatBladeIsTheBladeItself) {
  // A pitch of a micrometre is a flat disc; straight sections set across it are its own outline.
  const auto pattern = flat_pattern(usual_blade(1e-6, 0, Hand::clockwise, Lay::across));
  ASSERT_TRUE(pattern);
  EXPECT_EQ(pattern->method, PatternMethod::geodesic);
  EXPECT_NEAR(pattern->worst_stretch, 0, 1e-9);
  EXPECT_NEAR(pattern->area_ratio, 1, 1e-9);
  EXPECT_EQ(pattern->arc_difference_m, 0);
}

/// A trough: camber of one curvature on a straight, untwisted blade is a piece of a cylinder.
Surface trough() {
  std::vector<SurfaceRow> rows;
  for (int i = 0; i <= 8; ++i) {
    // The same chord and camber at every station: the same circle.
    rows.push_back({0.05 + 0.01 * i, 1e-9, 0.1, 0.016, 0.024});
  }
  return Surface::make(rows, Hand::clockwise, Lay::across).value();
}

TEST(FlatPattern, OfACylinderIsWithoutStrain) {
  const auto pattern = flat_pattern(trough(), {.least_strain = true});
  ASSERT_TRUE(pattern);
  EXPECT_EQ(pattern->method, PatternMethod::least_strain);
  // Facets instead of the arc: chords of 1/12 of 0.79 rad are 1.8e-4 shorter, and everywhere so,
  // so that the sheet of the facets lies without strain. The plain pattern is all but the answer:
  // what is left is the twist by a pitch of a nanometre, 1e-10, and rounding.
  EXPECT_NEAR(pattern->worst_stretch, 0, 1e-9);
  EXPECT_NEAR(pattern->worst_squeeze, 0, 1e-9);
  EXPECT_NEAR(pattern->area_ratio, 1, 1e-12);
}

TEST(FlatPattern, OfAConeIsASectorWithoutStrain) {
  // Sections that grow with the distance from the shaft are straight lines through its axis: a
  // cone, whose facets unroll. The plain pattern it starts from is not its sector.
  std::vector<SurfaceRow> rows;
  for (int i = 0; i <= 8; ++i) {
    const double r = 0.05 + 0.01 * i;
    rows.push_back({r, 1e-9, 0.1, 0.2 * r, 0.3 * r});
  }
  const Surface cone = Surface::make(rows, Hand::clockwise, Lay::across).value();
  const auto pattern = flat_pattern(cone, {.least_strain = true});
  ASSERT_TRUE(pattern);
  // It ends when a step moves less than 1e-6 of the length, with ten times that to go, over half
  // chords of 0.2 of the length.
  EXPECT_NEAR(pattern->worst_stretch, 0, 1e-4);
  EXPECT_NEAR(pattern->worst_squeeze, 0, 1e-4);
  EXPECT_NEAR(pattern->area_ratio, 1, 1e-8);  // strains squared
  // Every point is as far from the apex on the sheet as on the cone; 1e-5 of the length.
  for (std::size_t i = 0; i < pattern->flat.size(); ++i) {
    const Point& p = pattern->space[i];
    EXPECT_NEAR(std::hypot(pattern->flat[i].along_m, pattern->flat[i].across_m),
                std::hypot(p.x_m, p.y_m, p.z_m), 2e-6);
  }
  EXPECT_GT(pattern->arc_difference_m, 1e-4);
}

TEST(FlatPattern, GeodesicKeepsTheSparAndWhatIsSquareToIt) {
  const auto pattern = flat_pattern(usual_blade(0.76, 0));
  ASSERT_TRUE(pattern);
  EXPECT_EQ(pattern->method, PatternMethod::geodesic);
  for (const PatternStation& station : pattern->stations) {
    EXPECT_NEAR(station.spar.along_m, station.radius_m, 1e-15);
    EXPECT_NEAR(station.spar.across_m, 0, 1e-15);
  }
  EXPECT_GT(pattern->area_ratio, 1);
}

TEST(FlatPattern, EdgeOfTheGeodesicOneIsStrainedAsGaussSays) {
  // -K y^2/2 (edge_estimate) and the next order, (K y^2)^2/24 and the change of K along y: 2 %. A
  // triangle is as strained as its outer side, a third of its width outside its middle: 3 %.
  const auto pattern = flat_pattern(usual_blade(0.76, 0), {.stations = 96, .across = 48});
  ASSERT_TRUE(pattern);
  EXPECT_NEAR(pattern->worst_stretch, pattern->edge_estimate, 0.05 * pattern->edge_estimate);
}

TEST(FlatPattern, LeastStrainIsLessThanTheGeodesicsAndNearIt) {
  const Surface blade = usual_blade(0.76, 0);
  const auto geodesic = flat_pattern(blade), least = flat_pattern(blade, {.least_strain = true});
  ASSERT_TRUE(geodesic && least);
  const auto worst = [](const FlatPattern& p) {
    return std::max(p.worst_stretch, p.worst_squeeze);
  };
  EXPECT_LT(worst(*least), worst(*geodesic));
  // Outlines differ by at most the worst strain over the length of the blade.
  for (std::size_t i = 0; i < least->stations.size(); ++i) {
    const FlatPoint a = least->stations[i].lead, b = geodesic->stations[i].lead;
    EXPECT_LT(std::hypot(a.along_m - b.along_m, a.across_m - b.across_m), worst(*geodesic) * 0.16);
  }
}

TEST(FlatPattern, OfTheOtherHandIsTheSame) {
  const auto one = flat_pattern(usual_blade(0.76, 0.06, Hand::clockwise)),
             two = flat_pattern(usual_blade(0.76, 0.06, Hand::anticlockwise));
  ASSERT_TRUE(one && two);
  EXPECT_EQ(one->worst_stretch, two->worst_stretch);
  for (std::size_t i = 0; i < one->flat.size(); ++i) {
    EXPECT_EQ(one->flat[i].along_m, two->flat[i].along_m);
    EXPECT_EQ(one->flat[i].across_m, two->flat[i].across_m);
  }
}

TEST(FlatPattern, OfACamberedBladeIsWiderThanItsChord) {
  const Surface blade = usual_blade(0.76, 0.08);
  const auto pattern = flat_pattern(blade);
  ASSERT_TRUE(pattern);
  const PatternStation& widest = pattern->stations[20];
  const double width = std::hypot(widest.lead.along_m - widest.trail.along_m,
                                  widest.lead.across_m - widest.trail.across_m);
  EXPECT_GT(width, blade.chord_m(widest.radius_m));
  EXPECT_NEAR(width / blade.sheet_width_m(widest.radius_m), 1, 0.01);
  EXPECT_GT(pattern->arc_difference_m, 0);
}

TEST(FlatPattern, IsTheSameWithFinerTriangles) {
  const Surface blade = usual_blade(0.76, 0.06);
  const auto coarse = flat_pattern(blade, {.stations = 48, .across = 12}),
             fine = flat_pattern(blade, {.stations = 96, .across = 24});
  ASSERT_TRUE(coarse && fine);
  for (std::size_t i = 0; i < coarse->stations.size(); ++i) {
    const FlatPoint a = coarse->stations[i].trail, b = fine->stations[2 * i].trail;
    EXPECT_LT(std::hypot(a.along_m - b.along_m, a.across_m - b.across_m), 5e-5) << i;
  }
  EXPECT_NEAR(coarse->worst_stretch, fine->worst_stretch, 0.1 * fine->worst_stretch);
}

TEST(FlatPattern, IsJudgedByTheLimit) {
  const Surface blade = usual_blade(0.5, 0.06);
  EXPECT_TRUE(flat_pattern(blade, {.limit = {.strain = 0.2}})->within_limit);
  EXPECT_FALSE(flat_pattern(blade, {.limit = {.strain = 1e-4}})->within_limit);
}

TEST(FlatPattern, RefusesAGridThatIsTooCoarse) {
  const auto refused = flat_pattern(usual_blade(0.7, 0), {.across = 2});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().field, "form.pattern_across");
}

}  // namespace
}  // namespace propwright::form
