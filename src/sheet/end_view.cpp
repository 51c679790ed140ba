#include "end_view.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::sheet {
namespace {

/// Heavy lines a little off the faces that lose wood, above and below or at both sides.
void draw_sanded(Canvas& canvas, double half_width, double half_depth, bool upper, bool round) {
  constexpr double gap_mm = 1.2;
  const Stroke heavy{bar_mm, black, {}};
  if (round) {
    const double radius = half_width + gap_mm;
    for (const double middle : {0.0, base::pi}) {
      const double at = middle + (upper ? base::pi / 2 : 0);
      canvas.arc({0, 0}, radius, at - 0.5, at + 0.5, heavy);
    }
    return;
  }
  for (const double side : {-1.0, 1.0}) {
    if (upper) {
      const double y = side * (half_depth + gap_mm);
      canvas.line({-half_width, y}, {half_width, y}, heavy);
    } else {
      const double x = side * (half_width + gap_mm);
      canvas.line({x, -half_depth}, {x, half_depth}, heavy);
    }
  }
}

/// A quarter of the smaller side as corner radius: to tell the shape, not its measure.
std::vector<Point> rounded(double half_width, double half_depth) {
  const double radius = 0.5 * std::min(half_width, half_depth);
  std::vector<Point> points;
  constexpr int steps = 8;
  for (int corner = 0; corner < 4; ++corner) {
    const double x = (corner == 0 || corner == 3 ? 1 : -1) * (half_width - radius);
    const double y = (corner < 2 ? 1 : -1) * (half_depth - radius);
    for (int i = 0; i <= steps; ++i) {
      const double angle = base::pi / 2 * (corner + static_cast<double>(i) / steps);
      points.push_back({x + radius * std::cos(angle), y + radius * std::sin(angle)});
    }
  }
  return points;
}

}  // namespace

void draw_end_view(Canvas& canvas, Point centre, double size_mm, const EndView& view) {
  const bool round = view.shape == EndShape::round;
  const double ratio = round ? 1 : std::clamp(view.depth_over_width, 0.3, 3.0);
  const double half_width = size_mm / 2 / std::max(1.0, ratio), half_depth = half_width * ratio;
  const double chord = 1.15 * size_mm;
  // From the spar outwards, so that the chain looks alike on both sides.
  for (const double side : {-1.0, 1.0}) {
    canvas.line({centre.x + side * size_mm / 2, centre.y}, {centre.x + side * chord, centre.y},
                {hairline_mm, black, {2.4, 0.9, 0.6, 0.9}});
  }
  const Canvas::Turn turn(canvas, centre, -view.turn_rad);
  const Box box{-half_width, -half_depth, 2 * half_width, 2 * half_depth};
  if (round) {
    canvas.disc({0, 0}, half_width, shade_grey);
    canvas.circle({0, 0}, half_width, cut_line());
  } else if (view.shape == EndShape::rounded_square) {
    const std::vector<Point> outline = rounded(half_width, half_depth);
    canvas.fill(outline, shade_grey);
    canvas.polyline(outline, cut_line(), true);
  } else {
    canvas.fill(box, shade_grey);
    canvas.frame(box, cut_line());
  }
  if (view.sand_0) draw_sanded(canvas, half_width, half_depth, true, round);
  if (view.sand_90) draw_sanded(canvas, half_width, half_depth, false, round);
  canvas.disc({0, -half_depth}, 1.3, black);
}

}  // namespace propwright::sheet
