#include "propwright/rubber/torque_meter.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "range_check.h"

namespace propwright::rubber {
namespace {

constexpr double bent_share = 0.03;  // a bend of the line worth telling (ours)

double polar_moment_m4(double diameter_m) {
  return base::pi * std::pow(diameter_m, 4) / 32;
}

base::Problems weight_problems(const std::vector<HungWeight>& weights, bool zero_given,
                               double reading_sigma, double arm_sigma_m) {
  RangeChecks checks("out of range for a calibration");
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const auto at = [&](const char* name) { return fmt::format("weights[{}].{}", i, name); };
    checks.within(at("mass_kg"), weights[i].mass_kg, 0, 1, "give the mass hung on the arm");
    checks.within(at("arm_m"), weights[i].arm_m, 1e-3, 1, "give the arm, axis to thread");
    checks.within(at("reading"), weights[i].reading, -1e6, 1e6, "give what the scale read");
  }
  checks.within("reading_sigma", reading_sigma, 0, 1e6, "give the doubt of one reading");
  checks.within("arm_sigma_m", arm_sigma_m, 0, 0.1, "give the doubt of the arm");
  const std::size_t least = zero_given ? 1 : 3;
  if (weights.size() < least) {
    checks.add({.field = "weights",
                .value = fmt::format("{}", weights.size()),
                .allowed = zero_given ? "one or more" : "three or more where no zero is given",
                .remedy = "hang more weights, or give the reading without any",
                .message = "too few weights for a line"});
  }
  return checks.take();
}

struct Sums {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0;
};

double torque_of(const HungWeight& weight) {
  return weight.mass_kg * base::gravity_m_s2 * weight.arm_m;
}

/// Readings over torques, with the mean taken off unless the line goes through the zero.
Sums scale_sums(const std::vector<HungWeight>& weights) {
  Sums s;
  for (const HungWeight& weight : weights) {
    const double x = torque_of(weight), y = weight.reading;
    s.n += 1;
    s.x += x;
    s.y += y;
    s.xx += x * x;
    s.xy += x * y;
  }
  return s;
}

/// Departure of a parabola through the residuals from the line at mid-range, as a share of the
/// range: the projection of the residuals on the quadratic that is orthogonal to the line.
double bend_of(const std::vector<HungWeight>& weights, const std::vector<double>& residual,
               const Sums& s, double slope) {
  if (weights.size() < 4) return 0;
  const double mean = s.x / s.n;
  double m2 = 0, m3 = 0, low = 1e300, high = -1e300;
  for (const HungWeight& weight : weights) {
    const double x = torque_of(weight);
    m2 += (x - mean) * (x - mean);
    m3 += std::pow(x - mean, 3);
    low = std::min(low, x);
    high = std::max(high, x);
  }
  double top = 0, bottom = 0;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const double u = torque_of(weights[i]) - mean;
    const double q = u * u - m3 / m2 * u - m2 / s.n;
    top += q * residual[i];
    bottom += q * q;
  }
  if (bottom <= 0 || high <= low) return 0;
  const double half = (high - low) / 2;
  return top / bottom * half * half / (slope * (high - low));
}

}  // namespace

const std::vector<WireMaterial>& wire_materials() {
  static const std::vector<WireMaterial> all{
      {"music wire", 79.3e9, 0.03, 700e6,
       "spring-trade data sheet: G 11.5e6 psi; others 72 to 80.5 GPa"},
      {"stainless", 69.0e9, 0.04, 550e6, "spring wire 302, G 10.0e6 psi, from memory"},
      {"phosphor bronze", 43.0e9, 0.05, 250e6, "spring wire, G 6.25e6 psi, from memory"},
      {"brass", 36.0e9, 0.05, 150e6, "spring wire, G 5.2e6 psi, from memory"}};
  return all;
}

base::Expected<WireRate> wire_rate(const TorsionWire& wire) {
  RangeChecks checks("out of range for the wire of a torque meter");
  checks.within("diameter_m", wire.diameter_m, 1e-4, 3e-3, "measure the wire with a micrometer");
  checks.within("length_m", wire.length_m, 0.005, 1, "give the free length between the holds");
  checks.within("shear_modulus_Pa", wire.shear_modulus_Pa, 10e9, 120e9,
                "give the shear modulus; steel has about 79.3 GPa");
  checks.within("diameter_sigma_m", wire.diameter_sigma_m, 0, 1e-4, "give its doubt");
  checks.within("length_sigma_m", wire.length_sigma_m, 0, 0.01, "give its doubt");
  checks.within("modulus_sigma_relative", wire.modulus_sigma_relative, 0, 0.5, "give its doubt");
  checks.within("working_stress_Pa", wire.working_stress_Pa, 1e7, 2e9, "give the stress it bears");
  auto problems = checks.take();
  if (!problems.empty()) return base::fail(std::move(problems));
  WireRate rate;
  rate.rate_Nm_rad = wire.shear_modulus_Pa * polar_moment_m4(wire.diameter_m) / wire.length_m;
  rate.sigma_Nm_rad = rate.rate_Nm_rad * std::hypot(wire.modulus_sigma_relative,
                                                    4 * wire.diameter_sigma_m / wire.diameter_m,
                                                    wire.length_sigma_m / wire.length_m);
  rate.greatest_torque_Nm = base::pi * std::pow(wire.diameter_m, 3) * wire.working_stress_Pa / 16;
  rate.greatest_angle_rad = rate.greatest_torque_Nm / rate.rate_Nm_rad;
  return rate;
}

base::Expected<ScaleFit> fit_scale(const std::vector<HungWeight>& weights,
                                   std::optional<double> zero, double reading_sigma,
                                   double arm_sigma_m) {
  auto problems = weight_problems(weights, zero.has_value(), reading_sigma, arm_sigma_m);
  if (!problems.empty()) return base::fail(std::move(problems));
  const Sums s = scale_sums(weights);
  const double spread = zero ? s.xx : s.xx - s.x * s.x / s.n;
  const double slope = zero ? (s.xy - *zero * s.x) / s.xx : (s.xy - s.x * s.y / s.n) / spread;
  if (!(spread > 1e-12 * s.xx) || !std::isfinite(slope) || slope == 0) {
    return base::fail({.field = "weights",
                       .remedy = "hang weights that differ, and read each",
                       .message = "the readings do not tell how the scale turns with torque"});
  }
  ScaleFit fit;
  fit.zero = zero ? *zero : (s.y - slope * s.x) / s.n;
  double square = 0, arm_share = 0;
  for (const HungWeight& weight : weights) {
    fit.residual.push_back(weight.reading - fit.zero - slope * torque_of(weight));
    square += fit.residual.back() * fit.residual.back();
    arm_share = std::max(arm_share, arm_sigma_m / weight.arm_m);
  }
  const double freedom = s.n - (zero ? 1 : 2);
  fit.residual_rms = freedom > 0 ? std::sqrt(square / freedom) : 0;
  const double sigma = std::max(fit.residual_rms, reading_sigma);
  fit.torque_per_division_Nm = 1 / slope;
  fit.sigma_Nm = std::abs(fit.torque_per_division_Nm) *
                 std::hypot(sigma / std::sqrt(spread) / std::abs(slope), arm_share);
  fit.zero_sigma = zero ? 0 : sigma * std::sqrt(s.xx / (s.n * spread));
  fit.zero_slope_covariance = zero ? 0 : -sigma * sigma * s.x / (s.n * spread);
  fit.bend = bend_of(weights, fit.residual, s, slope);
  if (std::abs(fit.bend) > bent_share) {
    fit.notes.push_back(fmt::format(
        "The scale is bent: half way it departs {:.0f} % of its range from a line. A wire that "
        "rubs, or an arm that is no longer level, does that.",
        100 * std::abs(fit.bend)));
  }
  if (freedom <= 0) fit.notes.push_back("One weight only: the scatter is not known.");
  return fit;
}

ScaleTorque scale_torque(const ScaleFit& fit, double reading, double reading_sigma) {
  const double divisions = reading - fit.zero;
  const double k = fit.torque_per_division_Nm;
  const double slope = fit.sigma_Nm * divisions;
  const double zero = k * std::hypot(reading_sigma, fit.zero_sigma);
  const double both = 2 * k * k * k * divisions * fit.zero_slope_covariance;
  return {k * divisions, std::sqrt(std::max(0.0, slope * slope + zero * zero + both))};
}

double scale_reading(const ScaleFit& fit, double torque_Nm) {
  return fit.zero + torque_Nm / fit.torque_per_division_Nm;
}

}  // namespace propwright::rubber
