#include "chart.h"

#include <algorithm>
#include <cmath>

#include "quantity.h"

namespace propwright::sheet {
namespace {

const TextStyle tick_style{Face::sans, small_type_mm, black};
const TextStyle label_style{Face::semibold, small_type_mm, black};
const TextStyle unit_style{Face::sans, small_type_mm, ink2};

TextStyle coloured(TextStyle style, Colour colour) {
  style.colour = colour;
  return style;
}

Ticks ticks_of(const Axis& axis) {
  return axis.step > 0 ? even_ticks(axis.low, axis.high, axis.step)
                       : round_ticks(axis.low, axis.high, axis.ticks);
}

}  // namespace

Axis widen_to_ticks(Axis axis) {
  const double step = round_ticks(axis.low, axis.high, axis.ticks).step;
  axis.step = step;
  axis.low = floor_to_step(axis.low, step);
  axis.high = ceil_to_step(axis.high, step);
  return axis;
}

Chart::Chart(Canvas& canvas, const Box& plot, const Axis& x, const Axis& y, double label_room_mm)
    : canvas_(canvas),
      plot_(plot),
      x_(x),
      y_(y),
      labels_({plot.x + 1, plot.y + 0.5, plot.width + label_room_mm - 1, plot.height - 1}) {}

Point Chart::place(double x_si, double y_si) const {
  const double x = (x_si / x_.si_per_unit - x_.low) / (x_.high - x_.low);
  const double y = (y_si / y_.si_per_unit - y_.low) / (y_.high - y_.low);
  return {plot_.x + x * plot_.width, plot_.bottom() - y * plot_.height};
}

std::vector<Point> Chart::places(const std::vector<double>& x, const std::vector<double>& y) const {
  std::vector<Point> points;
  for (std::size_t i = 0; i < std::min(x.size(), y.size()); ++i) {
    if (std::isfinite(x[i]) && std::isfinite(y[i])) points.push_back(place(x[i], y[i]));
  }
  return points;
}

void Chart::axes(bool x_labels) {
  y_axis();
  x_axis(x_labels);
}

void Chart::x_axis(bool labels) {
  constexpr double tick_mm = 1.2, text_below_mm = 4.4, title_below_mm = 8.4;
  const Ticks ticks = ticks_of(x_);
  canvas_.line({plot_.x, plot_.bottom()}, {plot_.right(), plot_.bottom()}, hairline());
  for (const double value : ticks.values) {
    const double x = place(value * x_.si_per_unit, 0).x;
    canvas_.line({x, plot_.bottom()}, {x, plot_.bottom() + tick_mm}, hairline());
    if (!labels) continue;
    canvas_.text({x, plot_.bottom() + text_below_mm}, fixed(value, ticks.decimals), tick_style,
                 Align::centre);
  }
  if (!labels) return;
  const std::string title = x_.unit.empty() ? x_.title : x_.title + ", " + x_.unit;
  canvas_.text({plot_.right(), plot_.bottom() + title_below_mm}, title, unit_style, Align::right);
}

void Chart::y_axis() {
  constexpr double text_left_mm = 1.8, title_above_mm = 3.6, half_cap = 0.33;
  const Ticks ticks = ticks_of(y_);
  for (const double value : ticks.values) {
    const double y = place(0, value * y_.si_per_unit).y;
    canvas_.line({plot_.x, y}, {plot_.right(), y}, grid_line());
    const std::string words = fixed(value, ticks.decimals);
    canvas_.text({plot_.x - text_left_mm, y + half_cap * small_type_mm}, words, tick_style,
                 Align::right);
  }
  const Point at{plot_.x - chart_left_mm, plot_.y - title_above_mm};
  canvas_.text(at, y_.title, label_style);
  canvas_.text({at.x + canvas_.text_width(y_.title + " ", label_style), at.y}, y_.unit, unit_style);
}

void Chart::band(const std::vector<double>& x, const std::vector<double>& low,
                 const std::vector<double>& high) {
  std::vector<Point> outline = places(x, low);
  std::vector<Point> back = places(x, high);
  outline.insert(outline.end(), back.rbegin(), back.rend());
  if (outline.size() < 3) return;
  const Canvas::Scope scope(canvas_, plot_, {0, 0});
  canvas_.fill(outline, band_grey);
}

void Chart::shade_x(double from, double to, const std::string& words) {
  const double left = std::clamp(place(from, 0).x, plot_.x, plot_.right());
  const double right = std::clamp(place(to, 0).x, plot_.x, plot_.right());
  canvas_.fill(Box{left, plot_.y, right - left, plot_.height}, shade_grey);
  const double width = canvas_.text_width(words, unit_style);
  const double middle =
      std::clamp((left + right) / 2, plot_.x + width / 2, plot_.right() - width / 2);
  canvas_.text({middle, plot_.y - 1.2}, words, unit_style, Align::centre);
}

void Chart::clipped_line(const std::vector<Point>& points, const Stroke& stroke) {
  // Half a line's width may stand over the edge, or lines along the axis would look thin.
  const double over = stroke.width_mm / 2;
  const Canvas::Scope scope(
      canvas_, {plot_.x - over, plot_.y - over, plot_.width + 2 * over, plot_.height + 2 * over},
      {0, 0});
  canvas_.polyline(points, stroke);
}

void Chart::line(const Series& series, const Stroke& stroke, const std::string& words,
                 Colour words_colour) {
  const std::vector<Point> points = places(series.x, series.y);
  clipped_line(points, stroke);
  labels_.avoid(points);
  if (words.empty()) return;
  const auto visible = std::find_if(points.rbegin(), points.rend(), [&](Point p) {
    return p.x <= plot_.right() + 1e-6 && p.y >= plot_.y - 1e-6 && p.y <= plot_.bottom() + 1e-6;
  });
  if (visible != points.rend()) {
    labels_.at_end(*visible, words, coloured(label_style, words_colour));
  }
}

void Chart::point(double x, double y, const std::string& words, Colour colour, Marker marker,
                  Colour words_colour) {
  constexpr double radius = 0.95;
  const Point at = place(x, y);
  canvas_.disc(at, radius + 0.45, white);
  if (marker == Marker::round) canvas_.disc(at, radius, colour);
  const double side = marker == Marker::square ? 0.85 : 1.25;
  if (marker == Marker::square) {
    canvas_.fill(Box{at.x - side, at.y - side, 2 * side, 2 * side}, colour);
  } else if (marker == Marker::diamond) {
    canvas_.fill(
        {{at.x - side, at.y}, {at.x, at.y - side}, {at.x + side, at.y}, {at.x, at.y + side}},
        colour);
  }
  labels_.avoid(Box{at.x - 1.4, at.y - 1.4, 2.8, 2.8});
  labels_.at_point(at, words, coloured(label_style, words_colour));
}

void Chart::level(double y, const Stroke& stroke, const std::string& words, Colour words_colour) {
  const Point left = place(x_.low * x_.si_per_unit, y);
  if (left.y < plot_.y - 1e-6 || left.y > plot_.bottom() + 1e-6) return;
  const std::vector<Point> points{{plot_.x, left.y}, {plot_.right(), left.y}};
  canvas_.polyline(points, stroke);
  labels_.avoid(points);
  labels_.at_end(points.back(), words, coloured(label_style, words_colour));
}

void Chart::upright(double x, const Stroke& stroke) {
  const double at = place(x, 0).x;
  if (at < plot_.x || at > plot_.right()) return;
  canvas_.line({at, plot_.y}, {at, plot_.bottom()}, stroke);
  labels_.avoid({{at, plot_.y}, {at, plot_.bottom()}});
}

void Chart::roof(double y, const std::string& words) {
  constexpr double hatch_mm = 2.2, step_mm = 3;
  const double at = place(0, y).y;
  for (double x = plot_.x; x + hatch_mm * 0.8 <= plot_.right() + 1e-9; x += step_mm) {
    canvas_.line({x, at}, {x + hatch_mm * 0.8, at - hatch_mm}, hairline());
  }
  canvas_.line({plot_.x, at}, {plot_.right(), at}, cut_line());
  labels_.avoid(Box{plot_.x, at - hatch_mm, plot_.width, hatch_mm});
  labels_.at_end({plot_.right(), at}, words, label_style);
}

void Chart::remark(double x, double y, const std::string& words, Colour colour) {
  labels_.at_point(place(x, y), words, coloured(label_style, colour));
}

void Chart::finish() {
  labels_.draw(canvas_, plot_.right());
}

}  // namespace propwright::sheet
