// Sections of the form across the spar line, beyond the blade's edges as well.
#pragma once

#include "propwright/form/surface.h"

namespace propwright::solid {

struct Across {
  double y_m = 0, z_m = 0;
};

/// The surface cut by planes x = constant, as for a clockwise form (the other is its mirror image),
/// turned about the spar line by -tilt.
class Section {
 public:
  Section(const form::Surface& surface, double tilt_rad);

  /// Height over the plane at x, at the length `arc_m` along the section from the spar line,
  /// positive to the leading edge.
  Across at(double x_m, double arc_m) const;
  double lead_arc_m(double x_m) const;   ///< of the leading edge
  double trail_arc_m(double x_m) const;  ///< of the trailing edge, positive
  /// The angle of the section's tangent beyond the trailing edge, the steepest of the section, and
  /// beyond the leading edge, rad, less the tilt.
  double trail_slope_rad(double x_m) const;
  double lead_slope_rad(double x_m) const;

 private:
  double inside(double x_m) const;
  Across unrolled(double radius_m, double arc_m) const;
  const form::Surface& surface_;
  double side_, tilt_rad_;
};

}  // namespace propwright::solid
