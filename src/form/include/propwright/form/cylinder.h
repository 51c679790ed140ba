/// Blades formed on a cylinder: a bottle, a can, a tube. The sheet lies on the cylinder with the
/// blade's axis turned by the skew angle from the cylinder's axis.
/// Symbols: a radius of the cylinder, beta skew. Euler's theorem gives the curvature across the
/// blade cos^2(beta)/a and along it sin^2(beta)/a; the geodesic torsion of the axis, sin(beta)
/// cos(beta)/a, is the twist per length (Struik, Lectures on Classical Differential Geometry, 2nd
/// edition 1961). The twist is even along a straight axis: the blade is not
/// helical.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::form {

/// A cylinder one can have.
struct Cylinder {
  std::string name;
  double diameter_m = 0;
};

/// Reads a list of cylinders, CSV with the columns name, diameter_mm; '#' lines are remarks.
/// Problem: bad_input for each row whose diameter is not within 5 to 1000 mm, by file and line.
base::Expected<std::vector<Cylinder>> read_cylinders(std::string_view csv, const std::string& file);

double cylinder_twist_rad_per_m(double cylinder_radius_m, double skew_rad);
double cylinder_chordwise_curvature_per_m(double cylinder_radius_m, double skew_rad);
double cylinder_spanwise_curvature_per_m(double cylinder_radius_m, double skew_rad);

/// Height over chord of the plane section across the blade's axis, exact: an ellipse of half axes a
/// and a/cos(beta), the chord even about the axis. NaN-free: a chord as wide as the cylinder or
/// wider gives the whole half ellipse.
double cylinder_camber(double cylinder_radius_m, double skew_rad, double chord_m);

/// Skew, rad 0..pi/4, whose twist per length is wanted. Problem: no_solution where the cylinder is
/// too large for it: at 45 degrees it twists most, 1/(2a).
base::Expected<double> skew_for_twist(double cylinder_radius_m, double twist_rad_per_m);

/// A station of the blade wanted.
struct WantedStation {
  double radius_m = 0, chord_m = 0, angle_rad = 0;
  double weight = 1;  ///< of its angle in the fit, >= 0
};

/// What a cylinder gives at a station.
struct FormedStation {
  double radius_m = 0, chord_m = 0, angle_rad = 0, pitch_m = 0, camber = 0;
  double angle_error_rad = 0;  ///< formed less wanted
};

struct CylinderFit {
  double cylinder_radius_m = 0, skew_rad = 0;
  double twist_rad_per_m = 0;      ///< angle lost per length outwards
  double rms_angle_error_rad = 0;  ///< weighted
  std::vector<FormedStation> stations;
};

/// The skew and the set angle with the least weighted square of the angle error: a straight line
/// through the wanted angles, exact. Problem: no_solution where the cylinder cannot twist so much
/// or the wanted twist goes the other way; bad_input for fewer than two stations that count, or for
/// a chord wider than the cylinder.
base::Expected<CylinderFit> fit_cylinder(double cylinder_radius_m,
                                         const std::vector<WantedStation>& wanted);

/// The cylinder that gives both the wanted twist and, at the chord-weighted mean, the wanted
/// camber: tan(beta) is the twist over the chordwise curvature.
base::Expected<CylinderFit> fit_free_cylinder(double camber,
                                              const std::vector<WantedStation>& wanted);

/// The line on the unrolled cylinder along which a blade's axis must lie for its angle to fall as
/// that of a helix of one pitch, sin(2 beta) = 2a p/(r^2 + p^2), p = P/2 pi: x along the cylinder's
/// axis, y round it, m, from the root on. Length along the line is radius; places to the fourth
/// order of the step. Problem: no_solution naming the first radius where the cylinder cannot twist
/// so much; bad_input for a cylinder or pitch not above 0, or a tip not outside the root.
struct LayoutLine {
  std::vector<double> radius_m, x_m, y_m, skew_rad;
};
base::Expected<LayoutLine> layout_line(double cylinder_radius_m, double root_m, double tip_m,
                                       double pitch_m, int points = 101);  ///< points 2..10000

/// Strain in the outer fibre of a sheet bent round the cylinder: t/(2a + t).
double bending_strain(double cylinder_radius_m, double thickness_m);

/// Problem: bad_input where bending the sheet strains it beyond `limit` (> 0), with the least
/// diameter that serves.
base::Expected<void> check_bend(double cylinder_radius_m, double thickness_m, double limit);

}  // namespace propwright::form
