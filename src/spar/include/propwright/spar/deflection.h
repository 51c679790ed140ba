/// The spar on the rig: a cantilever that bends far, with its taper, its own weight and a hung
/// load.
///
/// Model: inextensible Euler-Bernoulli beam, EI(s) = E I(s), E the same along the spar, clamped
/// horizontally; theta'(s) = M(s)/EI(s), M(s) = integral beyond s of V cos(theta), V the weight
/// hung or lying beyond. Geometry exact, no shear deflection (below 0.1 % at these lengths). Solved
/// on Gauss points of panels by turns of shape and size; against Bisshopp and Drucker (1945) within
/// 1e-6 of the length.
#pragma once

#include <vector>

#include "propwright/base/problem.h"
#include "propwright/spar/rig.h"
#include "propwright/spar/section.h"

namespace propwright::spar {

/// Which way the load acts on the section.
enum class Bending {
  depth,    ///< direction 0
  width,    ///< direction 90
  uniform,  ///< EI the same along the spar; the spar's mass lies where it is
};

/// What hangs in the clamp. The taper must be without problems.
struct Beam {
  Taper taper = {};
  double mass_kg = 0;  ///< of the whole length; 0 = weightless
  Bending bending = Bending::depth;
};

/// Everything wrong with the rig for a spar of this length. Fields: load_kg, load_at_m, read_at_m,
/// resolution_m, repeatability_m, load_sigma_kg, zero_reading_m.
base::Problems problems(const Rig& rig, double length_m);

/// EI at the clamp, N m2, from what the scale shows. Of Bending::uniform it is EI everywhere.
/// Problems, field "reading": not above the zero reading; deflection of 0.9 of the reading distance
/// or more; drooped past the place where it is read.
base::Expected<double> ei_root_Nm2(const Beam& beam, const Rig& rig, double reading_m);

/// What the scale shows for a given EI at the clamp, N m2, above 0. Problem, field "ei": so soft
/// that no reading can be taken.
base::Expected<double> reading_m(const Beam& beam, const Rig& rig, double ei_root_Nm2);

/// A point of the bent spar.
struct BentPoint {
  double s_m = 0;        ///< along the spar, from the clamp
  double x_m = 0;        ///< horizontally
  double y_m = 0;        ///< downwards
  double angle_rad = 0;  ///< below the horizontal
};

/// The bent spar from the clamp to the tip, about thirty points; with the load, or with its own
/// weight only. Problem as reading_m.
base::Expected<std::vector<BentPoint>> bent_spar(const Beam& beam, const Rig& rig,
                                                 double ei_root_Nm2, bool loaded);

/// How much a unit load deflects the spar by small-deflection theory, with EI = 1 at the clamp:
/// integral of (load_at - s)(read_at - s) I_root/I(s) over s up to the nearer of the two, m3.
double unit_flexibility_m3(const Taper& taper, Bending bending, double load_at_m, double read_at_m);

}  // namespace propwright::spar
