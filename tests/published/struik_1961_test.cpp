// Blades on a cylinder and the twist of a helicoid against theorems of D. J. Struik, Lectures on
// Classical Differential Geometry, 2nd edition (1961), from memory: Euler's theorem, Bonnet's
// geodesic torsion, curvature and torsion of the circular helix, Beltrami and Enneper on asymptotic
// lines. The cylinder's curves are differentiated here, from their points.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/cylinder.h"
#include "propwright/form/surface.h"

namespace propwright::form {
namespace {

using base::degree_rad;
using Vector = std::array<double, 3>;

constexpr double cylinder_m = 0.05;
constexpr std::array skews_rad{0.0, 11.2 * degree_rad, 15 * degree_rad, 30 * degree_rad,
                               45 * degree_rad};

double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Vector difference(const Vector& a, const Vector& b, double over) {
  return {(a[0] - b[0]) / over, (a[1] - b[1]) / over, (a[2] - b[2]) / over};
}

/// A straight line of the unrolled sheet, leaning by an angle from the cylinder's axis.
struct Line {
  double lean_rad;
  double round_rad(double s) const { return s * std::sin(lean_rad) / cylinder_m; }
  Vector at(double s) const {
    return {cylinder_m * std::cos(round_rad(s)), cylinder_m * std::sin(round_rad(s)),
            s * std::cos(lean_rad)};
  }
  Vector outwards(double s) const { return {std::cos(round_rad(s)), std::sin(round_rad(s)), 0}; }
  Vector tangent(double s) const {
    constexpr double h = 1e-5;
    return difference(at(s + h), at(s - h), 2 * h);
  }
  /// Towards the inside of the cylinder.
  double normal_curvature_per_m() const {
    constexpr double h = 1e-4;
    return -dot(difference(tangent(h), tangent(-h), 2 * h), outwards(0));
  }
  /// Turn of the surface's normal about the line, per length.
  double geodesic_torsion_per_m() const {
    constexpr double h = 1e-5;
    return dot(difference(outwards(h), outwards(-h), 2 * h), cross(tangent(0), outwards(0)));
  }
};

TEST(Struik1961, EulersTheoremGivesBothCurvaturesOfABladeOnACylinder) {
  for (const double skew : skews_rad) {
    const Line spar{skew}, chord{skew - base::pi / 2};
    // Of 20 per m; differences by 0.1 mm on 50 mm: (h/a)^2/6 = 7e-7 of it.
    EXPECT_NEAR(spar.normal_curvature_per_m(), cylinder_spanwise_curvature_per_m(cylinder_m, skew),
                2e-5);
    EXPECT_NEAR(chord.normal_curvature_per_m(),
                cylinder_chordwise_curvature_per_m(cylinder_m, skew), 2e-5);
  }
}

TEST(Struik1961, BonnetsGeodesicTorsionIsTheTwistOfABladeOnACylinder) {
  for (const double skew : skews_rad) {
    // Of 10 per m at most; differences by 0.01 mm: (h/a)^2 = 4e-8 of it.
    EXPECT_NEAR(std::abs(Line{skew}.geodesic_torsion_per_m()),
                cylinder_twist_rad_per_m(cylinder_m, skew), 1e-6);
    // The chord's torsion is the opposite: the sum over two right angles is nothing.
    EXPECT_NEAR(
        Line{skew}.geodesic_torsion_per_m() + Line{skew - base::pi / 2}.geodesic_torsion_per_m(), 0,
        1e-6);
  }
}

TEST(Struik1961, SparOnACylinderIsACircularHelix) {
  // Curvature a/(a^2 + b^2), torsion b/(a^2 + b^2); b the climb per radian, a/tan(skew).
  for (const double skew : skews_rad) {
    if (skew == 0) continue;
    const double b = cylinder_m / std::tan(skew), square = cylinder_m * cylinder_m + b * b;
    EXPECT_NEAR(cylinder_spanwise_curvature_per_m(cylinder_m, skew), cylinder_m / square, 1e-12);
    EXPECT_NEAR(cylinder_twist_rad_per_m(cylinder_m, skew), b / square, 1e-12);
  }
}

TEST(Struik1961, TwistOfAHelicoidsSparIsTheRootOfItsCurvature) {
  // Beltrami and Enneper: an asymptotic line, as the straight spar, has the torsion sqrt(-K).
  constexpr double pitch_m = 0.7;
  std::vector<SurfaceRow> rows;
  for (const double r : {0.03, 0.1, 0.2}) rows.push_back({r, pitch_m, 0, 0.01, 0.01});
  const Surface surface = Surface::make(rows, Hand::clockwise, Lay::helical).value();
  for (const double r : {0.05, 0.12, 0.19}) {
    const double h = 1e-6;
    const double twist = (surface.angle_rad(r - h) - surface.angle_rad(r + h)) / (2 * h);
    // Truncation (h/r)^2 and rounding 1e-16/h, of some rad per m.
    EXPECT_NEAR(twist, std::sqrt(-helicoid_curvature_per_m2(pitch_m, r)), 1e-8);
  }
}

TEST(Struik1961, NoCylinderTwistsMoreThanAtFortyFiveDegrees) {
  // The largest geodesic torsion of a cylinder, at 45 degrees, is 1/(2a).
  const auto skew = skew_for_twist(cylinder_m, 1 / (2 * cylinder_m));
  ASSERT_TRUE(skew);
  EXPECT_NEAR(*skew, base::pi / 4, 1e-7);  // asin at 1: the root of the rounding
  EXPECT_FALSE(skew_for_twist(cylinder_m, 1.0001 / (2 * cylinder_m)));
}

}  // namespace
}  // namespace propwright::form
