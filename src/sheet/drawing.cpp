#include "drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::sheet {
namespace {

const TextStyle word_style{Face::sans, small_type_mm, black};
constexpr double label_gap_mm = 1.2;

Stroke stroke_of(const form::TemplateLine& line) {
  using Kind = form::TemplateLine::Kind;
  switch (line.kind) {
    case Kind::cut:
      return cut_line();
    case Kind::score:
      return score_line();
    case Kind::centre:
      return centre_line();
    case Kind::station:
      break;
  }
  return line.dashed ? score_line() : hairline();
}

bool apart(const Box& a, const Box& b) {
  return a.right() <= b.x || b.right() <= a.x || a.bottom() <= b.y || b.bottom() <= a.y;
}

/// Upright box round words written at an angle.
Box box_of(Point middle, double width, double height, double angle) {
  const double c = std::abs(std::cos(angle)), s = std::abs(std::sin(angle));
  const double w = width * c + height * s, h = width * s + height * c;
  return {middle.x - w / 2, middle.y - h / 2, w, h};
}

/// Radius in the user's unit, whole numbers without a fraction: "120", "4.72".
std::string tick_number(double radius_m, const PrintUnits& units) {
  const std::string number = units.radius.number(radius_m);
  const std::size_t point = number.find('.');
  const bool whole =
      point != std::string::npos && number.find_first_not_of('0', point + 1) == std::string::npos;
  return whole ? number.substr(0, point) : number;
}

}  // namespace

Drawing::Drawing(const Canvas& canvas, const form::Template& source, const PrintUnits& units,
                 const Lay& lay)
    : lay_(lay) {
  add_lines(source);
  for (const form::TemplateLine& line : source.lines) add_label(canvas, line, units);
  if (lay.words) {
    for (const form::TemplateText& text : source.texts) add_text(text, units);
  }
  settle(canvas);
}

Point Drawing::place(double x_m, double y_m) const {
  const double x = 1000 * lay_.scale * x_m, y = 1000 * lay_.scale * y_m;
  return lay_.turned ? Point{-y, -x} : Point{x, -y};
}

void Drawing::add_lines(const form::Template& source) {
  for (const form::TemplateLine& line : source.lines) {
    Line placed{{}, stroke_of(line), line.closed};
    for (const auto& [x_m, y_m] : line.points_m) placed.points.push_back(place(x_m, y_m));
    lines_.push_back(std::move(placed));
  }
}

void Drawing::add_label(const Canvas& canvas, const form::TemplateLine& line,
                        const PrintUnits& units) {
  if (line.label.empty() || line.points_m.size() < 2) return;
  const auto& [x1, y1] = line.points_m[line.points_m.size() - 2];
  const auto& [x2, y2] = line.points_m.back();
  const Point before = place(x1, y1), end = place(x2, y2);
  const std::string words = line.value_m > 0 ? tick_number(line.value_m, units) : line.label;
  const double width = canvas.text_width(words, word_style), height = small_type_mm;
  // Words go on in the direction of the line, sideways or up and down, whichever is nearer.
  const bool sideways = std::abs(end.x - before.x) >= std::abs(end.y - before.y);
  const double dx = sideways ? std::copysign(1.0, end.x - before.x) : 0;
  const double dy = sideways ? 0 : std::copysign(1.0, end.y - before.y);
  Point middle{end.x + dx * (label_gap_mm + width / 2), end.y + dy * (label_gap_mm + height / 2)};
  Box box = box_of(middle, width, height, 0);
  for (int tries = 0; tries < 4; ++tries) {
    const bool free = std::all_of(labels_.begin(), labels_.end(),
                                  [&](const Box& other) { return apart(box, other); });
    if (free) break;
    middle = {middle.x + dx * (width + 2), middle.y + dy * (height + 1)};
    box = box_of(middle, width, height, 0);
  }
  labels_.push_back(box);
  words_.push_back({middle, words, 0});
}

void Drawing::add_text(const form::TemplateText& text, const PrintUnits& units) {
  std::string words = text.text;
  if (text.value_m > 0) words = fmt::format("{} {}", words, units.radius.text(text.value_m));
  const double turn = lay_.turned ? 90 : 0;
  double angle_deg = text.angle_deg + turn;
  if (angle_deg > 135) angle_deg -= 180;  // readable from below or from the right
  words_.push_back({place(text.x_m, text.y_m), words, angle_deg * base::degree_rad});
}

/// Shifts everything so that the extent begins at (0, 0).
void Drawing::settle(const Canvas& canvas) {
  double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
  const auto include = [&](double x, double y) {
    left = std::min(left, x), right = std::max(right, x);
    top = std::min(top, y), bottom = std::max(bottom, y);
  };
  for (const Line& line : lines_) {
    for (const Point& point : line.points) include(point.x, point.y);
  }
  for (const Word& word : words_) {
    const Box box =
        box_of(word.middle, canvas.text_width(word.words, word_style), small_type_mm, word.angle);
    include(box.x, box.y);
    include(box.right(), box.bottom());
  }
  origin_ = {-left, -top};
  extent_ = {0, 0, right - left, bottom - top};
  for (Line& line : lines_) {
    for (Point& point : line.points) point = {point.x - left, point.y - top};
  }
  for (Word& word : words_) word.middle = {word.middle.x - left, word.middle.y - top};
}

void Drawing::draw(Canvas& canvas, Point at) const {
  for (const Line& line : lines_) {
    std::vector<Point> points;
    for (const Point& point : line.points) points.push_back({at.x + point.x, at.y + point.y});
    canvas.polyline(points, line.stroke, line.closed);
  }
  constexpr double half_cap = 0.33;  // of the type size: baseline below the middle
  for (const Word& word : words_) {
    const double drop = half_cap * small_type_mm;
    const Point baseline{at.x + word.middle.x + drop * std::sin(word.angle),
                         at.y + word.middle.y + drop * std::cos(word.angle)};
    canvas.turned_text(baseline, word.angle, word.words, word_style, Align::centre);
  }
}

}  // namespace propwright::sheet
