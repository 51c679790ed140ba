/// The strain of a flat sheet on its form, as shades of grey: darker is more, ticked where
/// squeezed.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "form_pages.h"
#include "quantity.h"

namespace propwright::sheet {
namespace {

constexpr int shades = 6;
constexpr double legend_mm = 12;

Colour shade_of(int step) {
  const double grey = 0.95 - 0.11 * step;
  return {grey, grey, grey};
}

/// A round step so that six shades reach the worst strain.
double shade_step(const StrainMap& map) {
  double worst = 1e-6;
  for (const double strain : map.strain) worst = std::max(worst, std::abs(strain));
  const double exact = worst / shades;
  const double decade = std::pow(10, std::floor(std::log10(exact)));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (step * decade >= exact) return step * decade;
  }
  return 10 * decade;
}

/// Where the map lies on the page.
struct Placing {
  double scale = 1000;  ///< mm on paper for a metre
  double x_mm = 0, y_mm = 0;
  Point operator()(const std::pair<double, double>& p) const {
    return {x_mm + scale * p.first, y_mm - scale * p.second};
  }
};

Placing placing_of(const StrainMap& map, const Box& room, double print_scale) {
  double left = 1e9, right = -1e9, low = 1e9, high = -1e9;
  for (const auto* line : {&map.edge_m, &map.plain_edge_m}) {
    for (const auto& [x, y] : *line) {
      left = std::min(left, x);
      right = std::max(right, x);
      low = std::min(low, y);
      high = std::max(high, y);
    }
  }
  Placing placing;
  placing.scale = 1000 * print_scale;
  const double fit = std::min(room.width / (right - left), room.height / (high - low));
  placing.scale = std::min(placing.scale, fit);
  placing.x_mm = room.x + room.width / 2 - placing.scale * (left + right) / 2;
  placing.y_mm = room.y + room.height / 2 + placing.scale * (low + high) / 2;
  return placing;
}

std::vector<Point> placed(const std::vector<std::pair<double, double>>& line,
                          const Placing& placing) {
  std::vector<Point> points;
  points.reserve(line.size());
  for (const auto& p : line) points.push_back(placing(p));
  return points;
}

/// Strain of each triangle as the mean of its corners, each the mean of the triangles about it: the
/// cut of the grid does not show. The worst value told is that of a single triangle.
std::vector<double> smoothed(const StrainMap& map) {
  std::vector<double> sum(map.points_m.size(), 0), count(map.points_m.size(), 0);
  for (std::size_t i = 0; i < map.triangles.size(); ++i) {
    for (const int corner : map.triangles[i]) {
      sum[static_cast<std::size_t>(corner)] += map.strain[i];
      count[static_cast<std::size_t>(corner)] += 1;
    }
  }
  std::vector<double> smooth;
  for (const auto& triangle : map.triangles) {
    double value = 0;
    for (const int corner : triangle) {
      const auto at = static_cast<std::size_t>(corner);
      value += sum[at] / count[at] / 3;
    }
    smooth.push_back(value);
  }
  return smooth;
}

void draw_triangles(Canvas& canvas, const StrainMap& map, const Placing& placing, double step) {
  const std::vector<double> strain = smoothed(map);
  for (std::size_t i = 0; i < map.triangles.size(); ++i) {
    std::vector<Point> corners;
    for (const int corner : map.triangles[i]) {
      corners.push_back(placing(map.points_m[static_cast<std::size_t>(corner)]));
    }
    const int shade = std::min(shades - 1, static_cast<int>(std::abs(strain[i]) / step));
    canvas.fill(corners, shade_of(shade));
    if (strain[i] < 0 && shade > 0 && i % 4 == 0) {
      const Point middle{(corners[0].x + corners[1].x + corners[2].x) / 3,
                         (corners[0].y + corners[1].y + corners[2].y) / 3};
      canvas.line({middle.x - 0.5, middle.y}, {middle.x + 0.5, middle.y}, hairline());
    }
  }
}

void draw_legend(Canvas& canvas, Point at, double step) {
  constexpr double cell = 14;
  for (int i = 0; i < shades; ++i) {
    const Box box{at.x + i * cell, at.y, cell, 4};
    canvas.fill(box, shade_of(i));
    canvas.frame(box, hairline());
    canvas.text({box.x, at.y + 8}, fmt::format("{:g}", 100 * step * i), small_text, Align::centre);
  }
  canvas.text({at.x + shades * cell, at.y + 8}, fmt::format("{:g}", 100 * step * shades),
              small_text, Align::centre);
  canvas.text({at.x + shades * cell + 6, at.y + 8}, "% strain; small dashes: squeezed", small_text);
}

void draw_strain(Canvas& canvas, const Setting& setting, const StrainMap& map) {
  const Box& body = setting.body;
  double y =
      draw_title(canvas, setting, "Strain of the sheet",
                 "How far the flat sheet must stretch to lie on the form. Solid: the pattern. "
                 "Dashed: the plain pattern of arc lengths.");
  y += canvas.paragraph({body.x, y + 4}, body.width, map.words, {Face::sans, text_type_mm, black},
                        4.6) +
       6;
  const double step = shade_step(map);
  draw_legend(canvas, {body.x + 2, y}, step);
  y += legend_mm + 4;
  const Box room{body.x, y, body.width, body.bottom() - y - 6};
  const Placing placing = placing_of(map, room, setting.scale);
  draw_triangles(canvas, map, placing, step);
  canvas.polyline(placed(map.edge_m, placing), cut_line(), true);
  canvas.polyline(placed(map.plain_edge_m, placing), score_line(), true);
  const Point worst = placing(map.worst_m);
  canvas.circle(worst, 2.2, rule());
  double most = 0;
  for (const double strain : map.strain) most = std::max(most, std::abs(strain));
  canvas.text({worst.x + 4, worst.y + 1}, fixed(100 * most, 2) + " %", small_strong_text,
              Align::left, true);
  const double ratio = placing.scale / (1000 * setting.scale);
  canvas.text({body.x, body.bottom() - 1},
              ratio > 0.999 ? "At true scale."
                            : fmt::format("Drawn at {:.0f} % of true size.", 100 * ratio),
              small_text);
}

}  // namespace

void add_strain_page(const Setting& setting, const StrainMap& map, Pages& pages) {
  pages.push_back({"strain of the sheet",
                   [&setting, &map](Canvas& canvas) { draw_strain(canvas, setting, map); }});
}

}  // namespace propwright::sheet
