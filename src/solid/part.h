// One part of the form: the top between two rows, sides, base, ends, and the holes in it.
#pragma once

#include <cstddef>

#include "grid.h"
#include "propwright/solid/form_solid.h"

namespace propwright::solid {

/// A dowel hole square to the face of a split.
struct Dowel {
  std::size_t first_column = 0, last_column = 0;  ///< of the square it is cut from
  double y_m = 0, z_m = 0;                        ///< centre
};

/// Where two dowels find room at the row of the split. Problem: form.split where they do not.
base::Expected<std::vector<Dowel>> place_dowels(const Grid& grid, std::size_t row,
                                                const FormOptions& options);

/// A pin hole from above.
struct Pin {
  std::size_t first_row = 0, last_row = 0, first_column = 0, last_column = 0;
  double x_m = 0, floor_z_m = 0;
  std::vector<MeshPoint> rim = {};  ///< counter-clockwise from above
};

/// Problem: form.pins where a hole has no room beside or below it.
base::Expected<std::vector<Pin>> place_pins(const Grid& grid, const form::Surface& surface,
                                            const FormOptions& options);

struct PartRange {
  std::size_t first_row = 0, last_row = 0;
  bool split_at_first = false, split_at_last = false;
};

Mesh make_part(const Grid& grid, const PartRange& range, const std::vector<Pin>& pins,
               const std::vector<Dowel>& dowels, const FormOptions& options, bool mirrored);

}  // namespace propwright::solid
