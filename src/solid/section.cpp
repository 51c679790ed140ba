#include "section.h"

#include <algorithm>
#include <cmath>

namespace propwright::solid {

Section::Section(const form::Surface& surface, double tilt_rad, double x_m)
    : surface_(&surface),
      side_(surface.hand() == form::Hand::clockwise ? 1 : -1),
      tilt_rad_(tilt_rad),
      x_m_(std::clamp(x_m, surface.root_m(), surface.tip_m())) {
  lead_ = edge(true);
  trail_ = edge(false);
  const double tip = surface.tip_m() + 1e-9;  // far above rounding, far below what is cut
  edges_on_blade_ = x_m >= surface.root_m() && x_m <= tip &&
                    in_plane(lead_.arc_m).radius_m <= tip && in_plane(trail_.arc_m).radius_m <= tip;
}

double Section::radius_edge_arc_m(double radius_m, bool leading) const {
  const double spar = surface_->spar_share(radius_m), width = surface_->sheet_width_m(radius_m);
  return leading ? (1 - spar) * width : -spar * width;
}

/// The section at a radius laid flat, beyond its edges along the tangents there.
Section::Place Section::unrolled(double radius_m, double arc_m) const {
  const double width = surface_->sheet_width_m(radius_m), spar = surface_->spar_share(radius_m);
  const double share = width > 0 ? spar + arc_m / width : (arc_m < 0 ? -1.0 : 2.0);
  const form::Point p = surface_->at(radius_m, std::clamp(share, 0.0, 1.0));
  double y = side_ * p.y_m;
  if (surface_->lay() == form::Lay::helical) y = radius_m * std::atan2(y, p.x_m);
  if (share >= 0 && share <= 1) return {radius_m, y, p.z_m};
  // Half the angle of a circular arc of camber k is 2 atan(2 k).
  const double bend = 2 * std::atan(2 * surface_->camber(radius_m));
  const double angle = surface_->angle_rad(radius_m) + (share < 0 ? bend : -bend);
  const double beyond = share < 0 ? arc_m + spar * width : arc_m - (1 - spar) * width;
  return {radius_m, y + beyond * std::cos(angle), p.z_m + beyond * std::sin(angle)};
}

/// Where the plane meets the sections of the radii at this arc length, before the tilt.
Section::Place Section::in_plane(double arc_m) const {
  Place p = unrolled(x_m_, arc_m);
  if (surface_->lay() == form::Lay::across) return p;
  // The section of radius r is bent round its cylinder; the plane meets it where r cos(y/r) = x.
  // Each round shrinks the error by about (y/r)^2.
  for (int i = 0; i < 60; ++i) {
    const double next = x_m_ / std::cos(std::clamp(p.y_m / p.radius_m, -1.2, 1.2));
    const double change = std::abs(next - p.radius_m);
    p = unrolled(next, arc_m);
    if (change < 1e-15) break;
  }
  p.y_m = p.radius_m * std::sin(p.y_m / p.radius_m);
  return p;
}

Section::Edge Section::edge(bool leading) const {
  // Going out along the section the radius grows, so that the way to the edge of that radius
  // shrinks steadily where the blade narrows outwards, and everywhere where it widens by less than
  // one in one: one root.
  const auto to_go = [&](double arc) {
    return radius_edge_arc_m(in_plane(arc).radius_m, leading) - arc;
  };
  double arc = radius_edge_arc_m(x_m_, leading);
  if (surface_->lay() == form::Lay::helical) {
    const double widest = 2 * surface_->sheet_width_m(x_m_) + 0.01;
    double low = arc - widest, high = arc + widest;
    // Near the tip of a blunt blade the plain step overshoots: it is taken only inside the bounds.
    for (int i = 0; i < 100 && high - low > 1e-15; ++i) {
      const double left = to_go(arc);
      if (std::abs(left) < 1e-15) break;
      (left > 0 ? low : high) = arc;
      const double next = arc + left;
      arc = next > low && next < high ? next : (low + high) / 2;
    }
  }
  constexpr double h = 1e-6;
  const Place p = in_plane(arc), before = in_plane(arc - h), after = in_plane(arc + h);
  return {.arc_m = arc,
          .slope_rad = std::atan2(after.z_m - before.z_m, after.y_m - before.y_m) - tilt_rad_,
          .at = turned(p.y_m, p.z_m)};
}

Across Section::turned(double y_m, double z_m) const {
  const double c = std::cos(tilt_rad_), s = std::sin(tilt_rad_);
  return {c * y_m + s * z_m, c * z_m - s * y_m};
}

Across Section::at(double arc_m) const {
  const bool ahead = arc_m > lead_.arc_m;
  if (ahead || arc_m < trail_.arc_m) {
    const Edge& edge = ahead ? lead_ : trail_;
    const double beyond = arc_m - edge.arc_m;
    return {edge.at.y_m + beyond * std::cos(edge.slope_rad),
            edge.at.z_m + beyond * std::sin(edge.slope_rad)};
  }
  const Place p = in_plane(arc_m);
  return turned(p.y_m, p.z_m);
}

}  // namespace propwright::solid
