#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/form/built_up.h"
#include "propwright/form/cylinder.h"

namespace propwright::form {
namespace {

// Closer at the ends than between, so that a rounded tip is followed.
constexpr int edge_steps = 800;

double distance(const Point& a, const Point& b) {
  return std::hypot(a.x_m - b.x_m, a.y_m - b.y_m, a.z_m - b.z_m);
}

/// Radius of the circle through three points; 0 where they are in line.
double circle_radius(const Point& a, const Point& b, const Point& c) {
  const double ab = distance(a, b), bc = distance(b, c), ca = distance(c, a);
  const double s = (ab + bc + ca) / 2;
  const double area = std::sqrt(std::max(0.0, s * (s - ab) * (s - bc) * (s - ca)));
  return area > 1e-9 * ab * bc ? ab * bc * ca / (4 * area) : 0;
}

struct EdgePath {
  std::vector<Point> points;
  std::vector<double> radius_m;
  std::size_t tip = 0;        ///< index of the leading edge's last point
  std::size_t tip_trail = 0;  ///< of the trailing edge's first
};

EdgePath edge_path(const Surface& blade) {
  EdgePath path;
  const double root = blade.root_m(), tip = blade.tip_m();
  const auto add = [&](double radius, double share) {
    path.points.push_back(blade.at(radius, share));
    path.radius_m.push_back(radius);
  };
  const auto radius = [&](int i) {
    return root + (tip - root) * std::sin(base::pi / 2 * i / edge_steps);
  };
  for (int i = 0; i <= edge_steps; ++i) add(radius(i), 1);
  path.tip = path.points.size() - 1;
  const bool pointed = blade.chord_m(tip) < 1e-9;
  path.tip_trail = pointed ? path.tip : path.tip + 1;
  for (int i = pointed ? edge_steps - 1 : edge_steps; i >= 0; --i) add(radius(i), 0);
  return path;
}

/// The point of the path at each even step of its length, with the blade's radius there.
EdgePath even_path(const EdgePath& path, double length_m, int steps) {
  EdgePath even;
  double walked = 0;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const Point &a = path.points[i - 1], &b = path.points[i];
    const double piece = distance(a, b);
    while (static_cast<double>(even.points.size()) * length_m / steps <= walked + piece) {
      const double share =
          piece > 0 ? (static_cast<double>(even.points.size()) * length_m / steps - walked) / piece
                    : 0;
      even.points.push_back({a.x_m + share * (b.x_m - a.x_m), a.y_m + share * (b.y_m - a.y_m),
                             a.z_m + share * (b.z_m - a.z_m)});
      even.radius_m.push_back(path.radius_m[i]);
    }
    walked += piece;
    if (i == path.tip) even.tip = even.points.size();
    if (i == path.tip_trail) even.tip_trail = even.points.size();
  }
  return even;
}

/// Circles through points a hundred-and-fiftieth of the strip apart: the bend that wood feels,
/// above the joints of the curve between the rows of the outline.
void tightest_bend(const EdgePath& path, OutlineStrip& strip) {
  constexpr int steps = 150;
  const EdgePath even = even_path(path, strip.length_m, steps);
  for (std::size_t i = 1; i + 1 < even.points.size(); ++i) {
    const bool over_corner =
        (i + 1 >= even.tip && i <= even.tip) || (i + 1 >= even.tip_trail && i <= even.tip_trail);
    if (strip.corner_at_tip && over_corner) continue;
    const double bend = circle_radius(even.points[i - 1], even.points[i], even.points[i + 1]);
    if (bend > 0 && (strip.tightest_radius_m == 0 || bend < strip.tightest_radius_m)) {
      strip.tightest_radius_m = bend;
      strip.tightest_at_m = even.radius_m[i];
    }
  }
}

}  // namespace

OutlineStrip outline_strip(const Surface& blade, double strip_m, double allowance_m) {
  if (!(strip_m >= 0 && allowance_m >= 0)) {
    throw std::invalid_argument("outline_strip: strip and allowance must not be negative");
  }
  const EdgePath path = edge_path(blade);
  OutlineStrip strip;
  strip.corner_at_tip = blade.chord_m(blade.tip_m()) >= 1e-9;
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    strip.length_m += distance(path.points[i - 1], path.points[i]);
  }
  strip.cut_length_m = strip.length_m + 2 * allowance_m;
  tightest_bend(path, strip);
  if (strip.tightest_radius_m > 0) {
    strip.bending_strain = bending_strain(strip.tightest_radius_m, strip_m);
  }
  return strip;
}

}  // namespace propwright::form
