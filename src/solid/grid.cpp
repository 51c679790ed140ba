#include "grid.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::solid {
namespace {

constexpr double least_gap_m = 0.0003;  // between groove and scribe line

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

class Layout {
 public:
  Layout(const form::Surface& surface, const Section& section, const FormOptions& options)
      : surface_(surface), section_(section), options_(options) {
    groove_ = options.groove_width_m / 2;
    scribe_ = options.scribe_depth_m > 0 ? options.scribe_width_m / 2 : 0;
    inner_end_ = first_m() - 1;
    outer_end_ = last_m() + 1;
    const double clear = hole_block * options.pin_diameter_m / 2 + 1e-9;
    for (const double pin : options.pin_radii_m) {
      if (pin < surface.root_m()) inner_end_ = std::max(inner_end_, pin + clear);
      if (pin > surface.tip_m()) outer_end_ = std::min(outer_end_, pin - clear);
    }
  }

  double first_m() const { return surface_.root_m() - options_.border_m; }
  double last_m() const { return surface_.tip_m() + options_.border_m; }

  std::vector<Column> columns(double x, const Counts& counts) const {
    // Where the blade is narrower than groove and scribe lines need, the columns keep apart and
    // the scribe line is left out.
    const double least = groove_ + scribe_ + least_gap_m;
    const double trail = section_.trail_arc_m(x), lead = section_.lead_arc_m(x);
    const double t = std::max(trail, least), l = std::max(lead, least);
    const bool on_blade = x >= surface_.root_m() && x <= surface_.tip_m();
    std::vector<Column> out;
    const auto even = [&](double from, double to, int cells) {
      for (int i = 0; i <= cells; ++i) out.push_back({from + (to - from) * i / cells, 0});
    };
    const auto scribe = [&](double at, bool marked) {
      if (scribe_ > 0) out.push_back({at, marked ? options_.scribe_depth_m : 0});
    };
    even(-(t + options_.border_m), -(t + scribe_), counts.border);
    scribe(-t, on_blade && trail >= least);
    if (scribe_ == 0) out.pop_back();
    even(-(t - scribe_), -groove_, counts.inside);
    if (groove_ > 0) {
      const double depth = x > inner_end_ && x < outer_end_ ? options_.groove_depth_m : 0;
      out.insert(out.end(), {{-groove_, depth}, {groove_, depth}});
    } else {
      out.pop_back();
    }
    even(groove_, l - scribe_, counts.inside);
    scribe(l, on_blade && lead >= least);
    if (scribe_ == 0) out.pop_back();
    even(l + scribe_, l + options_.border_m, counts.border);
    return out;
  }

  std::vector<double> rows(const Counts& counts) const {
    const double root = surface_.root_m(), tip = surface_.tip_m();
    std::vector<double> x{first_m(), root, tip, last_m()};
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
    std::sort(x.begin(), x.end());
    std::vector<double> out;
    for (const double each : x) {
      if (out.empty() || each - out.back() > 1e-7) out.push_back(each);
    }
    return out;
  }

 private:
  const form::Surface& surface_;
  const Section& section_;
  const FormOptions& options_;
  double groove_ = 0, scribe_ = 0, inner_end_ = 0, outer_end_ = 0;
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

struct Errors {
  double across_m = 0, along_m = 0;
};

/// How far the surface leaves the triangles, square to it, looked at in the middle of the edges
/// and of the cells.
Errors errors(const Layout& layout, const Section& section, const Counts& counts) {
  Errors worst;
  const auto x = layout.rows(counts);
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const double xm = (x[i] + x[i + 1]) / 2;
    const auto a = layout.columns(x[i], counts), b = layout.columns(x[i + 1], counts);
    Across a0, b0;
    for (std::size_t j = 0; j < a.size(); ++j) {
      const Across a1 = section.at(x[i], a[j].arc_m), b1 = section.at(x[i + 1], b[j].arc_m);
      if (j > 0 && a[j].arc_m > a[j - 1].arc_m) {
        const double arc_a = (a[j].arc_m + a[j - 1].arc_m) / 2;
        const double arc_b = (b[j].arc_m + b[j - 1].arc_m) / 2;
        const Across mid_a = section.at(x[i], arc_a);
        worst.across_m = std::max(worst.across_m, off_line(mid_a, middle(a0, a1), a0, a1));
        const Across centre = section.at(xm, (arc_a + arc_b) / 2);
        worst.along_m = std::max(worst.along_m, off_line(centre, middle(a0, b1), a0, a1));
        const Across edge = section.at(xm, (a[j].arc_m + b[j].arc_m) / 2);
        worst.along_m = std::max(worst.along_m, off_line(edge, middle(a1, b1), a0, a1));
      }
      a0 = a1;
      b0 = b1;
    }
  }
  return worst;
}

Counts counts_for(const Layout& layout, const Section& section, double tolerance_m) {
  Counts counts;
  // Halving a cell quarters its error, so this ends: 30 rounds reach a millionth of the first.
  for (int round = 0; round < 30; ++round) {
    const Errors found = errors(layout, section, counts);
    if (found.across_m <= tolerance_m / 2 && found.along_m <= tolerance_m) break;
    const auto more = [](int count, double ratio) {
      return static_cast<int>(std::ceil(count * std::clamp(1.05 * std::sqrt(ratio), 1.1, 8.0)));
    };
    if (found.across_m > tolerance_m / 2) {
      counts.inside = more(counts.inside, 2 * found.across_m / tolerance_m);
    } else {
      counts.rows = more(counts.rows, found.along_m / tolerance_m);
    }
  }
  return counts;
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

Grid make_grid(const form::Surface& surface, const Section& section, const FormOptions& options,
               int border_rows) {
  const Layout layout(surface, section, options);
  Counts counts = counts_for(layout, section, options.tolerance_m);
  counts.border_rows = border_rows;
  Grid grid;
  grid.x_m = layout.rows(counts);
  double lowest = 1e9;
  for (const double x : grid.x_m) {
    std::vector<Across> row;
    for (const Column& column : layout.columns(x, counts)) {
      Across p = section.at(x, column.arc_m);
      if (column.depth_m > 0) {
        // Cut straight down, so that a cutter from above reaches it, to the depth square to the
        // surface.
        const double h = 1e-6;
        const Across q = section.at(x, column.arc_m - h), r = section.at(x, column.arc_m + h);
        p.z_m -= column.depth_m * std::hypot(r.y_m - q.y_m, r.z_m - q.z_m) / (r.y_m - q.y_m);
      }
      lowest = std::min(lowest, p.z_m);
      row.push_back(p);
    }
    grid.rows.push_back(std::move(row));
  }
  grid.lift_m = options.base_thickness_m - lowest;
  for (auto& row : grid.rows) {
    for (Across& p : row) p.z_m += grid.lift_m;
  }
  return grid;
}

}  // namespace propwright::solid
