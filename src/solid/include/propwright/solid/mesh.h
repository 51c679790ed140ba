/// A closed surface of triangles, and the proof that it is one.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::solid {

using MeshPoint = std::array<double, 3>;  ///< x, y, z, m

/// Triangles are counter-clockwise seen from outside.
struct Mesh {
  std::vector<MeshPoint> points_m;
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// Volume inside the triangles, m3, by the divergence theorem: exact for the mesh to rounding,
/// negative where the triangles are turned inside out.
double volume_m3(const Mesh& mesh);

/// Checks what a slicer or a milling program relies on: all numbers finite, no index out of range,
/// no triangle with two equal corners, every edge used once in each sense, every point used, volume
/// above 0. Problem (no_solution) naming the first breach; it speaks of triangles because it can
/// only come from the form itself.
base::Expected<void> check_closed(const Mesh& mesh);

}  // namespace propwright::solid
