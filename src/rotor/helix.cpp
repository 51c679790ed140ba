// Take the potential of the flow inside radius a as (Gamma B/(2 pi h)) z + sum A_m I_m(m r/h) sin(m
// psi), outside as (Gamma B/(2 pi)) theta + sum C_m K_m(m r/h) sin(m psi), psi = theta - z/h, m =
// B, 2B, ... The radial velocity is continuous at r = a and the axial one jumps by the circulation
// of B filaments. With the Wronskian of I and K that gives on psi = 0
//
//   u_z = B/(2 pi h) S,  u_theta = B/(2 pi r) (1 - S)
//   S = 1 - 2 (a/h) sum m K'_m(m a/h) I_m(m r/h)   for r < a
//   S =   - 2 (a/h) sum m I'_m(m a/h) K_m(m r/h)   for r > a
#include "helix.h"

#include <boost/math/special_functions/bessel.hpp>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::rotor {

using base::pi;

namespace {

constexpr int exact_to_order = 8;
constexpr int terms = 4;

/// No promotion to long double: the digits are not needed.
using Plain = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

double bessel_i(int order, double z) {
  return boost::math::cyl_bessel_i(order, z, Plain());
}
double bessel_k(int order, double z) {
  return boost::math::cyl_bessel_k(order, z, Plain());
}

/// Debye's polynomials u_k and v_k (Abramowitz & Stegun 9.3.9 to 9.3.14, from memory).
void debye(double t, double (&u)[terms + 1], double (&v)[terms + 1]) {
  const double t2 = t * t, t3 = t2 * t, t4 = t2 * t2;
  const double by_t2 = 2 * t;
  u[0] = 1;
  u[1] = t * (3 - 5 * t2) / 24;
  u[2] = t2 * (81 + t2 * (-462 + 385 * t2)) / 1152;
  u[3] = t3 * (30375 + t2 * (-369603 + t2 * (765765 - 425425 * t2))) / 414720;
  u[4] = t4 * (4465125 + t2 * (-94121676 + t2 * (349922430 + t2 * (-446185740 + 185910725 * t2)))) /
         39813120;
  const double slope[terms] = {
      0, (3 - 15 * t2) / 24, by_t2 * (81 + t2 * (-924 + 1155 * t2)) / 1152,
      t2 * (91125 + t2 * (-1848015 + t2 * (5360355 - 3828825 * t2))) / 414720};
  v[0] = 1;
  for (int k = 1; k <= terms; ++k) {
    v[k] = u[k] + t * (t2 - 1) * (u[k - 1] / 2 + t * slope[k - 1]);
  }
}

}  // namespace

double polylogarithm(int order, double mu) {
  if (order == 1) return -std::log(-std::expm1(-mu));
  if (mu > 1) {
    const double q = std::exp(-mu);
    double sum = 0, power = q;
    for (int n = 1; n < 40 && power > 1e-12 * q; ++n, power *= q) {
      sum += power / std::pow(n, order);
    }
    return sum;
  }
  // Expansion in mu; zeta(4), zeta(3), ... downwards.
  static constexpr double zeta[] = {1.0823232337111382,
                                    1.2020569031595942,
                                    1.6449340668482264,
                                    0,
                                    -0.5,
                                    -1.0 / 12,
                                    0,
                                    1.0 / 120,
                                    0,
                                    -1.0 / 252,
                                    0,
                                    1.0 / 240,
                                    0,
                                    -1.0 / 132,
                                    0};
  double sum = 0, power = 1, harmonic = 0;  // power = (-mu)^k/k!
  for (int k = 0; k - order < 11; ++k) {
    if (k > 0) power *= -mu / k;
    if (k == order - 1) {
      sum += power * (harmonic - std::log(mu));
    } else {
      sum += zeta[4 - order + k] * power;
    }
    harmonic += 1.0 / (k + 1);
  }
  return sum;
}

HelixSet::HelixSet(int blades, double radius, double inverse_pitch)
    : blades_(blades), radius_(radius), inverse_pitch_(inverse_pitch) {
  x_ = radius * std::abs(inverse_pitch);
  root_ = std::sqrt(1 + x_ * x_);
  cosine_ = 1 / root_;
  debye(cosine_, u_, v_);
  if (x_ < 1e-3) return;  // straight vortices: the expansion's first term is exact
  for (int m = blades; m <= exact_to_order; m += blades) {
    const double z = m * x_;
    if (z > 60) break;  // there four terms leave less than 1e-9
    const double inside = 2 * z * (bessel_k(m - 1, z) + bessel_k(m, z) / x_);
    const double outside = 2 * z * (bessel_i(m + 1, z) + bessel_i(m, z) / x_);
    harmonics_.push_back({m, inside, outside});
  }
}

/// S less its mean inside (r < a), or -S outside: a sum of positive terms.
double HelixSet::oscillating(double r) const {
  const bool inside = r < radius_;
  const double x = r * std::abs(inverse_pitch_);
  const double root = std::sqrt(1 + x * x);
  const double t = 1 / root;
  double u[terms + 1], v[terms + 1];
  debye(t, u, v);
  // The expansion's exponent, the difference of eta at both radii, without cancellation.
  const double eta = std::log(radius_ / r) + (root_ - root) - std::log((1 + root_) / (1 + root));
  const double mu = blades_ * std::abs(eta);
  const double ratio = std::sqrt(root_ * t);
  double coefficient[terms + 1];
  for (int k = 0; k <= terms; ++k) {
    coefficient[k] = 0;
    for (int j = 0; j <= k; ++j) {
      const bool odd = ((inside ? j : k - j) % 2) != 0;
      coefficient[k] += (odd ? -1 : 1) * v_[j] * u[k - j];
    }
  }
  double sum = 1 / std::expm1(mu);
  double power = 1;
  for (int k = 1; k <= terms; ++k) {
    power /= blades_;
    if (coefficient[k] != 0) sum += coefficient[k] * power * polylogarithm(k, mu);
  }
  sum *= ratio;
  for (const Harmonic& h : harmonics_) {
    const double decay = std::exp(-h.order * std::abs(eta));
    if (decay < 1e-10) break;
    const double z = h.order * x;
    const double exact =
        inside ? h.inside * bessel_i(h.order, z) : h.outside * bessel_k(h.order, z);
    double expansion = 0, m = 1;
    for (int k = 0; k <= terms; ++k, m /= h.order) expansion += coefficient[k] * m;
    sum += exact - ratio * decay * expansion;
  }
  return sum;
}

Induced HelixSet::at(double r) const {
  const double s = oscillating(r);
  const double axial = r < radius_ ? 1 + s : -s;
  const double half = blades_ / (4 * pi);
  return {half * inverse_pitch_ * axial, half / r * (1 - axial)};
}

Induced log_coefficient(double radius, double inverse_pitch) {
  const double x = radius * inverse_pitch;
  const double t2 = 1 / (1 + x * x);
  const double c = std::sqrt(t2) * (1 - t2) / 2;
  return {-inverse_pitch * c / (4 * pi), c / (4 * pi * radius)};
}

}  // namespace propwright::rotor
