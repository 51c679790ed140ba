#include "labels.h"

#include <algorithm>
#include <cmath>

namespace propwright::sheet {
namespace {

constexpr double sample_step_mm = 0.7;
constexpr double cap_height = 0.66;  ///< of the type size, about the face's own
constexpr double end_gap_mm = 2;
constexpr double line_spacing = 1.2;

double overlap(const Box& a, const Box& b) {
  const double width = std::min(a.right(), b.right()) - std::max(a.x, b.x);
  const double height = std::min(a.bottom(), b.bottom()) - std::max(a.y, b.y);
  return width > 0 && height > 0 ? width * height : 0;
}

bool inside(const Box& box, Point point) {
  return point.x > box.x && point.x < box.right() && point.y > box.y && point.y < box.bottom();
}

}  // namespace

void Labels::avoid(const std::vector<Point>& line) {
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double dx = line[i + 1].x - line[i].x, dy = line[i + 1].y - line[i].y;
    const int pieces = std::max(1, static_cast<int>(std::hypot(dx, dy) / sample_step_mm));
    for (int k = 0; k <= pieces; ++k) {
      const double share = static_cast<double>(k) / pieces;
      samples_.push_back({line[i].x + share * dx, line[i].y + share * dy});
    }
  }
}

void Labels::at_point(Point anchor, const std::string& words, const TextStyle& style) {
  points_.push_back({anchor, words, style});
}

void Labels::at_end(Point anchor, const std::string& words, const TextStyle& style) {
  ends_.push_back({anchor, words, style});
}

double Labels::cost(const Box& place) const {
  constexpr double per_sample = 3, per_mm2 = 6, per_mm_out = 40;
  double sum = 0;
  for (const Point& sample : samples_) sum += inside(place, sample) ? per_sample : 0;
  for (const Box& box : boxes_) sum += per_mm2 * overlap(place, box);
  sum += per_mm_out *
         (std::max(0.0, room_.x - place.x) + std::max(0.0, place.right() - room_.right()) +
          std::max(0.0, room_.y - place.y) + std::max(0.0, place.bottom() - room_.bottom()));
  return sum;
}

Box Labels::best_place(const Canvas& canvas, const Wish& wish) const {
  const double width = canvas.text_width(wish.words, wish.style) + 1;
  const double height = wish.style.size_mm;
  Box best;
  double least = 0;
  bool first = true;
  for (const double reach : {2.0, 3.5, 5.5, 8.0}) {
    for (const auto& [dx, dy] :
         {std::pair(1.0, -0.6), std::pair(1.0, 0.6), std::pair(0.0, -1.0), std::pair(0.0, 1.0),
          std::pair(-1.0, -0.6), std::pair(-1.0, 0.6), std::pair(1.0, 0.0), std::pair(-1.0, 0.0)}) {
      const Box place{wish.anchor.x + dx * (reach + width / 2) - width / 2,
                      wish.anchor.y + dy * (reach + height / 2) - height / 2, width, height};
      const double total = cost(place) + 0.4 * reach;
      if (first || total < least) {
        best = place;
        least = total;
        first = false;
      }
    }
  }
  return best;
}

void Labels::draw_ends(Canvas& canvas, double end_x) {
  if (ends_.empty()) return;
  std::stable_sort(ends_.begin(), ends_.end(),
                   [](const Wish& a, const Wish& b) { return a.anchor.y < b.anchor.y; });
  // Clusters that overlap are spread about their middle, over and over until none does.
  std::vector<double> y;
  for (const Wish& wish : ends_) y.push_back(wish.anchor.y);
  for (int round = 0; round < 200; ++round) {
    bool moved = false;
    for (std::size_t i = 0; i + 1 < y.size(); ++i) {
      const double need = line_spacing * ends_[i].style.size_mm - (y[i + 1] - y[i]);
      if (need <= 1e-6) continue;
      y[i] -= need / 2;
      y[i + 1] += need / 2;
      moved = true;
    }
    if (!moved) break;
  }
  for (std::size_t i = 0; i < y.size(); ++i) {
    const Wish& wish = ends_[i];
    const bool led = std::abs(y[i] - wish.anchor.y) > 1.2 || end_x - wish.anchor.x > 1.0;
    const double x = end_x + end_gap_mm;
    if (led) canvas.line(wish.anchor, {x - 0.6, y[i]}, {hairline_mm, grid, {}});
    canvas.text({x, y[i] + 0.5 * cap_height * wish.style.size_mm}, wish.words, wish.style,
                Align::left, true);
  }
}

void Labels::draw(Canvas& canvas, double end_x) {
  for (const Wish& wish : points_) {
    const Box place = best_place(canvas, wish);
    const double baseline = place.y + place.height / 2 + 0.5 * cap_height * wish.style.size_mm;
    canvas.text({place.x + 0.5, baseline}, wish.words, wish.style, Align::left, true);
    boxes_.push_back(place);
  }
  draw_ends(canvas, end_x);
}

}  // namespace propwright::sheet
