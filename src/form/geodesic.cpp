/// Geodesics of the helicoid square to a ruling.
#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/flat_pattern.h"

namespace propwright::form {
namespace {

using Gauss = boost::math::quadrature::gauss<double, 20>;

/// A geodesic that leaves the ruling at r0. By Clairaut's relation (r^2 + p^2) psi' is constant
/// along it; with r^2 = r0^2 + q^2 its length and turn are smooth integrals over q.
struct Leaving {
  double r0, p;
  double length_m(double q) const {
    const double square = r0 * r0 + p * p;
    return Gauss::integrate(
        [&](double t) { return std::sqrt((square + t * t) / (r0 * r0 + t * t)); }, 0.0, q);
  }
  double turn_rad(double q) const {
    const double square = r0 * r0 + p * p;
    return std::sqrt(square) *
           Gauss::integrate(
               [&](double t) { return 1 / std::sqrt((square + t * t) * (r0 * r0 + t * t)); }, 0.0,
               q);
  }
};

}  // namespace

FlatPoint helicoid_fermi(double pitch_m, double radius_m, double psi_rad) {
  const double p = pitch_m / (2 * base::pi), wanted = std::abs(psi_rad);
  // So near to the ruling the way is straight to rounding; the root of r^2 - r0^2 would lose it.
  if (wanted < 1e-6) return {radius_m, psi_rad * std::hypot(radius_m, p)};
  const auto reach = [&](double r0) {
    return std::sqrt(std::max(0.0, radius_m * radius_m - r0 * r0));
  };
  const auto off = [&](double r0) { return Leaving{r0, p}.turn_rad(reach(r0)) - wanted; };
  // Nearer to the axis a geodesic has turned further when it comes out to this radius.
  double low = radius_m * std::cos(std::min(wanted, 1.5));
  while (off(low) < 0 && low > 1e-6 * radius_m) low /= 2;
  std::uintmax_t steps = 100;
  const auto [a, b] = boost::math::tools::toms748_solve(
      off, low, radius_m, off(low), -wanted, boost::math::tools::eps_tolerance<double>(48), steps);
  const double r0 = (a + b) / 2;
  return {r0, std::copysign(Leaving{r0, p}.length_m(reach(r0)), psi_rad)};
}

}  // namespace propwright::form
