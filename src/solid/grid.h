// The top of the form as rows of points, each row a section across the spar line.
#pragma once

#include <vector>

#include "propwright/solid/form_solid.h"
#include "section.h"

namespace propwright::solid {

struct Grid {
  std::vector<double> x_m;                ///< of the rows
  std::vector<std::vector<Across>> rows;  ///< equally many points, y not falling; a wall of the
                                          ///< groove is two points with one y
  double lift_m = 0;                      ///< added to the section's height: the bench is z = 0
  /// Height of the top at y, m; 0 beyond its edges.
  double height_m(std::size_t row, double y_m) const;
};

/// Rows and columns fine enough for the tolerance, with rows at root, tip, split and about the
/// pins. The options must have been checked. `border_rows`: of the border beyond root and beyond
/// tip; it is straight there, so that one does for triangles. Problem: form.tolerance (no_solution)
/// where the tolerance takes too many triangles.
base::Expected<Grid> make_grid(const form::Surface& surface, const FormOptions& options,
                               int border_rows = 1);

/// Half the side of the square of triangles a round hole is cut from, over its radius.
constexpr double hole_block = 1.5;

}  // namespace propwright::solid
