#include "propwright/form/covering.h"

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <stdexcept>

#include "range_check.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

namespace bg = boost::geometry;
using FlatXy = bg::model::d2::point_xy<double>;
using FlatPolygon = bg::model::polygon<FlatXy>;

constexpr int points_per_circle = 72;

/// Both edges of the pattern in mm (where the library's own tolerances fit), radius upwards.
FlatPolygon edge_polygon(const FlatPattern& pattern) {
  FlatPolygon polygon;
  const auto add = [&](const FlatPoint& p) {
    bg::append(polygon.outer(), FlatXy(1e3 * p.across_m, 1e3 * p.along_m));
  };
  for (const PatternStation& s : pattern.stations) add(s.lead);
  for (auto s = pattern.stations.rbegin(); s != pattern.stations.rend(); ++s) add(s->trail);
  bg::correct(polygon);
  return polygon;
}

FlatPolygon moved_out(const FlatPolygon& polygon, double distance_mm) {
  bg::model::multi_polygon<FlatPolygon> grown;
  bg::buffer(polygon, grown, bg::strategy::buffer::distance_symmetric<double>(distance_mm),
             bg::strategy::buffer::side_straight(),
             bg::strategy::buffer::join_round(points_per_circle),
             bg::strategy::buffer::end_round(points_per_circle),
             bg::strategy::buffer::point_circle(points_per_circle));
  if (grown.size() != 1) throw std::logic_error("covering: the pattern did not grow to one piece");
  return grown.front();
}

TemplateLine line_of(const FlatPolygon& polygon, TemplateLine::Kind kind) {
  TemplateLine line{.kind = kind, .closed = true};
  for (const FlatXy& p : polygon.outer()) line.points_m.emplace_back(p.x() / 1e3, p.y() / 1e3);
  if (line.points_m.size() > 1) line.points_m.pop_back();  // the library repeats the first
  return line;
}

}  // namespace

base::Expected<Covering> covering(const FlatPattern& pattern, double allowance_m) {
  base::Problems problems;
  check_length("covering.allowance", allowance_m, 0, 0.05, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  const FlatPolygon edge = edge_polygon(pattern);
  const FlatPolygon cut = allowance_m > 0 ? moved_out(edge, 1e3 * allowance_m) : edge;
  Covering covering;
  covering.area_m2 = std::abs(bg::area(edge)) * 1e-6;
  covering.cut_area_m2 = std::abs(bg::area(cut)) * 1e-6;
  covering.cut.name = "covering";
  covering.cut.title = "Covering film, to be cut";
  covering.cut.hand = pattern.hand;
  covering.cut.lines.push_back(line_of(cut, TemplateLine::Kind::cut));
  TemplateLine inner = line_of(edge, TemplateLine::Kind::score);
  inner.dashed = true;
  covering.cut.lines.push_back(std::move(inner));
  const FlatPoint &root = pattern.stations.front().spar, &tip = pattern.stations.back().spar;
  covering.cut.lines.push_back(
      {.kind = TemplateLine::Kind::centre, .points_m = {{0, root.along_m}, {0, tip.along_m}}});
  covering.cut.texts.push_back(
      {0.003, root.along_m + 0.3 * (tip.along_m - root.along_m), "spar line", 90, 0});
  covering.cut.texts.push_back(
      {0, root.along_m - allowance_m - 0.004, hand_words(pattern.hand), 0, 0});
  give_hand(covering.cut);
  return covering;
}

}  // namespace propwright::form
