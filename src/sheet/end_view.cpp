#include "end_view.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::sheet {
namespace {

double turn_of(MarkAt mark) {
  switch (mark) {
    case MarkAt::front:
      break;
    case MarkAt::leading:
      return base::pi / 2;
    case MarkAt::back:
      return base::pi;
    case MarkAt::trailing:
      return -base::pi / 2;
  }
  return 0;
}

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
  const Canvas::Turn turn(canvas, centre, turn_of(view.mark));
  const Box box{-half_width, -half_depth, 2 * half_width, 2 * half_depth};
  if (round) {
    canvas.disc({0, 0}, half_width, shade_grey);
    canvas.circle({0, 0}, half_width, cut_line());
  } else {
    canvas.fill(box, shade_grey);
    canvas.frame(box, cut_line());
  }
  if (view.sand_0) draw_sanded(canvas, half_width, half_depth, true, round);
  if (view.sand_90) draw_sanded(canvas, half_width, half_depth, false, round);
  canvas.disc({0, -half_depth}, 1.3, black);
}

}  // namespace propwright::sheet
