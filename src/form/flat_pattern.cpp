#include "propwright/form/flat_pattern.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "flatten.h"
#include "propwright/base/constants.h"

namespace propwright::form {
namespace {

/// A tip narrower than this share of the widest chord is a point.
constexpr double pointed = 1e-3;

/// The grid of vertices: rows from root to tip, columns from the trailing to the leading edge, the
/// spar line one of them; a pointed tip is one vertex.
struct Grid {
  std::vector<double> radius_m;  ///< of each row
  int columns = 0, spar_column = 0;
  bool pointed_tip = false;
  int last_full_row() const { return static_cast<int>(radius_m.size()) - (pointed_tip ? 2 : 1); }
  int vertex(int row, int column) const {
    return row > last_full_row() ? (last_full_row() + 1) * columns : row * columns + column;
  }
};

Grid grid_of(const Surface& surface, const PatternOptions& options) {
  Grid grid;
  const double root = surface.root_m(), tip = surface.tip_m();
  double widest = 0;
  for (int i = 0; i <= options.stations; ++i) {
    // Denser towards the tip, where the outline rounds.
    const double share = std::sin(base::pi / 2 * i / options.stations);
    grid.radius_m.push_back(i == options.stations ? tip : root + (tip - root) * share);
    widest = std::max(widest, surface.chord_m(grid.radius_m.back()));
  }
  grid.pointed_tip = surface.chord_m(tip) < pointed * widest;
  grid.columns = options.across + 1;
  const double middle = surface.spar_share((root + tip) / 2);
  grid.spar_column =
      std::clamp(static_cast<int>(std::lround(middle * options.across)), 0, options.across);
  return grid;
}

/// Share of the arc at a column: even on either side of the spar.
double share_of(const Grid& grid, double spar_share, int column) {
  const int after = grid.columns - 1 - grid.spar_column;
  if (column <= grid.spar_column && grid.spar_column > 0) {
    return spar_share * column / grid.spar_column;
  }
  return spar_share + (1 - spar_share) * (column - grid.spar_column) / after;
}

bool has_even_pitch(const Surface& surface) {
  const double pitch = surface.pitch_m(surface.root_m());
  for (int i = 0; i <= 64; ++i) {
    const double r = surface.root_m() + (surface.tip_m() - surface.root_m()) * i / 64;
    if (std::abs(surface.pitch_m(r) - pitch) > 1e-9 * pitch || surface.camber(r) > 1e-9) {
      return false;
    }
  }
  return true;
}

bool is_uncambered(const Surface& surface) {
  for (int i = 0; i <= 64; ++i) {
    const double r = surface.root_m() + (surface.tip_m() - surface.root_m()) * i / 64;
    if (surface.camber(r) > 1e-9) return false;
  }
  return true;
}

/// Length along the arc from the spar line, positive to the leading edge.
double arc_from_spar_m(const Surface& surface, double radius_m, double share) {
  return (share - surface.spar_share(radius_m)) * surface.sheet_width_m(radius_m);
}

FlatPoint fermi_point(const Surface& surface, double radius_m, double arc_m) {
  // Straight sections square to a straight spar are geodesics: their coordinates are themselves.
  if (surface.lay() == Lay::across) return {radius_m, arc_m};
  const double turn = arc_m * std::cos(surface.angle_rad(radius_m)) / radius_m;
  return helicoid_fermi(surface.pitch_m(radius_m), radius_m, turn);
}

void lay_vertices(const Surface& surface, const Grid& grid, bool geodesic, FlatPattern& pattern) {
  for (int row = 0; row <= grid.last_full_row(); ++row) {
    const double r = grid.radius_m[row], spar = surface.spar_share(r);
    for (int column = 0; column < grid.columns; ++column) {
      const double share = share_of(grid, spar, column), arc = arc_from_spar_m(surface, r, share);
      pattern.space.push_back(surface.at(r, share));
      pattern.flat.push_back(geodesic ? fermi_point(surface, r, arc) : FlatPoint{r, arc});
    }
  }
  if (grid.pointed_tip) {
    pattern.space.push_back(surface.at(surface.tip_m(), 0.5));
    pattern.flat.push_back({surface.tip_m(), 0});
  }
}

void join_triangles(const Grid& grid, FlatPattern& pattern) {
  const int last = static_cast<int>(grid.radius_m.size()) - 1;
  for (int row = 0; row < last; ++row) {
    for (int column = 0; column + 1 < grid.columns; ++column) {
      const int a = grid.vertex(row, column), b = grid.vertex(row + 1, column),
                c = grid.vertex(row + 1, column + 1), d = grid.vertex(row, column + 1);
      if (b == c) {
        pattern.triangles.push_back({a, b, d});
      } else if ((column < grid.spar_column)) {  // mirrored about the spar
        pattern.triangles.push_back({a, b, d});
        pattern.triangles.push_back({d, b, c});
      } else {
        pattern.triangles.push_back({a, b, c});
        pattern.triangles.push_back({a, c, d});
      }
    }
  }
}

/// Turns the pattern about the root's spar point so that the tip's lies on the spar line.
void straighten(const Grid& grid, FlatPattern& pattern) {
  const FlatPoint root = pattern.flat[grid.vertex(0, grid.spar_column)];
  const FlatPoint tip =
      pattern.flat[grid.vertex(static_cast<int>(grid.radius_m.size()) - 1, grid.spar_column)];
  const double along = tip.along_m - root.along_m, across = tip.across_m - root.across_m;
  const double length = std::hypot(along, across);
  for (FlatPoint& point : pattern.flat) {
    const double x = point.along_m - root.along_m, y = point.across_m - root.across_m;
    point = {root.along_m + (x * along + y * across) / length, (y * along - x * across) / length};
  }
}

/// Singular values of the map from a flat triangle to the same in space.
Stretch stretch_of(const FlatPoint (&flat)[3], const Point (&space)[3]) {
  const double a = flat[1].along_m - flat[0].along_m, b = flat[2].along_m - flat[0].along_m;
  const double c = flat[1].across_m - flat[0].across_m, d = flat[2].across_m - flat[0].across_m;
  const double area = a * d - b * c;
  const auto along = [&](double from, double first, double second) {
    return std::pair{((first - from) * d - (second - from) * c) / area,
                     ((second - from) * a - (first - from) * b) / area};
  };
  const auto [xu, xv] = along(space[0].x_m, space[1].x_m, space[2].x_m);
  const auto [yu, yv] = along(space[0].y_m, space[1].y_m, space[2].y_m);
  const auto [zu, zv] = along(space[0].z_m, space[1].z_m, space[2].z_m);
  const double e = xu * xu + yu * yu + zu * zu, f = xu * xv + yu * yv + zu * zv,
               g = xv * xv + yv * yv + zv * zv;
  const double mean = (e + g) / 2, radius = std::hypot((e - g) / 2, f);
  return {std::sqrt(mean + radius), std::sqrt(std::max(0.0, mean - radius))};
}

double triangle_area(const Point (&p)[3]) {
  const double ux = p[1].x_m - p[0].x_m, uy = p[1].y_m - p[0].y_m, uz = p[1].z_m - p[0].z_m;
  const double vx = p[2].x_m - p[0].x_m, vy = p[2].y_m - p[0].y_m, vz = p[2].z_m - p[0].z_m;
  return std::hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

double triangle_area(const FlatPoint (&p)[3]) {
  return std::abs((p[1].along_m - p[0].along_m) * (p[2].across_m - p[0].across_m) -
                  (p[2].along_m - p[0].along_m) * (p[1].across_m - p[0].across_m)) /
         2;
}

void judge_strain(const Surface& surface, const SheetLimit& limit, FlatPattern& pattern) {
  double flat_area = 0, space_area = 0, worst = -1;
  for (const auto& [i, j, k] : pattern.triangles) {
    const FlatPoint flat[3] = {pattern.flat[i], pattern.flat[j], pattern.flat[k]};
    const Point space[3] = {pattern.space[i], pattern.space[j], pattern.space[k]};
    const Stretch stretch = stretch_of(flat, space);
    pattern.stretch.push_back(stretch);
    flat_area += triangle_area(flat);
    space_area += triangle_area(space);
    pattern.worst_stretch = std::max(pattern.worst_stretch, stretch.largest - 1);
    pattern.worst_squeeze = std::max(pattern.worst_squeeze, 1 - stretch.smallest);
    const double here = std::max(stretch.largest - 1, 1 - stretch.smallest);
    if (here <= worst) continue;
    worst = here;
    pattern.worst_at = {(flat[0].along_m + flat[1].along_m + flat[2].along_m) / 3,
                        (flat[0].across_m + flat[1].across_m + flat[2].across_m) / 3};
    const auto radius = [&](const Point& p) {
      return surface.lay() == Lay::across ? p.x_m : std::hypot(p.x_m, p.y_m);
    };
    pattern.worst_radius_m = (radius(space[0]) + radius(space[1]) + radius(space[2])) / 3;
  }
  pattern.area_ratio = space_area / flat_area;
  pattern.within_limit =
      pattern.worst_stretch <= limit.strain && pattern.worst_squeeze <= limit.strain;
  const double r = std::clamp(pattern.worst_at.along_m, surface.root_m(), surface.tip_m());
  pattern.edge_estimate = -helicoid_curvature_per_m2(surface.pitch_m(r), r) *
                          pattern.worst_at.across_m * pattern.worst_at.across_m / 2;
}

void list_stations(const Surface& surface, const Grid& grid, FlatPattern& pattern) {
  for (int row = 0; row < static_cast<int>(grid.radius_m.size()); ++row) {
    const double r = grid.radius_m[row];
    const PatternStation station{.radius_m = r,
                                 .lead = pattern.flat[grid.vertex(row, grid.columns - 1)],
                                 .spar = pattern.flat[grid.vertex(row, grid.spar_column)],
                                 .trail = pattern.flat[grid.vertex(row, 0)],
                                 .arc_lead = {r, arc_from_spar_m(surface, r, 1)},
                                 .arc_trail = {r, arc_from_spar_m(surface, r, 0)}};
    const auto apart = [](const FlatPoint& a, const FlatPoint& b) {
      return std::hypot(a.along_m - b.along_m, a.across_m - b.across_m);
    };
    pattern.arc_difference_m =
        std::max({pattern.arc_difference_m, apart(station.lead, station.arc_lead),
                  apart(station.trail, station.arc_trail)});
    pattern.stations.push_back(station);
  }
}

std::optional<base::Problem> wrong_option(const PatternOptions& options) {
  if (options.stations < 8 || options.stations > 400) {
    return base::Problem{.field = "form.pattern_stations",
                         .value = std::to_string(options.stations),
                         .allowed = "8 to 400",
                         .remedy = "48 is usual",
                         .message = "the number of steps along the blade is out of range"};
  }
  if (options.across < 4 || options.across > 100) {
    return base::Problem{.field = "form.pattern_across",
                         .value = std::to_string(options.across),
                         .allowed = "4 to 100",
                         .remedy = "12 is usual",
                         .message = "the number of steps across the blade is out of range"};
  }
  return std::nullopt;
}

}  // namespace

base::Expected<FlatPattern> flat_pattern(const Surface& surface, const PatternOptions& options) {
  if (auto problem = wrong_option(options)) return base::fail(*problem);
  const bool exact =
      surface.lay() == Lay::across ? is_uncambered(surface) : has_even_pitch(surface);
  FlatPattern pattern;
  pattern.hand = surface.hand();
  pattern.method =
      exact && !options.least_strain ? PatternMethod::geodesic : PatternMethod::least_strain;
  const Grid grid = grid_of(surface, options);
  lay_vertices(surface, grid, pattern.method == PatternMethod::geodesic, pattern);
  join_triangles(grid, pattern);
  if (pattern.method == PatternMethod::least_strain) {
    pattern.iterations =
        flatten(pattern.space, pattern.triangles, grid.vertex(0, grid.spar_column), pattern.flat);
    straighten(grid, pattern);
  }
  judge_strain(surface, options.limit, pattern);
  list_stations(surface, grid, pattern);
  return pattern;
}

}  // namespace propwright::form
