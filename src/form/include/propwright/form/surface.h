/// The working surface of a form as a surface in space: the blade at rest on it.
/// Axes: x along the straight spar line from the shaft axis, y across it in the disc plane towards
/// the leading edge of a clockwise propeller, z the way the model flies. An anticlockwise form is
/// the mirror image, y changed in sign.
#pragma once

#include <vector>

#include "propwright/base/monotone_curve.h"
#include "propwright/base/problem.h"
#include "propwright/form/form.h"

namespace propwright::form {

struct Point {
  double x_m = 0, y_m = 0, z_m = 0;
};

/// How a station's section lies in space. Both have the same angle and the same section; they part
/// with the square of the chord over the radius.
enum class Lay {
  helical,  ///< bent round the cylinder of its radius: without camber and with one pitch the
            ///< helicoid (r cos psi, r sin psi, p psi), its rulings through the shaft axis
  across,   ///< flat, square to the spar line, as templates stood on a bench give it
};

/// A row of the form as it is to be (over-bend included).
struct SurfaceRow {
  double radius_m = 0;
  double pitch_m = 0;  ///< local pitch of the form, > 0
  double camber = 0;   ///< height over chord of the circular arc, 0..0.3
  double lead_m = 0;   ///< spar line to leading edge along the chord
  double trail_m = 0;  ///< spar line to trailing edge; lead + trail = chord, 0 allowed at the tip
};

/// Rows of a surface from a form and an outline: over-bend applied, wanted angles or helix. Outside
/// the widest chord the arc is nowhere bent sharper than where the chord is half the widest: a
/// camber kept to the very tip would bend a rounded one without end, and no sheet follows that.
std::vector<SurfaceRow> surface_rows(const Form& form, const std::vector<OutlineRow>& outline);

/// The surface between the rows: pitch, camber and both edges are monotone cubics in the radius, so
/// that one pitch at all rows is a helix to rounding; once continuously differentiable. The spar
/// line lies in the surface.
class Surface {
 public:
  /// Problem: bad_input naming form.radius (rising, > 0), form.pitch (> 0), form.camber (0..0.3)
  /// or form.outline (edges that cross: lead + trail < 0), each with its row's radius.
  static base::Expected<Surface> make(const std::vector<SurfaceRow>& rows, Hand hand, Lay lay);

  /// The surface at a station and a share of its section: 0 the trailing edge, 1 the leading edge,
  /// even in length along the arc. Outside 0..1 the arc goes on. Radius within the rows.
  Point at(double radius_m, double share) const;
  /// The same at a length along the arc from the spar line, positive to the leading edge, m.
  Point along_arc(double radius_m, double arc_m) const;

  double angle_rad(double radius_m) const;
  double pitch_m(double radius_m) const { return pitch_.value(radius_m); }
  double camber(double radius_m) const { return camber_.value(radius_m); }
  double chord_m(double radius_m) const { return lead_.value(radius_m) + trail_.value(radius_m); }
  double lead_m(double radius_m) const { return lead_.value(radius_m); }
  double trail_m(double radius_m) const { return trail_.value(radius_m); }
  double sheet_width_m(double radius_m) const;  ///< length of the arc from edge to edge
  double spar_share(double radius_m) const;     ///< of the arc, from the trailing edge
  double root_m() const { return pitch_.x().front(); }
  double tip_m() const { return pitch_.x().back(); }
  Hand hand() const { return hand_; }
  Lay lay() const { return lay_; }

 private:
  Point place(double radius_m, double along_m, double height_m) const;
  base::MonotoneCurve pitch_, camber_, lead_, trail_;
  Hand hand_ = Hand::clockwise;
  Lay lay_ = Lay::helical;
};

/// First and second fundamental form of the surface in (radius, arc length), by central differences
/// of fourth order; relative error about 1e-7 away from the rows' radii, where the interpolation's
/// second derivative jumps.
struct Fundamental {
  double E = 0, F = 0, G = 0;  ///< metric
  double L = 0, M = 0, N = 0;  ///< curvature, 1/m
  double gaussian_curvature_per_m2() const { return (L * N - M * M) / (E * G - F * F); }
  double mean_curvature_per_m() const {
    return (E * N - 2 * F * M + G * L) / (2 * (E * G - F * F));
  }
};
Fundamental fundamental_forms(const Surface& surface, double radius_m, double arc_m);

/// Gaussian curvature of a helicoid of pitch P at radius r, 1/m^2: -p^2/(r^2 + p^2)^2, p = P/2 pi.
/// do Carmo, Differential Geometry of Curves and Surfaces (1976), section 3-3.
double helicoid_curvature_per_m2(double pitch_m, double radius_m);

}  // namespace propwright::form
