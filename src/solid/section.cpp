#include "section.h"

#include <algorithm>
#include <cmath>

namespace propwright::solid {

Section::Section(const form::Surface& surface, double tilt_rad)
    : surface_(surface),
      side_(surface.hand() == form::Hand::clockwise ? 1 : -1),
      tilt_rad_(tilt_rad) {}

double Section::inside(double x_m) const {
  return std::clamp(x_m, surface_.root_m(), surface_.tip_m());
}

double Section::lead_arc_m(double x_m) const {
  const double r = inside(x_m);
  return (1 - surface_.spar_share(r)) * surface_.sheet_width_m(r);
}

double Section::trail_arc_m(double x_m) const {
  const double r = inside(x_m);
  return surface_.spar_share(r) * surface_.sheet_width_m(r);
}

double Section::trail_slope_rad(double x_m) const {
  const double r = inside(x_m);
  // Half the angle of a circular arc of camber k is 2 atan(2 k).
  return surface_.angle_rad(r) + 2 * std::atan(2 * surface_.camber(r)) - tilt_rad_;
}

double Section::lead_slope_rad(double x_m) const {
  const double r = inside(x_m);
  return surface_.angle_rad(r) - 2 * std::atan(2 * surface_.camber(r)) - tilt_rad_;
}

/// The section laid flat, beyond its edges along the tangents there.
Across Section::unrolled(double radius_m, double arc_m) const {
  const double width = surface_.sheet_width_m(radius_m), spar = surface_.spar_share(radius_m);
  const double share = width > 0 ? spar + arc_m / width : (arc_m < 0 ? -1.0 : 2.0);
  const form::Point p = surface_.at(radius_m, std::clamp(share, 0.0, 1.0));
  double y = side_ * p.y_m, z = p.z_m;
  if (surface_.lay() == form::Lay::helical) y = radius_m * std::atan2(y, p.x_m);
  if (share >= 0 && share <= 1) return {y, z};
  const double bend = 2 * std::atan(2 * surface_.camber(radius_m));
  const double angle = surface_.angle_rad(radius_m) + (share < 0 ? bend : -bend);
  const double beyond = share < 0 ? arc_m + spar * width : arc_m - (1 - spar) * width;
  return {y + beyond * std::cos(angle), z + beyond * std::sin(angle)};
}

Across Section::at(double x_m, double arc_m) const {
  const double x = inside(x_m);
  double radius = x;
  Across p = unrolled(radius, arc_m);
  if (surface_.lay() == form::Lay::helical) {
    // The section of radius r is bent round its cylinder; the plane meets it where r cos(y/r) = x.
    // Each round shrinks the error by about (y/r)^2.
    for (int i = 0; i < 60; ++i) {
      const double next = x / std::cos(std::clamp(p.y_m / radius, -1.2, 1.2));
      const double change = std::abs(next - radius);
      radius = next;
      p = unrolled(radius, arc_m);
      if (change < 1e-16) break;
    }
    p.y_m = radius * std::sin(p.y_m / radius);
  }
  const double c = std::cos(tilt_rad_), s = std::sin(tilt_rad_);
  return {c * p.y_m + s * p.z_m, c * p.z_m - s * p.y_m};
}

}  // namespace propwright::solid
