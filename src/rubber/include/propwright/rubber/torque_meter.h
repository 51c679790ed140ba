/// Torque meters: a torsion wire by its closed form, or any scale by hung weights; winder ratio.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::rubber {

/// Shear modulus of a wire, with its 1-sigma relative doubt.
struct WireMaterial {
  std::string_view word;  ///< "music wire"
  double shear_modulus_Pa = 0;
  double sigma_relative = 0;
  double yield_shear_Pa = 0;  ///< a cautious working stress in torsion, Pa
  std::string_view source;
};
const std::vector<WireMaterial>& wire_materials();

/// A straight round wire, twisted by the motor.
struct TorsionWire {
  double diameter_m = 0;             ///< 1e-4..3e-3
  double length_m = 0;               ///< free between its holds, 0.005..1
  double shear_modulus_Pa = 79.3e9;  ///< 10e9..120e9
  double diameter_sigma_m = 5e-6;    ///< 1-sigma of the diameter
  double length_sigma_m = 0.3e-3;
  double modulus_sigma_relative = 0.03;
  double working_stress_Pa = 700e6;  ///< shear at which the wire takes a set
};

/// k = G J/L with J = pi d^4/32 (Roark, torsion of a round bar), N m per rad.
struct WireRate {
  double rate_Nm_rad = 0, sigma_Nm_rad = 0;
  double greatest_torque_Nm = 0;  ///< at the working stress, tau = 16 T/(pi d^3)
  double greatest_angle_rad = 0;
};
/// Problem: bad_input naming the member out of range.
base::Expected<WireRate> wire_rate(const TorsionWire& wire);

/// A weight hung on a horizontal arm, and what the private scale read.
struct HungWeight {
  double mass_kg = 0;
  double arm_m = 0;
  double reading = 0;  ///< in divisions, degrees, or whatever the scale has
};

/// torque = (reading - zero) * torque_per_division.
struct ScaleFit {
  double torque_per_division_Nm = 0, sigma_Nm = 0;
  double zero = 0, zero_sigma = 0;  ///< reading without torque
  /// Of the zero and the divisions per N m, division^2/(N m): a line steeper than the weights say
  /// has a lower zero.
  double zero_slope_covariance = 0;
  std::vector<double> residual = {};  ///< reading minus line, divisions, one for each weight
  double residual_rms = 0;            ///< scatter about the line, n - p degrees of freedom
  double bend = 0;  ///< share of the range by which a parabola departs from the line
  std::vector<std::string> notes = {};
};

/// Straight line by least squares of reading over torque m g arm. With `zero` given the line goes
/// through it; else the zero is fitted too, which takes three weights. The doubt of the slope holds
/// the scatter of the readings (at least `reading_sigma`) and that of the arm.
/// Problem: bad_input naming the weight ("weights[2].mass_kg").
base::Expected<ScaleFit> fit_scale(const std::vector<HungWeight>& weights,
                                   std::optional<double> zero, double reading_sigma,
                                   double arm_sigma_m);

/// A reading of the scale as torque, with the doubt of the fit; N m.
struct ScaleTorque {
  double torque_Nm = 0, sigma_Nm = 0;
};
ScaleTorque scale_torque(const ScaleFit& fit, double reading, double reading_sigma);
/// What the scale reads at a torque.
double scale_reading(const ScaleFit& fit, double torque_Nm);

}  // namespace propwright::rubber
