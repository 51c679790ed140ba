/// Flattening of a triangle mesh with as little strain as can be (private to the module).
#pragma once

#include <array>

#include <vector>

#include "propwright/form/flat_pattern.h"

namespace propwright::form {

/// Vertices in space, the triangles between them, and the first guess in the plane, which is
/// improved in place; returns the number of iterations. The vertex `pinned` stays where it is; the
/// whole may turn about it. Local/global method of Liu, Zhang, Xu, Gotsman & Gortler, "A
/// local/global approach to mesh parameterization", Computer Graphics Forum 27 (2008) 1495-1504:
/// the energy of the distance of each triangle's map from a rotation, cotangent weights.
int flatten(const std::vector<Point>& space, const std::vector<std::array<int, 3>>& triangles,
            int pinned, std::vector<FlatPoint>& flat);

}  // namespace propwright::form
