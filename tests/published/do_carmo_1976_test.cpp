// The form's surface and its flat pattern against theorems of M. P. do Carmo, Differential Geometry
// of Curves and Surfaces (1976), statements and section numbers from memory: Gauss-Bonnet (4-5),
// Gauss's lemma (4-6), Jacobi's equation (5-5), Clairaut's relation (4-4) on the helicoid.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/flat_pattern.h"
#include "propwright/form/surface.h"

namespace propwright::form {
namespace {

constexpr double pitch_m = 0.76, inner_m = 0.05, outer_m = 0.18, half_turn_rad = 0.25;
constexpr double climb_m = pitch_m / (2 * base::pi);

double helix_length_per_turn(double radius_m) {
  return std::hypot(radius_m, climb_m);
}

Surface helicoid() {
  std::vector<SurfaceRow> rows;
  for (const double r : {0.03, 0.1, 0.2}) rows.push_back({r, pitch_m, 0, 0.1, 0.1});
  return Surface::make(rows, Hand::clockwise, Lay::helical).value();
}

/// Integral over the patch inner..outer, -half_turn..half_turn, of a function of the fundamental
/// forms, by Gauss-Legendre with five points on each of eight strips along and one across.
template <class F>
double over_patch(const F& density) {
  constexpr std::array node{0.0, 0.5384693101056831, 0.9061798459386640};
  constexpr std::array weight{0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
  const Surface surface = helicoid();
  const auto gauss = [&](double from, double to, const auto& f) {
    const double middle = (from + to) / 2, half = (to - from) / 2;
    double sum = weight[0] * f(middle);
    for (int i = 1; i < 3; ++i) {
      sum += weight[i] * (f(middle - half * node[i]) + f(middle + half * node[i]));
    }
    return half * sum;
  };
  constexpr int strips = 8;
  constexpr double strip_m = (outer_m - inner_m) / strips;
  double total = 0;
  for (int i = 0; i < strips; ++i) {
    total += gauss(inner_m + i * strip_m, inner_m + (i + 1) * strip_m, [&](double r) {
      const double reach = half_turn_rad * helix_length_per_turn(r);
      return gauss(-reach, reach, [&](double s) {
        const Fundamental f = fundamental_forms(surface, r, s);
        return density(f) * std::sqrt(f.E * f.G - f.F * f.F);
      });
    });
  }
  return total;
}

TEST(DoCarmo1976, AreaOfAHelicoidIsTheIntegralOfItsHelices) {
  const auto primitive = [](double r) {  // of sqrt(r^2 + p^2)
    return (r * std::hypot(r, climb_m) + climb_m * climb_m * std::asinh(r / climb_m)) / 2;
  };
  const double area = 2 * half_turn_rad * (primitive(outer_m) - primitive(inner_m));
  // The differences behind the metric are good to 1e-9.
  EXPECT_NEAR(over_patch([](const Fundamental&) { return 1.0; }) / area, 1, 1e-8);
}

TEST(DoCarmo1976, GaussBonnetHoldsOnAPatchOfTheHelicoid) {
  // Four right angles, rulings that are geodesics, helices of geodesic curvature r/(r^2 + p^2):
  // the curvature inside is what the helices bend, with the sign changed.
  const auto bend = [](double r) { return 2 * half_turn_rad * r / helix_length_per_turn(r); };
  const double inside =
      over_patch([](const Fundamental& f) { return f.gaussian_curvature_per_m2(); });
  // Curvature by differences is good to 1e-6 of itself, the quadrature to better.
  EXPECT_NEAR(inside + bend(outer_m) - bend(inner_m), 0, 1e-6 * std::abs(inside));
}

/// Derivatives of the Fermi coordinates by the radius and the turn, fourth-order differences.
struct Slopes {
  double along_r, along_turn, across_r, across_turn;
};
Slopes slopes_at(double radius_m, double turn_rad) {
  const double h = 1e-3 * radius_m, k = 1e-3;
  const auto difference = [](const auto& f, double step) {
    return (f(-2) - 8 * f(-1) + 8 * f(1) - f(2)) / (12 * step);
  };
  const auto by_radius = [&](int i) { return helicoid_fermi(pitch_m, radius_m + i * h, turn_rad); };
  const auto by_turn = [&](int i) { return helicoid_fermi(pitch_m, radius_m, turn_rad + i * k); };
  return {difference([&](int i) { return by_radius(i).along_m; }, h),
          difference([&](int i) { return by_turn(i).along_m; }, k),
          difference([&](int i) { return by_radius(i).across_m; }, h),
          difference([&](int i) { return by_turn(i).across_m; }, k)};
}

TEST(DoCarmo1976, FermiCoordinatesKeepGausssLemma) {
  for (const double r : {0.04, 0.1, 0.19}) {
    for (const double turn : {-0.5, 0.1, 0.4}) {
      const Slopes d = slopes_at(r, turn);
      const double w2 = r * r + climb_m * climb_m;
      // A distance from a line grows by 1 per length of the way square to its level lines, and the
      // level lines of the other coordinate are these ways. Differences: step^4 = 1e-12, rounding
      // 1e-12/1e-3.
      EXPECT_NEAR(d.across_r * d.across_r + d.across_turn * d.across_turn / w2, 1, 1e-8);
      EXPECT_NEAR(d.along_r * d.across_r + d.along_turn * d.across_turn / w2, 0, 1e-8);
    }
  }
}

/// Width of a strip between neighbouring geodesics, relative to that on the ruling, after a length:
/// Jacobi's equation h'' = -K h along the geodesic that leaves the ruling at `from_m`, by
/// Runge-Kutta. The radius is carried as q, r^2 = from^2 + q^2.
double strip_width(double from_m, double length_m) {
  using State = std::array<double, 3>;  // q, h, h'
  const auto rate = [&](const State& s) -> State {
    const double r2 = from_m * from_m + s[0] * s[0];
    return {std::sqrt(r2 / (r2 + climb_m * climb_m)), s[2],
            -helicoid_curvature_per_m2(pitch_m, std::sqrt(r2)) * s[1]};
  };
  const auto moved = [](const State& s, const State& d, double step) -> State {
    return {s[0] + step * d[0], s[1] + step * d[1], s[2] + step * d[2]};
  };
  constexpr int steps = 400;
  const double step = length_m / steps;
  State s{0, 1, 0};
  for (int i = 0; i < steps; ++i) {
    const State a = rate(s), b = rate(moved(s, a, step / 2)), c = rate(moved(s, b, step / 2)),
                d = rate(moved(s, c, step));
    for (int j = 0; j < 3; ++j) s[j] += step / 6 * (a[j] + 2 * b[j] + 2 * c[j] + d[j]);
  }
  return s[1];
}

TEST(DoCarmo1976, StretchOfTheGeodesicPatternObeysJacobisEquation) {
  for (const double r : {0.05, 0.1, 0.19}) {
    for (const double turn : {0.1, 0.4}) {
      const Slopes d = slopes_at(r, turn);
      const FlatPoint at = helicoid_fermi(pitch_m, r, turn);
      const double stretch = 1 / std::sqrt(d.along_r * d.along_r + d.along_turn * d.along_turn /
                                                                       (r * r + climb_m * climb_m));
      EXPECT_NEAR(stretch, strip_width(at.along_m, at.across_m), 1e-8) << r << " " << turn;
    }
  }
}

TEST(DoCarmo1976, EstimateOfTheEdgeStrainIsItsSecondOrder) {
  // Jacobi's equation as a series: h = 1 - K y^2/2 + (K^2 - K'') y^4/24. Along a geodesic square to
  // the ruling (r^2)'' = 2 r0^2/(r0^2 + p^2), so K'' = 4 p^2 r0^2/(r0^2 + p^2)^4, and what the
  // estimate leaves out is (1 - 4 r0^2/p^2)/6 of its own square.
  for (const double r : {0.03, 0.1, 0.19}) {
    const FlatPoint at = helicoid_fermi(pitch_m, r, 0.1);
    const double estimate =
        -helicoid_curvature_per_m2(pitch_m, at.along_m) * at.across_m * at.across_m / 2;
    const double left = strip_width(at.along_m, at.across_m) - 1 - estimate;
    const double ratio = at.along_m / climb_m;
    // The next order is smaller by the square of the distance over sqrt(r0^2 + p^2), 0.01, times a
    // factor of the size of that in front of this order.
    EXPECT_NEAR(left / (estimate * estimate), (1 - 4 * ratio * ratio) / 6, 0.05) << r;
  }
}

TEST(DoCarmo1976, TurnAlongAGeodesicIsAnEllipticIntegral) {
  // Clairaut: (r^2 + p^2) psi' is constant. With r^2 = r0^2 + q^2 the turn is the integral of
  // 1/sqrt((r0^2 + q^2)(r0^2 + p^2 + q^2)) times the constant: F(atan(q/r0), p/sqrt(r0^2 + p^2))
  // of the first kind (I. S. Gradshteyn, I. M. Ryzhik, Table of Integrals, 3.152.1, from memory).
  for (const double r : {0.04, 0.1, 0.19}) {
    for (const double turn : {0.05, 0.4, 0.9}) {
      const double from_m = helicoid_fermi(pitch_m, r, turn).along_m;
      const double q = std::sqrt((r - from_m) * (r + from_m));
      const double elliptic =
          std::ellint_1(climb_m / helix_length_per_turn(from_m), std::atan2(q, from_m));
      // The root in r0 is found to 48 bits; near the ruling q magnifies that by (r/q)^2 <= 400.
      EXPECT_NEAR(elliptic / turn, 1, 1e-11) << r << " " << turn;
    }
  }
}

}  // namespace
}  // namespace propwright::form
