// Blades formed on a cylinder, against a sheet really laid on one.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/data/data.h"
#include "propwright/form/cylinder.h"
#include "propwright/form/form.h"

namespace propwright::form {
namespace {

using base::degree_rad;
using base::pi;
using testing::HasSubstr;

constexpr double tin_m = 0.05;

/// A straight line of the sheet, at `across` beside the blade's axis, on the cylinder about z.
std::array<double, 3> on_cylinder(double a, double skew, double along, double across) {
  const double axial = along * std::cos(skew) - across * std::sin(skew);
  const double round = along * std::sin(skew) + across * std::cos(skew);
  return {a * std::cos(round / a), a * std::sin(round / a), axial};
}

TEST(Cylinder, TwistIsThatOfTheChordCarriedAlongTheAxis) {
  // The chord's direction relative to the parallel-carried one, by differences: the surface normal
  // turns about the axis by the geodesic torsion.
  const double a = tin_m, skew = 15 * degree_rad, h = 1e-5;
  const auto at = [&](double x, double y) { return on_cylinder(a, skew, x, y); };
  const auto difference = [&](const auto& p, const auto& q, double over) {
    return std::array<double, 3>{(p[0] - q[0]) / over, (p[1] - q[1]) / over, (p[2] - q[2]) / over};
  };
  const auto normal_at = [&](double x) {
    const double round = x * std::sin(skew);
    return std::array<double, 3>{std::cos(round / a), std::sin(round / a), 0.0};
  };
  const auto across = difference(at(0, h), at(0, -h), 2 * h);
  const auto turn = difference(normal_at(h), normal_at(-h), 2 * h);
  const double twist = turn[0] * across[0] + turn[1] * across[1] + turn[2] * across[2];
  EXPECT_NEAR(twist / cylinder_twist_rad_per_m(a, skew), 1, 1e-8);
}

TEST(Cylinder, CurvaturesAddToThatOfTheCylinder) {
  for (const double skew : {0.0, 0.2, 0.7}) {
    EXPECT_DOUBLE_EQ(cylinder_chordwise_curvature_per_m(tin_m, skew) +
                         cylinder_spanwise_curvature_per_m(tin_m, skew),
                     1 / tin_m);
    // A developable surface: no Gaussian curvature.
    const double t = cylinder_twist_rad_per_m(tin_m, skew);
    EXPECT_NEAR(cylinder_chordwise_curvature_per_m(tin_m, skew) *
                    cylinder_spanwise_curvature_per_m(tin_m, skew),
                t * t, 1e-12);
  }
}

TEST(Cylinder, CamberIsTheHeightOfTheRealSection) {
  // Points of the cylinder in the plane square to the axis at x = 0: find the height by the
  // distance of the axis point from the chord's middle.
  const double a = tin_m, skew = 0.3, chord = 0.04;
  // In that plane the cylinder is an ellipse of half axes a and a/cos(skew).
  const double half = chord / 2,
               height = a - a * std::sqrt(1 - std::pow(half * std::cos(skew) / a, 2));
  EXPECT_NEAR(cylinder_camber(a, skew, chord), height / chord, 1e-15);
  EXPECT_EQ(cylinder_camber(a, skew, 0), 0);
  // Shallow: c/(8 rho), to (c cos/2a)^2/4.
  EXPECT_NEAR(cylinder_camber(a, skew, 1e-3),
              1e-3 / 8 * cylinder_chordwise_curvature_per_m(a, skew), 6e-8);
}

TEST(Cylinder, SkewGivesTheTwistBack) {
  for (const double twist : {0.0, 1.0, 5.0, 9.99}) {
    const auto skew = skew_for_twist(tin_m, twist);
    ASSERT_TRUE(skew);
    // asin near 1 loses half the digits.
    EXPECT_NEAR(cylinder_twist_rad_per_m(tin_m, *skew), twist, 1e-8);
  }
}

TEST(Cylinder, ThatCannotTwistSoMuchIsRefusedWithTheDiameterThatCan) {
  const auto skew = skew_for_twist(tin_m, 12.5);
  ASSERT_FALSE(skew);
  EXPECT_EQ(skew.error().front().kind, base::Kind::no_solution);
  EXPECT_THAT(base::to_line(skew.error().front()), HasSubstr("up to 80.0 mm"));
}

std::vector<WantedStation> helix_wanted(double pitch_m) {
  std::vector<WantedStation> wanted;
  for (double r = 0.04; r < 0.2; r += 0.01)
    wanted.push_back({r, 0.04, blade_angle_rad(pitch_m, r), 1});
  return wanted;
}

TEST(CylinderFit, IsBetterThanItsNeighbours) {
  const auto wanted = helix_wanted(0.7);
  const auto fit = fit_cylinder(tin_m, wanted);
  ASSERT_TRUE(fit);
  const auto square = [&](double skew, double lift) {
    double sum = 0;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
      const double angle =
          fit->stations[0].angle_rad + lift -
          cylinder_twist_rad_per_m(tin_m, skew) * (wanted[i].radius_m - wanted[0].radius_m);
      sum += std::pow(angle - wanted[i].angle_rad, 2);
    }
    return sum;
  };
  const double best = square(fit->skew_rad, 0);
  EXPECT_NEAR(std::sqrt(best / static_cast<double>(wanted.size())), fit->rms_angle_error_rad,
              1e-12);
  for (const double skew : {-1e-3, 1e-3}) EXPECT_GT(square(fit->skew_rad + skew, 0), best);
  for (const double lift : {-1e-3, 1e-3}) EXPECT_GT(square(fit->skew_rad, lift), best);
}

TEST(CylinderFit, OfALineIsExact) {
  std::vector<WantedStation> wanted;
  for (const double r : {0.05, 0.1, 0.18}) wanted.push_back({r, 0.03, 1.2 - 4 * r, 1});
  const auto fit = fit_cylinder(tin_m, wanted);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->rms_angle_error_rad, 0, 1e-14);
  EXPECT_NEAR(fit->twist_rad_per_m, 4, 1e-12);
}

TEST(CylinderFit, FreeGivesTheWantedCamberAtTheMeanChord) {
  const auto fit = fit_free_cylinder(0.06, helix_wanted(0.7));
  ASSERT_TRUE(fit);
  EXPECT_NEAR(cylinder_twist_rad_per_m(fit->cylinder_radius_m, fit->skew_rad), fit->twist_rad_per_m,
              1e-12);
  // The ellipse and the circle of its curvature part with the fourth power of the chord.
  EXPECT_NEAR(fit->stations[0].camber, 0.06, 0.06 * 0.02);
}

TEST(CylinderFit, RefusesAChordWiderThanTheCylinder) {
  const std::vector<WantedStation> wanted{{0.05, 0.03, 0.9}, {0.10, 0.05, 0.8}, {0.15, 0.02, 0.7}};
  const auto refused = fit_cylinder(0.02, wanted);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().field, "form.cylinder");
  EXPECT_NE(refused.error().front().message.find("50.0 mm at radius 100.0 mm"), std::string::npos);
  EXPECT_TRUE(fit_cylinder(0.03, wanted));
}

TEST(CylinderFit, RefusesABladeThatGainsAngleOutwards) {
  EXPECT_FALSE(fit_cylinder(tin_m, {{0.05, 0.04, 0.5, 1}, {0.1, 0.04, 0.8, 1}}));
  EXPECT_FALSE(fit_free_cylinder(0.06, {{0.05, 0.04, 0.5, 1}, {0.1, 0.04, 0.8, 1}}));
  EXPECT_FALSE(fit_cylinder(tin_m, {{0.05, 0.04, 0.5, 1}}));
}

TEST(LayoutLine, IsAsLongAsTheBladeAndTwistsLikeTheHelix) {
  const double pitch = 0.7, p = pitch / (2 * pi);
  const auto line = layout_line(tin_m, 0.04, 0.19, pitch, 301);
  ASSERT_TRUE(line);
  double length = 0, angle = blade_angle_rad(pitch, 0.04);
  for (std::size_t i = 1; i < line->x_m.size(); ++i) {
    length += std::hypot(line->x_m[i] - line->x_m[i - 1], line->y_m[i] - line->y_m[i - 1]);
    const double before = cylinder_twist_rad_per_m(tin_m, line->skew_rad[i - 1]),
                 after = cylinder_twist_rad_per_m(tin_m, line->skew_rad[i]);
    angle -= (before + after) / 2 * (line->radius_m[i] - line->radius_m[i - 1]);
  }
  // Chords of a bent line, and the trapezoid: both of second order in steps of 0.5 mm.
  EXPECT_NEAR(length, 0.15, 1e-7);
  EXPECT_NEAR(angle, blade_angle_rad(pitch, 0.19), 1e-5);
  EXPECT_NEAR(line->skew_rad.back(), std::asin(2 * tin_m * p / (0.19 * 0.19 + p * p)) / 2, 1e-15);
}

TEST(LayoutLine, NamesTheRadiusWhereTheCylinderCannotFollow) {
  // Near the axis a helix of 0.4 m twists by 1/p = 15.7 rad/m; a 200 mm cylinder by 5 at most.
  const auto line = layout_line(0.1, 0.02, 0.19, 0.4);
  ASSERT_FALSE(line);
  EXPECT_THAT(line.error().front().message, HasSubstr("at radius 20.0 mm"));
}

TEST(LayoutLine, RefusesWhatIsNoBladeOrCylinder) {
  const auto field_of = [](double a, double root, double tip, double pitch) {
    const auto line = layout_line(a, root, tip, pitch);
    return line ? std::string{"taken"} : line.error().front().field;
  };
  EXPECT_EQ(field_of(tin_m, 0.04, 0.19, 0.7), "taken");
  EXPECT_EQ(field_of(0, 0.04, 0.19, 0.7), "form.cylinder");
  EXPECT_EQ(field_of(tin_m, 0.04, 0.19, 0), "form.pitch");
  EXPECT_EQ(field_of(tin_m, 0.19, 0.04, 0.7), "form.radius");
  EXPECT_EQ(field_of(tin_m, 0.04, std::nan(""), 0.7), "form.radius");
  EXPECT_THROW((void)layout_line(tin_m, 0.04, 0.19, 0.7, 1), std::invalid_argument);
}

TEST(CheckBend, TellsTheLeastCylinderForASheet) {
  EXPECT_TRUE(check_bend(0.05, 0.0006, 0.02));
  const auto refused = check_bend(0.01, 0.0006, 0.02);
  ASSERT_FALSE(refused);
  EXPECT_THAT(base::to_line(refused.error().front()), HasSubstr("29.4 mm"));
  // At the diameter it names, the strain is the limit.
  EXPECT_NEAR(bending_strain(0.0294 / 2, 0.0006), 0.02, 1e-12);
}

TEST(CylinderList, OfTheProgramIsRead) {
  const auto list = read_cylinders(data::file("cylinders.csv"), "cylinders.csv");
  ASSERT_TRUE(list);
  EXPECT_GE(list->size(), 10u);
  EXPECT_EQ(list->front().name, "tube 40 mm");
  EXPECT_DOUBLE_EQ(list->front().diameter_m, 0.04);
}

TEST(CylinderList, NamesTheLineThatIsWrong) {
  const auto list = read_cylinders("name,diameter_mm\nkeg,4000\n", "mine.csv");
  ASSERT_FALSE(list);
  EXPECT_THAT(base::to_line(list.error().front()), HasSubstr("mine.csv:2"));
}

}  // namespace
}  // namespace propwright::form
