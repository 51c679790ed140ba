/// A small line chart: axes with round ticks in the user's unit, lines, bands, points, levels, a
/// hatched roof, and words beside the data instead of a legend.
#pragma once

#include <string>
#include <vector>

#include "canvas.h"
#include "labels.h"
#include "propwright/sheet/packet.h"
#include "ticks.h"

namespace propwright::sheet {

/// Room left of a plot for its ticks; one left edge for the titles of stacked charts.
inline constexpr double chart_left_mm = 14;

struct Axis {
  std::string title, unit;
  double si_per_unit = 1;
  double low = 0, high = 1;  ///< in the printed unit; widened to ticks by `widen_to_ticks`
  int ticks = 5;             ///< about how many
  double step = 0;           ///< between ticks; 0 = chosen from `ticks`
};

/// Extends the axis to whole ticks; for the axis of values.
Axis widen_to_ticks(Axis axis);

enum class Marker { round, square, diamond };

class Chart {
 public:
  /// `plot` is the data's rectangle; tick labels stand left of and below it, titles above the y
  /// axis and at the right end below the x axis, line labels in `label_room_mm` right of it.
  Chart(Canvas& canvas, const Box& plot, const Axis& x, const Axis& y, double label_room_mm = 24);

  /// Grid, ticks and titles; first of all. Without x labels for a chart stacked above another.
  void axes(bool x_labels = true);

  // Data in SI. Only finite points are drawn; outside the plot nothing is.
  void band(const std::vector<double>& x, const std::vector<double>& low,
            const std::vector<double>& high);
  void shade_x(double from, double to, const std::string& words);
  void line(const Series& series, const Stroke& stroke, const std::string& words = {},
            Colour words_colour = black);
  void point(double x, double y, const std::string& words, Colour colour, Marker marker,
             Colour words_colour = black);
  void level(double y, const Stroke& stroke, const std::string& words, Colour words_colour = black);
  void upright(double x, const Stroke& stroke);
  void roof(double y, const std::string& words);
  /// Words without a mark, put near a point.
  void remark(double x, double y, const std::string& words, Colour colour = black);

  /// Places the words; last of all.
  void finish();

  Point place(double x_si, double y_si) const;

 private:
  void x_axis(bool labels);
  void y_axis();
  std::vector<Point> places(const std::vector<double>& x, const std::vector<double>& y) const;
  void clipped_line(const std::vector<Point>& points, const Stroke& stroke);

  Canvas& canvas_;
  Box plot_;
  Axis x_, y_;
  Labels labels_;
};

}  // namespace propwright::sheet
