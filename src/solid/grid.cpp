#include "grid.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "propwright/base/constants.h"

namespace propwright::solid {
namespace {

constexpr double least_gap_m = 0.0003;  // between groove and scribe line
constexpr double most_cells = 1e5;      // some seconds, and 10 MB of STL and more

/// One column of the grid at some x: its place along the section and what is cut away there,
/// square to the surface.
struct Column {
  double arc_m = 0, depth_m = 0;
};

struct Counts {
  int rows = 48;        // from root to tip
  int inside = 4;       // columns from the groove to either edge
  int border = 2;       // columns of the border, which is straight
  int border_rows = 1;  // beyond root and beyond tip
};

/// Where the columns of a section are that stand for the blade's edges.
struct Edges {
  std::size_t trail = 0, lead = 0;
};

class Layout {
 public:
  Layout(const form::Surface& surface, const FormOptions& options)
      : surface_(surface), options_(options) {
    groove_ = options.groove_width_m / 2;
    scribe_ = options.scribe_depth_m > 0 ? options.scribe_width_m / 2 : 0;
    inner_end_ = first_m() - 1;
    outer_end_ = last_m() + 1;
    const double clear = hole_block * options.pin_diameter_m / 2 + 1e-9;
    for (const double pin : options.pin_radii_m) {
      if (pin < surface.root_m()) inner_end_ = std::max(inner_end_, pin + clear);
      if (pin > surface.tip_m()) outer_end_ = std::min(outer_end_, pin - clear);
    }
    for (const double share : {0.0, 1.0}) {
      // The corners of a square tip bent round its cylinder: the edges kink there.
      const double corner = surface.at(surface.tip_m(), share).x_m;
      if (corner < surface.tip_m() - 1e-7) kinks_.push_back(corner);
    }
    for (const bool leading : {true, false}) {
      if (arc_m(section(surface.tip_m()), leading) < least_half_m()) {
        kinks_.push_back(narrow_from(leading));
      }
    }
  }

  double first_m() const { return surface_.root_m() - options_.border_m; }
  double last_m() const { return surface_.tip_m() + options_.border_m; }
  Section section(double x) const { return {surface_, options_.base_tilt_rad, x}; }

  Edges edges(const Counts& counts) const {
    const std::size_t trail = counts.border + (scribe_ > 0 ? 1 : 0);
    const std::size_t middle =
        2 * counts.inside + (scribe_ > 0 ? 2 : 0) + (groove_ > 0 ? 2 + floor_cells(counts) : 0);
    return {trail, trail + middle};
  }

  std::vector<Column> columns(double x, const Section& section, const Counts& counts) const {
    // Where the blade is narrower than groove and scribe lines need, the columns keep apart and
    // the scribe line is left out.
    const double least = least_half_m();
    const double trail = section.trail_arc_m(), lead = section.lead_arc_m();
    const double t = std::max(trail, least), l = std::max(lead, least);
    const bool marked = section.edges_on_blade();
    std::vector<Column> out;
    const auto even = [&](double from, double to, int cells) {
      // The last exactly: the walls of the groove must be upright.
      for (int i = 0; i < cells; ++i) out.push_back({from + (to - from) * i / cells, 0});
      out.push_back({to, 0});
    };
    const auto scribe = [&](double at, bool cut) {
      if (scribe_ > 0) out.push_back({at, cut ? options_.scribe_depth_m : 0});
    };
    even(-(t + options_.border_m), -(t + scribe_), counts.border);
    scribe(-t, marked && trail >= least);
    if (scribe_ == 0) out.pop_back();
    even(-(t - scribe_), -groove_, counts.inside);
    if (groove_ > 0) {
      const double depth = x > inner_end_ && x < outer_end_ ? options_.groove_depth_m : 0;
      for (int i = 0; i <= floor_cells(counts); ++i) {
        out.push_back({groove_ * (2.0 * i / floor_cells(counts) - 1), depth});
      }
    } else {
      out.pop_back();
    }
    even(groove_, l - scribe_, counts.inside);
    scribe(l, marked && lead >= least);
    if (scribe_ == 0) out.pop_back();
    even(l + scribe_, l + options_.border_m, counts.border);
    if (x == surface_.root_m() || x == surface_.tip_m()) mark_end(out, section, counts);
    return out;
  }

  std::vector<double> rows(const Counts& counts) const {
    const double root = surface_.root_m(), tip = surface_.tip_m();
    std::vector<double> x{first_m(), root, tip, last_m()};
    x.insert(x.end(), kinks_.begin(), kinks_.end());
    // Denser to the tip, so that its rounding is true.
    for (int i = 1; i < counts.rows; ++i) {
      x.push_back(root + (tip - root) * std::sin(base::pi / 2 * i / counts.rows));
    }
    for (int i = 1; i < counts.border_rows; ++i) {
      // From small steps at the blade's ends to large ones.
      const double out = options_.border_m * (1 - std::cos(base::pi / 2 * i / counts.border_rows));
      x.insert(x.end(), {root - out, tip + out});
    }
    if (options_.split_radius_m) x.push_back(*options_.split_radius_m);
    const double half = hole_block * options_.pin_diameter_m / 2;
    for (const double pin : options_.pin_radii_m) {
      // The groove begins a little beyond the pin.
      const double beyond = half + 0.0002;
      x.insert(x.end(), {pin - half, pin + half, pin < root ? pin + beyond : pin - beyond});
    }
    // A row within the scribe line across an end would make it wider or shallower.
    for (const double end : {root, tip}) {
      if (!wide(section(end))) continue;
      std::erase_if(x, [&](double each) {
        return each != end && std::abs(each - end) < scribe_ && !is_kept(each);
      });
      x.insert(x.end(), {end - scribe_, end + scribe_});
    }
    std::sort(x.begin(), x.end());
    std::vector<double> out;
    for (const double each : x) {
      if (out.empty() || each - out.back() > 1e-7) {
        out.push_back(each);
      } else if (is_kept(each)) {
        out.back() = each;
      }
    }
    return out;
  }

 private:
  /// Of the groove's floor.
  static int floor_cells(const Counts& counts) { return std::max(1, counts.inside / 4); }

  double least_half_m() const { return groove_ + scribe_ + least_gap_m; }

  static double arc_m(const Section& section, bool leading) {
    return leading ? section.lead_arc_m() : section.trail_arc_m();
  }

  /// Where, going out to the tip, the blade becomes narrower than the columns: they kink there.
  double narrow_from(bool leading) const {
    double wide = (surface_.root_m() + surface_.tip_m()) / 2, narrow = surface_.tip_m();
    for (int i = 0; i < 50; ++i) {
      const double x = (wide + narrow) / 2;
      (arc_m(section(x), leading) < least_half_m() ? narrow : wide) = x;
    }
    return wide;
  }

  bool wide(const Section& section) const {
    return scribe_ > 0 && section.lead_arc_m() >= least_half_m() &&
           section.trail_arc_m() >= least_half_m();
  }

  bool is_kept(double x) const {
    return x == surface_.root_m() || x == surface_.tip_m() || x == options_.split_radius_m ||
           std::find(kinks_.begin(), kinks_.end(), x) != kinks_.end();
  }

  /// The scribe line across the blade's end, straight.
  void mark_end(std::vector<Column>& columns, const Section& section, const Counts& counts) const {
    if (!wide(section)) return;
    const Edges between = edges(counts);
    for (std::size_t j = between.trail; j <= between.lead; ++j) {
      columns[j].depth_m = std::max(columns[j].depth_m, options_.scribe_depth_m);
    }
  }

  const form::Surface& surface_;
  const FormOptions& options_;
  double groove_ = 0, scribe_ = 0, inner_end_ = 0, outer_end_ = 0;
  std::vector<double> kinks_;
};

/// Distance of m from the straight line through the point p with the direction of q - r.
double off_line(const Across& m, const Across& p, const Across& q, const Across& r) {
  const double y = q.y_m - r.y_m, z = q.z_m - r.z_m, length = std::hypot(y, z);
  if (length == 0) return 0;
  return std::abs((m.y_m - p.y_m) * z - (m.z_m - p.z_m) * y) / length;
}

Across middle(const Across& a, const Across& b) {
  return {(a.y_m + b.y_m) / 2, (a.z_m + b.z_m) / 2};
}

/// A section with its columns, and the surface's points there before anything is cut.
struct Line {
  Section section;
  std::vector<Column> columns;
  std::vector<Across> points;
};

Line line_at(const Layout& layout, double x, const Counts& counts) {
  Line line{.section = layout.section(x), .columns = {}, .points = {}};
  line.columns = layout.columns(x, line.section, counts);
  for (const Column& column : line.columns) line.points.push_back(line.section.at(column.arc_m));
  return line;
}

struct Errors {
  double across_m = 0, along_m = 0;
};

/// How far the blade's edge leaves the straight line between two rows.
double edge_error(const Line& a, const Line& m, const Line& b, std::size_t j, double share) {
  const double y = a.points[j].y_m + share * (b.points[j].y_m - a.points[j].y_m);
  const double z = a.points[j].z_m + share * (b.points[j].z_m - a.points[j].z_m);
  return std::hypot(m.points[j].y_m - y, m.points[j].z_m - z);
}

/// How far the surface leaves the triangles, square to it, looked at in the middle of the edges
/// and of the cells, and how far the blade's edges leave theirs.
Errors errors(const Layout& layout, const Counts& counts) {
  Errors worst;
  const auto x = layout.rows(counts);
  const Edges edges = layout.edges(counts);
  Line a = line_at(layout, x.front(), counts);
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const Line b = line_at(layout, x[i + 1], counts);
    const Line m = line_at(layout, (x[i] + x[i + 1]) / 2, counts);
    for (std::size_t j = 1; j < a.points.size(); ++j) {
      if (!(a.columns[j].arc_m > a.columns[j - 1].arc_m)) continue;
      const Across &a0 = a.points[j - 1], &a1 = a.points[j], &b1 = b.points[j];
      const double arc_a = (a.columns[j].arc_m + a.columns[j - 1].arc_m) / 2;
      const double arc_b = (b.columns[j].arc_m + b.columns[j - 1].arc_m) / 2;
      worst.across_m =
          std::max(worst.across_m, off_line(a.section.at(arc_a), middle(a0, a1), a0, a1));
      const Across centre = m.section.at((arc_a + arc_b) / 2);
      const Across edge = m.section.at((a.columns[j].arc_m + b.columns[j].arc_m) / 2);
      worst.along_m = std::max({worst.along_m, off_line(centre, middle(a0, b1), a0, a1),
                                off_line(edge, middle(a1, b1), a0, a1)});
    }
    for (const std::size_t j : {edges.trail, edges.lead}) {
      worst.along_m = std::max(worst.along_m, edge_error(a, m, b, j, 0.5));
    }
    a = b;
  }
  return worst;
}

/// The counts the tolerance needs; nothing where that takes more cells than `most_cells`.
std::optional<Counts> counts_for(const Layout& layout, double tolerance_m) {
  Counts counts;
  while (static_cast<double>(counts.rows) * counts.inside < most_cells) {
    const Errors found = errors(layout, counts);
    if (found.across_m <= tolerance_m / 2 && found.along_m <= tolerance_m) return counts;
    // Halving a cell quarters its error.
    const auto more = [](int count, double ratio) {
      return static_cast<int>(std::ceil(count * std::clamp(1.05 * std::sqrt(ratio), 1.1, 8.0)));
    };
    if (found.across_m > tolerance_m / 2) {
      counts.inside = more(counts.inside, 2 * found.across_m / tolerance_m);
    } else {
      counts.rows = more(counts.rows, found.along_m / tolerance_m);
    }
  }
  return std::nullopt;
}

}  // namespace

double Grid::height_m(std::size_t row, double y_m) const {
  const auto& points = rows[row];
  for (std::size_t j = 0; j + 1 < points.size(); ++j) {
    const Across &a = points[j], &b = points[j + 1];
    if (y_m < a.y_m || y_m > b.y_m || !(b.y_m > a.y_m)) continue;
    return a.z_m + (b.z_m - a.z_m) * (y_m - a.y_m) / (b.y_m - a.y_m);
  }
  return 0;
}

base::Expected<Grid> make_grid(const form::Surface& surface, const FormOptions& options,
                               int border_rows) {
  const Layout layout(surface, options);
  auto counts = counts_for(layout, options.tolerance_m);
  if (!counts) {
    return base::fail({.kind = base::Kind::no_solution,
                       .field = "form.tolerance",
                       .remedy = "use a coarser tolerance, or a smoother outline",
                       .message = "the form needs too many triangles for this tolerance"});
  }
  counts->border_rows = border_rows;
  Grid grid;
  grid.x_m = layout.rows(*counts);
  double lowest = 1e9;
  for (const double x : grid.x_m) {
    Line line = line_at(layout, x, *counts);
    for (std::size_t j = 0; j < line.points.size(); ++j) {
      const Column& column = line.columns[j];
      if (column.depth_m > 0) {
        // Cut straight down, so that a cutter from above reaches it, to the depth square to the
        // surface.
        const double h = 1e-6;
        const Across q = line.section.at(column.arc_m - h), r = line.section.at(column.arc_m + h);
        line.points[j].z_m -=
            column.depth_m * std::hypot(r.y_m - q.y_m, r.z_m - q.z_m) / (r.y_m - q.y_m);
      }
      lowest = std::min(lowest, line.points[j].z_m);
    }
    grid.rows.push_back(std::move(line.points));
  }
  grid.lift_m = options.base_thickness_m - lowest;
  for (auto& row : grid.rows) {
    for (Across& p : row) p.z_m += grid.lift_m;
  }
  return grid;
}

}  // namespace propwright::solid
