#include "propwright/form/pattern_template.h"

#include <fmt/format.h>

#include <cmath>

#include "template_tools.h"

namespace propwright::form {
namespace {

constexpr double station_step_m = 0.02;
constexpr double narrow_m = 0.002;  // no station line across less

using Points = std::vector<std::pair<double, double>>;

/// Both edges as one closed line, leading edge first.
Points closed_line(const FlatPattern& pattern, bool plain) {
  Points points;
  for (const PatternStation& s : pattern.stations) {
    const FlatPoint& p = plain ? s.arc_lead : s.lead;
    points.emplace_back(p.across_m, p.along_m);
  }
  for (auto s = pattern.stations.rbegin(); s != pattern.stations.rend(); ++s) {
    const FlatPoint& p = plain ? s->arc_trail : s->trail;
    const std::pair<double, double> point(p.across_m, p.along_m);
    if (std::hypot(point.first - points.back().first, point.second - points.back().second) > 1e-7) {
      points.push_back(point);
    }
  }
  return points;
}

FlatPoint between(const FlatPoint& a, const FlatPoint& b, double share) {
  return {a.along_m + share * (b.along_m - a.along_m),
          a.across_m + share * (b.across_m - a.across_m)};
}

/// A line from edge to edge over the spar at every round radius.
void add_station_lines(const FlatPattern& pattern, Template& drawing) {
  for (std::size_t i = 1; i < pattern.stations.size(); ++i) {
    const PatternStation &low = pattern.stations[i - 1], &high = pattern.stations[i];
    const double radius = std::ceil(low.radius_m / station_step_m) * station_step_m;
    if (radius >= high.radius_m) continue;
    const double share = (radius - low.radius_m) / (high.radius_m - low.radius_m);
    const FlatPoint lead = between(low.lead, high.lead, share),
                    spar = between(low.spar, high.spar, share),
                    trail = between(low.trail, high.trail, share);
    if (lead.across_m - trail.across_m < narrow_m) continue;
    drawing.lines.push_back({.kind = TemplateLine::Kind::station,
                             .points_m = {{trail.across_m, trail.along_m},
                                          {spar.across_m, spar.along_m},
                                          {lead.across_m, lead.along_m}},
                             .label = fmt::format("{:g}", std::round(1e4 * radius) / 10),
                             .value_m = radius});
  }
}

}  // namespace

Template pattern_template(const FlatPattern& pattern) {
  Template drawing;
  drawing.name = "flat-pattern";
  drawing.title = "Flat pattern of the sheet";
  drawing.hand = pattern.hand;
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = closed_line(pattern, false), .closed = true});
  drawing.lines.push_back({.kind = TemplateLine::Kind::score,
                           .points_m = closed_line(pattern, true),
                           .closed = true,
                           .dashed = true});
  Points spar;
  for (const PatternStation& s : pattern.stations)
    spar.emplace_back(s.spar.across_m, s.spar.along_m);
  drawing.lines.push_back({.kind = TemplateLine::Kind::centre, .points_m = std::move(spar)});
  add_station_lines(pattern, drawing);
  const double root = pattern.stations.front().spar.along_m;
  drawing.texts.push_back({0, root - 0.005, "root, hollow face up", 0, 0});
  drawing.texts.push_back({0, root - 0.009, hand_words(pattern.hand), 0, 0});
  drawing.texts.push_back({0, root - 0.013,
                           fmt::format("stretch {:.1f} %, squeeze {:.1f} %",
                                       100 * pattern.worst_stretch, 100 * pattern.worst_squeeze),
                           0, 0});
  drawing.texts.push_back({0, root - 0.017, "dashed: plain pattern, off by", 0,
                           std::max(pattern.arc_difference_m, 1e-5)});
  give_hand(drawing);
  return drawing;
}

Template layout_line_template(const LayoutLine& line, double cylinder_radius_m, Hand hand) {
  Template drawing;
  drawing.name = fmt::format("layout-line-{:.0f}mm", 2e3 * cylinder_radius_m);
  drawing.title = "Layout line for a truly helical blade";
  drawing.hand = hand;
  Points curve;
  for (std::size_t i = 0; i < line.x_m.size(); ++i) curve.emplace_back(-line.y_m[i], line.x_m[i]);
  const auto first = curve.front(), last = curve.back();
  drawing.lines.push_back({.kind = TemplateLine::Kind::cut, .points_m = curve, .label = "tip"});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::centre,
       .points_m = {{first.first, first.second - 0.01}, {first.first, last.second + 0.01}},
       .label = "along the cylinder"});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::score, .points_m = {first, last}, .dashed = true});
  for (std::size_t i = 0; i < line.radius_m.size(); i += 10) {
    const double nx = std::cos(line.skew_rad[i]), ny = std::sin(line.skew_rad[i]);
    drawing.lines.push_back(
        {.kind = TemplateLine::Kind::station,
         .points_m = {{curve[i].first - 0.003 * nx, curve[i].second - 0.003 * ny},
                      {curve[i].first + 0.003 * nx, curve[i].second + 0.003 * ny}},
         .label = fmt::format("{:g}", std::round(1e4 * line.radius_m[i]) / 10),
         .value_m = line.radius_m[i]});
  }
  drawing.texts.push_back(
      {first.first, first.second - 0.015, "root; cylinder diameter", 0, 2 * cylinder_radius_m});
  drawing.texts.push_back({first.first, first.second - 0.019, hand_words(hand), 0, 0});
  give_hand(drawing);
  return drawing;
}

}  // namespace propwright::form
