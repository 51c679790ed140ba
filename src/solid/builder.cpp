#include "builder.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::solid {
namespace {

constexpr Index no_index = static_cast<Index>(-1);

double turn_between(const FlatPlace& a, const FlatPlace& b) {
  return std::atan2(a.first * b.second - a.second * b.first,
                    a.first * b.first + a.second * b.second);
}

}  // namespace

Index Builder::point(double x_m, double y_m, double z_m) {
  mesh_.points_m.push_back({x_m, y_m, z_m});
  return static_cast<Index>(mesh_.points_m.size() - 1);
}

void Builder::triangle(Index a, Index b, Index c, bool turned) {
  if (a == b || b == c || c == a) return;
  if (turned) std::swap(b, c);
  mesh_.triangles.push_back({a, b, c});
}

void Builder::strip(const Loop& left, const Loop& right, bool turned) {
  std::size_t l = 0, r = 0;
  while (l + 1 < left.size() || r + 1 < right.size()) {
    const bool up_right =
        r + 1 < right.size() && (l + 1 == left.size() || at(right[r + 1])[2] <= at(left[l + 1])[2]);
    if (up_right) {
      triangle(left[l], right[r], right[r + 1], turned);
      ++r;
    } else {
      triangle(left[l], right[r], left[l + 1], turned);
      ++l;
    }
  }
}

void Builder::ring(const Loop& outer, const std::vector<FlatPlace>& outer_at, const Loop& inner,
                   const std::vector<FlatPlace>& inner_at, bool turned) {
  const std::size_t m = outer.size(), n = inner.size();
  std::size_t first = 0;
  for (std::size_t k = 1; k < n; ++k) {
    if (std::abs(turn_between(outer_at[0], inner_at[k])) <
        std::abs(turn_between(outer_at[0], inner_at[first]))) {
      first = k;
    }
  }
  double outer_angle = 0, inner_angle = turn_between(outer_at[0], inner_at[first]);
  std::size_t o = 0, k = 0;
  while (o < m || k < n) {
    const std::size_t o0 = o % m, o1 = (o + 1) % m, k0 = (first + k) % n, k1 = (first + k + 1) % n;
    const double next_outer = outer_angle + turn_between(outer_at[o0], outer_at[o1]);
    const double next_inner = inner_angle + turn_between(inner_at[k0], inner_at[k1]);
    if (k == n || (o < m && next_outer <= next_inner)) {
      triangle(outer[o0], outer[o1], inner[k0], turned);
      outer_angle = next_outer;
      ++o;
    } else {
      triangle(outer[o0], inner[k1], inner[k0], turned);
      inner_angle = next_inner;
      ++k;
    }
  }
}

void Builder::hole(const Loop& rim, const Loop& floor, Index centre, bool turned) {
  for (std::size_t k = 0; k < rim.size(); ++k) {
    const std::size_t next = (k + 1) % rim.size();
    triangle(rim[k], rim[next], floor[next], turned);
    triangle(rim[k], floor[next], floor[k], turned);
    triangle(floor[k], floor[next], centre, turned);
  }
}

Mesh Builder::take(bool mirrored) {
  std::vector<Index> place(mesh_.points_m.size(), no_index);
  Mesh out;
  for (auto t : mesh_.triangles) {
    for (Index& corner : t) {
      if (place[corner] == no_index) {
        place[corner] = static_cast<Index>(out.points_m.size());
        MeshPoint p = mesh_.points_m[corner];
        if (mirrored) p[1] = -p[1];
        out.points_m.push_back(p);
      }
      corner = place[corner];
    }
    if (mirrored) std::swap(t[1], t[2]);
    out.triangles.push_back(t);
  }
  return out;
}

int circle_corners(double radius_m, double tolerance_m) {
  if (tolerance_m >= radius_m) return 16;
  const double corners = std::ceil(base::pi / std::acos(1 - tolerance_m / radius_m));
  return static_cast<int>(std::clamp(corners, 16.0, 256.0));
}

}  // namespace propwright::solid
