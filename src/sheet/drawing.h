/// A form::Template on paper: its extent with its words, and drawing it at true scale.
#pragma once

#include <vector>

#include "canvas.h"
#include "propwright/form/form.h"
#include "quantity.h"

namespace propwright::sheet {

/// How a template is laid on paper.
struct Lay {
  double scale = 1;     ///< drawn over true length
  bool turned = false;  ///< a quarter turn anticlockwise: radius upwards becomes leftwards
  bool words = true;    ///< its texts too; line labels always
};

/// A template with the place of every line and word in mm, y down, its extent's top left corner at
/// (0, 0).
class Drawing {
 public:
  Drawing(const Canvas& canvas, const form::Template& source, const PrintUnits& units,
          const Lay& lay);

  double width_mm() const { return extent_.width; }
  double height_mm() const { return extent_.height; }
  /// Where the template's own origin lies.
  Point origin() const { return origin_; }
  /// Draws with the extent's top left corner at `at`.
  void draw(Canvas& canvas, Point at) const;

 private:
  struct Word {
    Point middle;
    std::string words;
    double angle = 0;  ///< rad, anticlockwise
  };
  struct Line {
    std::vector<Point> points;
    Stroke stroke;
    bool closed = false;
  };
  Point place(double x_m, double y_m) const;
  void add_lines(const form::Template& source);
  void add_label(const Canvas& canvas, const form::TemplateLine& line, const PrintUnits& units);
  void add_text(const form::TemplateText& text, const PrintUnits& units);
  void settle(const Canvas& canvas);

  Lay lay_;
  std::vector<Line> lines_;
  std::vector<Word> words_;
  std::vector<Box> labels_;
  Box extent_;
  Point origin_;
};

}  // namespace propwright::sheet
