#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/covering.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

constexpr double stick_m = 0.003;  // drawn width; the wood is the builder's choice

/// A stick of the drawn width from one point to the other.
TemplateLine stick(std::pair<double, double> a, std::pair<double, double> b) {
  const double length = std::hypot(b.first - a.first, b.second - a.second);
  const double x = -(b.second - a.second) / length * stick_m / 2,
               y = (b.first - a.first) / length * stick_m / 2;
  return {.kind = TemplateLine::Kind::score,
          .points_m = {{a.first + x, a.second + y},
                       {b.first + x, b.second + y},
                       {b.first - x, b.second - y},
                       {a.first - x, a.second - y}},
          .closed = true};
}

Template cross_template(const CoveringFrame& frame, std::size_t index) {
  const FrameCross& cross = frame.crosses[index];
  const double cosine = std::cos(cross.angle_rad), sine = std::sin(cross.angle_rad);
  // The spar line stands as high over the bench as the lower rail needs at the steepest cross.
  double low = 0;
  for (const FrameCross& each : frame.crosses) {
    low = std::max(low, frame.trail_m * std::sin(each.angle_rad));
  }
  const double height = low + 0.006;
  Template drawing;
  drawing.name = fmt::format("frame-cross-{}", index + 1);
  drawing.title = fmt::format("Covering frame, cross stick {}", index + 1);
  drawing.hand = frame.hand;
  const std::pair<double, double> lead{frame.lead_m * cosine, height + frame.lead_m * sine},
      trail{-frame.trail_m * cosine, height - frame.trail_m * sine};
  drawing.lines.push_back(stick(trail, lead));
  drawing.lines.push_back({.kind = TemplateLine::Kind::cut, .points_m = {trail, lead}});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::score, .points_m = {{trail.first, 0}, {lead.first, 0}}});
  drawing.lines.push_back({.kind = TemplateLine::Kind::centre, .points_m = {{0, 0}, {0, height}}});
  drawing.texts.push_back({0, -0.004, "at radius", 0, cross.radius_m});
  drawing.texts.push_back(
      {0, -0.009,
       fmt::format("{:.1f}° to the bench, seen from the tip", cross.angle_rad / base::degree_rad),
       0, 0});
  drawing.texts.push_back({0, -0.014, "stick", 0, frame.cross_length_m()});
  give_hand(drawing);
  return drawing;
}

/// The pieces of a rail in one line, a joint marked at each end, the angles beside it.
Template rail_template(const CoveringFrame& frame, const std::vector<FrameRail>& rail,
                       const std::string& which) {
  Template drawing;
  drawing.name = "frame-rail-" + which;
  drawing.title = "Covering frame, " + which + " rail";
  drawing.hand = frame.hand;
  double y = 0;
  constexpr double tick_m = 0.004;
  const auto joint = [&](double at) {
    drawing.lines.push_back(
        {.kind = TemplateLine::Kind::cut, .points_m = {{-tick_m, at}, {tick_m, at}}});
  };
  joint(0);
  for (std::size_t i = 0; i < rail.size(); ++i) {
    const FrameRail& piece = rail[i];
    drawing.lines.push_back(stick({0, y}, {0, y + piece.length_m}));
    drawing.texts.push_back(
        {0.007, y + piece.length_m / 2, fmt::format("{}:", i + 1), 90, piece.length_m});
    drawing.texts.push_back(
        {-0.007, y + piece.length_m / 2,
         fmt::format("{:.1f}° and {:.1f}° to the crosses", piece.inner_angle_rad / base::degree_rad,
                     piece.outer_angle_rad / base::degree_rad),
         90, 0});
    y += piece.length_m;
    joint(y);
  }
  return drawing;
}

}  // namespace

std::vector<Template> frame_templates(const CoveringFrame& frame) {
  std::vector<Template> all;
  for (std::size_t i = 0; i < frame.crosses.size(); ++i) all.push_back(cross_template(frame, i));
  all.push_back(rail_template(frame, frame.lead, "leading"));
  all.push_back(rail_template(frame, frame.trail, "trailing"));
  return all;
}

}  // namespace propwright::form
