// The form the tests of solids cut: a 46 cm propeller's blade.
#pragma once

#include <algorithm>

#include "propwright/base/constants.h"
#include "propwright/solid/form_solid.h"

namespace propwright::solid {

inline form::Surface blade_form(double camber, form::Hand hand = form::Hand::clockwise,
                                form::Lay lay = form::Lay::helical) {
  const form::OutlineShape outline{.tip_radius_m = 0.23,
                                   .root_radius_m = 0.04,
                                   .widest_chord_m = 0.046,
                                   .widest_at = 0.6,
                                   .root_chord_m = 0.016};
  const form::Form form{.pitch_m = 0.76, .camber = camber};
  const auto rows = form::surface_rows(form, form::outline(outline, 40).value());
  return form::Surface::make(rows, hand, lay).value();
}

/// Everything that can be cut into a form.
inline FormOptions all_cut(std::optional<double> split_radius_m = {}) {
  FormOptions options;
  options.base_tilt_rad = 30 * base::degree_rad;
  options.groove_width_m = 0.0015;
  options.pin_radii_m = {0.0365, 0.2335};
  options.split_radius_m = split_radius_m;
  return options;
}

/// Height of the top over (x, y); 0 beside it.
inline double top_at(const Mesh& mesh, double x, double y) {
  double top = 0;
  for (const auto& t : mesh.triangles) {
    const MeshPoint &a = mesh.points_m[t[0]], &b = mesh.points_m[t[1]], &c = mesh.points_m[t[2]];
    const double area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    if (!(area > 0)) continue;
    const double v = ((x - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (y - a[1])) / area;
    const double w = ((b[0] - a[0]) * (y - a[1]) - (x - a[0]) * (b[1] - a[1])) / area;
    if (v < -1e-9 || w < -1e-9 || v + w > 1 + 1e-9) continue;
    top = std::max(top, a[2] + v * (b[2] - a[2]) + w * (c[2] - a[2]));
  }
  return top;
}

}  // namespace propwright::solid
