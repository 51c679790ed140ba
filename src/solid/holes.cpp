// Where pins and dowels go.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "builder.h"
#include "part.h"
#include "propwright/base/constants.h"

namespace propwright::solid {
namespace {

constexpr double least_wall_m = 0.0003;  // between a hole and any other face

std::string millimetres(double length_m) {
  return fmt::format("{:.2f} mm", 1e3 * length_m);
}

tl::unexpected<base::Problems> no_room(const std::string& field, double where_m,
                                       const std::string& what, const std::string& remedy) {
  return base::fail({.field = field,
                     .value = millimetres(where_m),
                     .remedy = remedy,
                     .message = what + " at radius " + millimetres(where_m) + " finds no room"});
}

/// Columns left and right of y by at least `half`, nearest; false where the form is too narrow.
bool columns_about(const std::vector<Across>& row, double y, double half, std::size_t& first,
                   std::size_t& last) {
  first = last = row.size();
  for (std::size_t j = 0; j < row.size(); ++j) {
    if (row[j].y_m <= y - half) first = j;
    if (row[j].y_m >= y + half && last == row.size()) last = j;
  }
  return first < row.size() && last < row.size();
}

/// Height of the surface at y by halving the arc; y rises along the section.
double surface_z_m(const Section& section, double y, double reach) {
  double low = -reach, high = reach;
  for (int i = 0; i < 60; ++i) {
    const double mid = (low + high) / 2;
    (section.at(mid).y_m < y ? low : high) = mid;
  }
  return section.at((low + high) / 2).z_m;
}

bool dowel_is_inside(const Grid& grid, std::size_t row, const Dowel& dowel,
                     const FormOptions& options) {
  const double radius = options.dowel_diameter_m / 2;
  const double reach = options.dowel_depth_m + least_wall_m;
  const double split = grid.x_m[row];
  if (split - reach < grid.x_m.front() || split + reach > grid.x_m.back()) return false;
  // One row beyond the floor of the hole on either side as well.
  std::size_t from = row, to = row;
  while (from > 0 && grid.x_m[from] > split - reach) --from;
  while (to + 1 < grid.x_m.size() && grid.x_m[to] < split + reach) ++to;
  for (std::size_t i = from; i <= to; ++i) {
    for (const double y : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
      if (grid.height_m(i, dowel.y_m + y * (radius + least_wall_m)) <
          dowel.z_m + radius + least_wall_m) {
        return false;
      }
    }
  }
  return true;
}

}  // namespace

base::Expected<std::vector<Dowel>> place_dowels(const Grid& grid, std::size_t row,
                                                const FormOptions& options) {
  const auto& points = grid.rows[row];
  const double half = hole_block * options.dowel_diameter_m / 2;
  const double left = points.front().y_m, width = points.back().y_m - left;
  std::vector<Dowel> dowels;
  bool room = true;
  for (const double share : {0.25, 0.75}) {
    Dowel dowel;
    dowel.y_m = left + share * width;
    room = room && columns_about(points, dowel.y_m, half, dowel.first_column, dowel.last_column);
    if (!room) break;
    // A wall of the groove is two columns with one y: the square takes both or none.
    while (dowel.first_column > 0 &&
           points[dowel.first_column - 1].y_m == points[dowel.first_column].y_m) {
      --dowel.first_column;
    }
    while (dowel.last_column + 1 < points.size() &&
           points[dowel.last_column + 1].y_m == points[dowel.last_column].y_m) {
      ++dowel.last_column;
    }
    double lowest = points[dowel.first_column].z_m;
    for (std::size_t j = dowel.first_column; j <= dowel.last_column; ++j) {
      lowest = std::min(lowest, points[j].z_m);
    }
    dowel.z_m = lowest / 2;
    // The square stays clear of the sides, which know nothing of its corners.
    room = dowel.first_column > 0 && dowel.last_column + 1 < points.size() &&
           dowel.z_m > half + least_wall_m && dowel_is_inside(grid, row, dowel, options) &&
           (dowels.empty() || points[dowels[0].last_column].y_m < points[dowel.first_column].y_m);
    dowels.push_back(dowel);
  }
  if (!room) {
    return no_room("form.split", grid.x_m[row], "a dowel in the split",
                   "use a thinner or shorter dowel, a thicker base, or split elsewhere");
  }
  return dowels;
}

base::Expected<std::vector<Pin>> place_pins(const Grid& grid, const form::Surface& surface,
                                            const FormOptions& options) {
  const double radius = options.pin_diameter_m / 2, half = hole_block * radius;
  const auto row_at = [&](double x) {
    const auto it = std::min_element(grid.x_m.begin(), grid.x_m.end(), [&](double a, double b) {
      return std::abs(a - x) < std::abs(b - x);
    });
    return static_cast<std::size_t>(it - grid.x_m.begin());
  };
  std::vector<Pin> pins;
  for (const double x : options.pin_radii_m) {
    Pin pin{.first_row = row_at(x - half), .last_row = row_at(x + half), .x_m = x};
    const auto& row = grid.rows[pin.first_row];
    if (!columns_about(row, 0, half, pin.first_column, pin.last_column) || pin.first_column == 0 ||
        pin.last_column + 1 == row.size()) {
      return no_room("form.pins", x, "the pin hole", "use a thinner pin or a wider border");
    }
    const int corners = circle_corners(radius, options.tolerance_m);
    double lowest = 1e9;
    for (int k = 0; k < corners; ++k) {
      const double angle = 2 * base::pi * k / corners;
      const double px = x + radius * std::cos(angle), py = radius * std::sin(angle);
      // The surface is nowhere steeper than 86 degrees: 15 radii along it pass one across.
      const double z =
          surface_z_m(Section(surface, options.base_tilt_rad, px), py, 20 * radius) + grid.lift_m;
      pin.rim.push_back({px, py, z});
      lowest = std::min(lowest, z);
    }
    pin.floor_z_m = lowest - options.pin_depth_m;
    if (pin.floor_z_m < least_wall_m) {
      return no_room("form.pins", x, "the floor of the pin hole",
                     "make the hole shallower or the base thicker");
    }
    pins.push_back(std::move(pin));
  }
  return pins;
}

}  // namespace propwright::solid
