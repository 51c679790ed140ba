#include "layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace propwright::sheet {

Box Tiling::tile(int column, int row) const {
  return {column * (tile_width_mm - overlap_mm), row * (tile_height_mm - overlap_mm), tile_width_mm,
          tile_height_mm};
}

std::vector<Point> Tiling::crosses(int column, int row) const {
  const Box box = tile(column, row);
  const double half = overlap_mm / 2;
  std::vector<Point> points;
  for (const double x : {box.x + half, box.right() - half}) {
    for (const double y : {box.y + half, box.bottom() - half}) points.push_back({x, y});
  }
  return points;
}

Tiling tile(double width_mm, double height_mm, const Box& room, double overlap_mm) {
  const auto needed = [&](double length, double tile_length) {
    const double more = (length - overlap_mm) / (tile_length - overlap_mm);
    return std::max(1, static_cast<int>(std::ceil(more - 1e-9)));
  };
  return {needed(width_mm, room.width), needed(height_mm, room.height), room.width, room.height,
          overlap_mm};
}

std::string tile_name(int column, int row) {
  return fmt::format("{}{}", static_cast<char>('A' + row % 26), column + 1);
}

std::vector<Placed> pack_shelves(const std::vector<Box>& sizes, double room_width_mm,
                                 double room_height_mm, double gap_mm) {
  std::vector<Placed> places;
  int sheet = 0;
  double x = 0, y = 0, shelf = 0;
  std::size_t first_of_shelf = 0;
  const auto stand_on_shelf = [&](std::size_t end) {
    // Drawings of a shelf stand on a common line, as templates do on the bench.
    for (std::size_t i = first_of_shelf; i < end; ++i) places[i].at.y += shelf - sizes[i].height;
    first_of_shelf = end;
  };
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    if (x > 0 && x + sizes[i].width > room_width_mm) {
      stand_on_shelf(i);
      x = 0;
      y += shelf + gap_mm;
      shelf = 0;
    }
    // A taller drawing lifts the whole shelf; when the room is full, it starts a new sheet.
    if (y + std::max(shelf, sizes[i].height) > room_height_mm && (y > 0 || x > 0)) {
      stand_on_shelf(i);
      ++sheet;
      x = y = shelf = 0;
    }
    places.push_back({sheet, {x, y}});
    shelf = std::max(shelf, sizes[i].height);
    x += sizes[i].width + gap_mm;
  }
  stand_on_shelf(sizes.size());
  return places;
}

}  // namespace propwright::sheet
