/// Where drawings go on sheets: tiles of a drawing larger than the paper, and several small ones
/// packed on shelves. Plain arithmetic in millimetres.
#pragma once

#include <string>
#include <vector>

#include "geometry.h"

namespace propwright::sheet {

/// A drawing cut into tiles that overlap.
struct Tiling {
  int columns = 1, rows = 1;
  double tile_width_mm = 0, tile_height_mm = 0, overlap_mm = 0;

  int count() const { return columns * rows; }
  /// The tile's rectangle in the drawing, y down; column and row from 0.
  Box tile(int column, int row) const;
  /// The corners of the grid of overlap centres that this tile shows; the same points stand on the
  /// neighbours.
  std::vector<Point> crosses(int column, int row) const;
};

Tiling tile(double width_mm, double height_mm, const Box& room, double overlap_mm);

/// "A1": rows are letters from the top, columns numbers from the left.
std::string tile_name(int column, int row);

struct Placed {
  int sheet = 0;
  Point at;  ///< top left corner, relative to the sheet's room
};

/// Shelf packing in the order given: left to right, a new shelf when the line is full, a new sheet
/// when the room is. Every size must fit the room.
std::vector<Placed> pack_shelves(const std::vector<Box>& sizes, double room_width_mm,
                                 double room_height_mm, double gap_mm);

}  // namespace propwright::sheet
