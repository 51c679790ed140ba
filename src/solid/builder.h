// Puts a closed mesh together from vertices, strips and drilled holes.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "propwright/solid/mesh.h"

namespace propwright::solid {

using Index = std::uint32_t;
using Loop = std::vector<Index>;
using FlatPlace = std::pair<double, double>;

class Builder {
 public:
  Index point(double x_m, double y_m, double z_m);
  /// Left out where two of its corners are one. `turned` reverses it.
  void triangle(Index a, Index b, Index c, bool turned = false);
  /// Between two chains going the same way, `right` to the right of `left` as seen when the
  /// triangles run counter-clockwise: the bottom of a strip whose sides are upright.
  void strip(const Loop& left, const Loop& right, bool turned);
  /// Between a loop and a circle inside it, both counter-clockwise about the circle's centre, told
  /// by their places in the plane of the loop with the centre at the origin.
  void ring(const Loop& outer, const std::vector<FlatPlace>& outer_at, const Loop& inner,
            const std::vector<FlatPlace>& inner_at, bool turned);
  /// The wall of a blind hole from its rim to its floor, and the floor.
  void hole(const Loop& rim, const Loop& floor, Index centre, bool turned);

  /// The mesh without points that no triangle uses.
  Mesh take(bool mirrored);
  const MeshPoint& at(Index i) const { return mesh_.points_m[i]; }

 private:
  Mesh mesh_;
};

/// How many corners a circle needs for the tolerance, 16..256.
int circle_corners(double radius_m, double tolerance_m);

}  // namespace propwright::solid
