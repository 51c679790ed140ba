/// Placing words on a chart so that they cover neither data nor each other.
#pragma once

#include <string>
#include <vector>

#include "canvas.h"

namespace propwright::sheet {

/// Collects what is drawn and what is to be said, then finds room.
class Labels {
 public:
  /// Words must stay inside `room`.
  explicit Labels(const Box& room) : room_(room) {}

  /// Data that words should not cover.
  void avoid(const std::vector<Point>& line);
  void avoid(const Box& box) { boxes_.push_back(box); }

  /// Words that belong to a point: put where they cover least, nearest first.
  void at_point(Point anchor, const std::string& words, const TextStyle& style);
  /// Words at the right of a line's end; those too close are pushed apart and get a leader.
  void at_end(Point anchor, const std::string& words, const TextStyle& style);

  void draw(Canvas& canvas, double end_x);

 private:
  struct Wish {
    Point anchor;
    std::string words;
    TextStyle style;
  };
  Box best_place(const Canvas& canvas, const Wish& wish) const;
  double cost(const Box& place) const;
  void draw_ends(Canvas& canvas, double end_x);

  Box room_;
  std::vector<Box> boxes_;
  std::vector<Point> samples_;
  std::vector<Wish> points_, ends_;
};

}  // namespace propwright::sheet
