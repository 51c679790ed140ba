#include "axes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::spar {
namespace {

/// Differences below this are the bent beam's own, even on an exact rig.
constexpr double solver_doubt = 1e-6;

/// The compliance in direction phi is middle + p cos(2 phi) + q sin(2 phi); with its variances.
struct ComplianceTensor {
  double middle = 0, p = 0, q = 0;
  double variance_0 = 0, variance_90 = 0, variance_45 = 0;
};

double compliance_variance(const Direction& direction) {
  return std::pow(direction.ei_sigma_relative / direction.ei_Nm2, 2);
}

ComplianceTensor tensor_of(const Measured& m) {
  const double c_0 = 1 / m.at_0.ei_Nm2, c_90 = 1 / m.at_90.ei_Nm2;
  ComplianceTensor t{(c_0 + c_90) / 2,
                     (c_0 - c_90) / 2,
                     0,
                     compliance_variance(m.at_0),
                     compliance_variance(m.at_90),
                     0};
  if (m.at_45) {
    t.q = 1 / m.at_45->ei_Nm2 - t.middle;
    t.variance_45 = compliance_variance(*m.at_45);
  }
  return t;
}

Axes axes_of_two(const Measured& m) {
  const bool soft_0 = m.at_0.ei_Nm2 <= m.at_90.ei_Nm2;
  const Direction &soft = soft_0 ? m.at_0 : m.at_90, &stiff = soft_0 ? m.at_90 : m.at_0;
  Axes axes;
  axes.soft_axis_deg = soft_0 ? 0 : 90;
  axes.ei_soft_Nm2 = soft.ei_Nm2, axes.ei_stiff_Nm2 = stiff.ei_Nm2;
  axes.ei_soft_sigma_relative = soft.ei_sigma_relative;
  axes.ei_stiff_sigma_relative = stiff.ei_sigma_relative;
  axes.softer_by_relative = std::log(stiff.ei_Nm2 / soft.ei_Nm2);
  axes.softer_by_sigma = std::hypot(soft.ei_sigma_relative, stiff.ei_sigma_relative);
  axes.has_direction = axes.softer_by_relative > std::max(2 * axes.softer_by_sigma, solver_doubt);
  return axes;
}

/// Derivatives of middle + sign * radius with respect to the compliances at 0, 90 and 45.
double principal_variance(const ComplianceTensor& t, double radius, double sign) {
  const double p = t.p / (2 * radius), q = t.q / (2 * radius);
  const double by_0 = 0.5 + sign * (p - q), by_90 = 0.5 + sign * (-p - q), by_45 = sign * 2 * q;
  return by_0 * by_0 * t.variance_0 + by_90 * by_90 * t.variance_90 + by_45 * by_45 * t.variance_45;
}

/// Covariance of p and q.
struct DeviatorDoubt {
  double pp = 0, qq = 0, pq = 0;
};

DeviatorDoubt deviator_doubt(const ComplianceTensor& t) {
  return {(t.variance_0 + t.variance_90) / 4, t.variance_45 + (t.variance_0 + t.variance_90) / 4,
          (t.variance_90 - t.variance_0) / 4};
}

bool stands_out(const ComplianceTensor& t, const DeviatorDoubt& doubt) {
  if (std::hypot(t.p, t.q) < solver_doubt * t.middle) return false;
  const double determinant = doubt.pp * doubt.qq - doubt.pq * doubt.pq;
  const double square = t.p * t.p * doubt.qq - 2 * t.p * t.q * doubt.pq + t.q * t.q * doubt.pp;
  const double chi_square_95 = 5.991464547107979;  // two degrees of freedom: -2 ln(0.05)
  return determinant > 0 ? square > chi_square_95 * determinant : true;
}

Axes axes_of_three(const ComplianceTensor& t) {
  const double radius = std::hypot(t.p, t.q);
  const double soft = t.middle + radius, stiff = t.middle - radius;
  const DeviatorDoubt doubt = deviator_doubt(t);
  Axes axes;
  axes.from_third_reading = true;
  axes.has_direction = stands_out(t, doubt);
  axes.ei_soft_Nm2 = 1 / soft, axes.ei_stiff_Nm2 = 1 / stiff;
  axes.softer_by_relative = std::log(soft / stiff);
  if (radius < 1e-12 * t.middle) return axes;
  axes.soft_axis_deg = std::atan2(t.q, t.p) / 2 / base::degree_rad;
  if (axes.soft_axis_deg < -90 + 1e-6) axes.soft_axis_deg += 180;
  axes.ei_soft_sigma_relative = std::sqrt(principal_variance(t, radius, 1)) / soft;
  axes.ei_stiff_sigma_relative = std::sqrt(principal_variance(t, radius, -1)) / stiff;
  const double across =
      (t.p * t.p * doubt.qq - 2 * t.p * t.q * doubt.pq + t.q * t.q * doubt.pp) / (radius * radius);
  axes.soft_axis_sigma_deg = std::sqrt(across) / (2 * radius) / base::degree_rad;
  // ln(soft/stiff) changes by d(radius) (1/soft + 1/stiff) and a little with the middle.
  const double along =
      (t.p * t.p * doubt.pp + 2 * t.p * t.q * doubt.pq + t.q * t.q * doubt.qq) / (radius * radius);
  axes.softer_by_sigma = std::sqrt(along) * (1 / soft + 1 / stiff);
  return axes;
}

}  // namespace

base::Expected<Axes> axes_of(const Measured& measured) {
  if (!measured.at_45) return axes_of_two(measured);
  const ComplianceTensor t = tensor_of(measured);
  if (std::hypot(t.p, t.q) < t.middle) return axes_of_three(t);
  return base::fail({.field = "reading_45_m",
                     .value = fmt::format("EI {:.4g} N m2", measured.at_45->ei_Nm2),
                     .allowed = "between what the other two readings allow",
                     .remedy = "read again with the spar turned half as far as for the 90 reading",
                     .message = "no spar can have these three stiffnesses"});
}

Stiffness turned(const Measured& measured, double turn_deg) {
  const ComplianceTensor t = tensor_of(measured);
  const double c = std::cos(2 * turn_deg * base::degree_rad);
  const double s = measured.at_45 ? std::sin(2 * turn_deg * base::degree_rad) : 0;
  const double compliance = t.middle + t.p * c + t.q * s;
  const double by_0 = (1 + c - s) / 2, by_90 = (1 - c - s) / 2;
  const double variance =
      by_0 * by_0 * t.variance_0 + by_90 * by_90 * t.variance_90 + s * s * t.variance_45;
  return {1 / compliance, std::sqrt(variance) / compliance};
}

}  // namespace propwright::spar
