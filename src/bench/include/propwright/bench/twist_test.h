/// Twist test of a spar or a finished blade: held at the root, turned at the far end by a small
/// mass on an arm, the angle read. Symbols: M torque, theta twist, L free length, G shear modulus,
/// J torsion constant.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/bench/figure.h"
#include "propwright/spar/section.h"

namespace propwright::bench {

struct TwistReading {
  double mass_kg = 0;    ///< hung on the arm, > 0
  double angle_rad = 0;  ///< of the arm below its position without the mass, in (0, pi/2)
};

struct TwistTest {
  double length_m = 0;  ///< clamp to arm, > 0
  double arm_m = 0;     ///< axis of the spar to the thread of the mass, > 0
  /// A second arm on the other side whose thread runs up over a pulley and carries the same mass:
  /// the two make a couple and the spar does not bend. 0: one arm only.
  double second_arm_m = 0;
  /// Arm without mass against the horizontal, + when above. Best set to about half the twist
  /// expected, so that the arm passes the horizontal.
  double rest_angle_rad = 0;
  double arm_mass_kg = 0;           ///< of the arm itself, 0: balanced or of no account
  double arm_centre_of_mass_m = 0;  ///< from the axis
  std::vector<TwistReading> readings = {};
};

/// Torque on the spar at one reading, less that of the resting arm, N m. The mass hangs plumb, so
/// M = m g (arm cos(beta) + second arm cos(beta)), beta = rest angle - theta the arm's slope; the
/// arm's own weight adds m_arm g r_cm (cos(beta) - cos(rest)). Exact for a straight spar at any
/// angle; bending of the spar under one arm is left out (second order in the deflection).
double twist_torque_Nm(const TwistTest& test, const TwistReading& reading);

struct TwistFigures {
  Figure compliance_rad_Nm = {};          ///< theta/M, least squares through the origin
  Figure compliance_per_m_rad_Nm_m = {};  ///< per metre of length
  Figure GJ_Nm2 = {};                     ///< of the uniform rod with the same twist: L M/theta
  double straightness = 0;  ///< rms of the angles about the line, rad; 0 with one reading
  /// With the integral of dx/J over the tested length (the spar's taper): G.
  std::optional<Figure> G_Pa = {};
  std::vector<Question> questions = {};
};

/// Integral of dx/J of a tapered spar from the clamp to the arm, 1/m^3, with the doubt that a size
/// measured to `size_sigma_m` (the same error everywhere) gives it: about 4 times the share of the
/// size. Problem: the spar's sizes; to_m beyond its length.
base::Expected<Figure> torsion_integral_per_m3(const spar::Taper& taper, double to_m,
                                               double size_sigma_m);

/// `integral_per_J_m3`: integral of dx/J from clamp to arm, 1/m^3, or nothing for a blade, whose J
/// is not known: the equivalent GJ is the answer then. With a density G is held against 0.5 to
/// 3 MJ/kg times density (shear to long modulus 0.037 to 0.054, Wood Handbook table 5-1 from
/// memory; 230 MPa at 130 kg/m3, a materials database's card), as a question.
/// Problem: bad_input naming length_m, arm_m, readings[i].angle_rad, ...
base::Expected<TwistFigures> twist_figures(const TwistTest& test, const Instruments& instruments,
                                           std::optional<Figure> integral_per_J_m3 = {},
                                           std::optional<double> density_kg_m3 = {});

}  // namespace propwright::bench
