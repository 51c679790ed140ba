/// The upright template of a form station, and the rib blank.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "arc.h"
#include "propwright/base/constants.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

constexpr int arc_points = 61;
constexpr double mark_m = 0.003;        // length of spar and middle marks
constexpr double least_foot_m = 0.003;  // paper left under the lowest edge

/// The chord laid in the template: u along it from the spar to the leading edge, h square to it.
struct Chord {
  double cosine, sine, origin_x_m, origin_y_m;
  std::pair<double, double> at(double u_m, double h_m) const {
    return {origin_x_m + u_m * cosine - h_m * sine, origin_y_m + u_m * sine + h_m * cosine};
  }
};

/// The arc from leading to trailing edge.
std::vector<std::pair<double, double>> arc_of(const OutlineRow& row, double camber,
                                              const Chord& chord) {
  std::vector<std::pair<double, double>> points;
  const double middle_m = (row.lead_m - row.trail_m) / 2;
  for (int i = 0; i < arc_points; ++i) {
    const auto point = arc_point(row.chord_m, camber, 1 - 2.0 * i / (arc_points - 1));
    points.push_back(chord.at(middle_m + point.along_m, point.height_m));
  }
  return points;
}

/// Radius in mm to a tenth, without a needless nought: "120", "120.7".
std::string millimetres(double radius_m) {
  return fmt::format("{:g}", std::round(1e4 * radius_m) / 10);
}

void add_marks(const OutlineRow& row, double camber, double spar_height_m, const Chord& chord,
               Template& drawing) {
  const double middle_m = (row.lead_m - row.trail_m) / 2;
  const double camber_height_m = camber * row.chord_m;
  drawing.lines.push_back({.kind = TemplateLine::Kind::score,
                           .points_m = {chord.at(-row.trail_m, 0), chord.at(row.lead_m, 0)},
                           .dashed = true});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::centre,
       .points_m = {chord.at(0, spar_height_m - mark_m), chord.at(0, spar_height_m)},
       .label = "spar"});
  drawing.lines.push_back({.kind = TemplateLine::Kind::station,
                           .points_m = {chord.at(middle_m, camber_height_m - mark_m / 2),
                                        chord.at(middle_m, camber_height_m)}});
}

}  // namespace

Template station_template(const FormStation& station, const OutlineRow& row, double camber,
                          Hand hand, double base_height_m) {
  const double cosine = std::cos(station.angle_rad), sine = std::sin(station.angle_rad);
  const double spar_height_m = arc_height_m(row.chord_m, camber, (row.trail_m - row.lead_m) / 2);
  const Chord chord{cosine, sine, spar_height_m * sine, base_height_m - spar_height_m * cosine};
  const auto leading = chord.at(row.lead_m, 0), trailing = chord.at(-row.trail_m, 0);
  const double lowest_m = std::min(leading.second, trailing.second);
  const double foot_m = std::min(0.0, lowest_m - least_foot_m);

  Template drawing;
  drawing.name = fmt::format("station-{}mm", millimetres(station.radius_m));
  drawing.title = fmt::format("Form station {} mm", millimetres(station.radius_m));
  drawing.hand = hand;
  std::vector<std::pair<double, double>> cut{{trailing.first, foot_m}, {leading.first, foot_m}};
  const auto arc = arc_of(row, camber, chord);
  cut.insert(cut.end(), arc.begin(), arc.end());
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = std::move(cut), .closed = true});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::score, .points_m = {{trailing.first, 0}, {leading.first, 0}}});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::centre, .points_m = {{0, foot_m}, {0, base_height_m}}});
  add_marks(row, camber, spar_height_m, chord, drawing);

  const double middle_x_m = (leading.first + trailing.first) / 2;
  const double text_y_m = foot_m + std::max(lowest_m - foot_m, 2 * least_foot_m) / 2;
  drawing.texts.push_back({middle_x_m, text_y_m, "station", 0, station.radius_m});
  drawing.texts.push_back(
      {middle_x_m, foot_m - 0.004,
       fmt::format("{:.1f}° {}", station.angle_rad / base::degree_rad, hand_words(hand)), 0, 0});
  drawing.texts.push_back({leading.first, leading.second + 0.003, "leading edge", 0, 0});
  give_hand(drawing);
  return drawing;
}

Template rib_template(const OutlineRow& row, double camber, double depth_m, int number) {
  Template drawing;
  drawing.name = fmt::format("rib-{}", number);
  drawing.title = fmt::format("Rib {}", number);
  drawing.hand = Hand::clockwise;
  auto points = arc_of(row, camber, Chord{1, 0, 0, 0});
  const auto lower = arc_of(row, camber, Chord{1, 0, 0, -depth_m});
  points.insert(points.end(), lower.rbegin(), lower.rend());
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = std::move(points), .closed = true});
  const double spar_height_m = arc_height_m(row.chord_m, camber, (row.trail_m - row.lead_m) / 2);
  drawing.lines.push_back({.kind = TemplateLine::Kind::centre,
                           .points_m = {{0, spar_height_m - depth_m}, {0, spar_height_m}}});
  const double middle_m = (row.lead_m - row.trail_m) / 2;
  drawing.texts.push_back(
      {middle_m, -depth_m - 0.004, fmt::format("rib {}, r", number), 0, row.radius_m});
  drawing.texts.push_back({row.lead_m - 0.004, 0.0055, "leading edge", 0, 0});
  return drawing;
}

}  // namespace propwright::form
