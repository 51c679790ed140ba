// Sections of the form across the spar line, beyond the blade's edges as well.
#pragma once

#include "propwright/form/surface.h"

namespace propwright::solid {

struct Across {
  double y_m = 0, z_m = 0;
};

/// The surface cut by the plane x = constant, as for a clockwise form (the other is its mirror
/// image), turned about the spar line by -tilt. Places on it are told by the length along the
/// blade's own section from the spar line, positive to the leading edge. Beyond the edges it goes
/// on straight along its tangents there. Beyond root and tip the section is that at root or tip.
class Section {
 public:
  Section(const form::Surface& surface, double tilt_rad, double x_m);

  Across at(double arc_m) const;

  double lead_arc_m() const { return lead_.arc_m; }
  double trail_arc_m() const { return -trail_.arc_m; }  ///< positive
  /// Slope to the base beyond the edges. The trailing one is the steepest of the section, the
  /// leading one the least: the camber's arc is hollow below.
  double lead_slope_rad() const { return lead_.slope_rad; }
  double trail_slope_rad() const { return trail_.slope_rad; }
  /// The plane meets the blade, and its edges there are between root and tip.
  bool edges_on_blade() const { return edges_on_blade_; }

 private:
  struct Edge {
    double arc_m = 0, slope_rad = 0;
    Across at = {};
  };
  struct Place {
    double radius_m = 0, y_m = 0, z_m = 0;
  };
  Place unrolled(double radius_m, double arc_m) const;
  Place in_plane(double arc_m) const;
  double radius_edge_arc_m(double radius_m, bool leading) const;
  Edge edge(bool leading) const;
  Across turned(double y_m, double z_m) const;

  const form::Surface* surface_;
  double side_, tilt_rad_, x_m_;
  Edge lead_, trail_;
  bool edges_on_blade_ = false;
};

}  // namespace propwright::solid
