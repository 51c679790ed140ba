#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/form/built_up.h"
#include "range_check.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

/// Height over chord of an arc of radius R (0 = straight).
double camber_of_arc(double arc_radius_m, double chord_m) {
  if (arc_radius_m <= 0 || chord_m <= 0) return 0;
  const double half = std::min(chord_m / 2, arc_radius_m);
  return (arc_radius_m - std::sqrt(arc_radius_m * arc_radius_m - half * half)) / chord_m;
}

/// Points of an arc of length `arc_m`, crown at the origin, hollow side down.
std::vector<std::pair<double, double>> crown_arc(double arc_m, double arc_radius_m) {
  constexpr int pieces = 80;
  std::vector<std::pair<double, double>> points;
  for (int i = 0; i <= pieces; ++i) {
    const double s = arc_m * (static_cast<double>(i) / pieces - 0.5);
    if (arc_radius_m <= 0) {
      points.emplace_back(s, 0);
    } else {
      const double turn = s / arc_radius_m;
      points.emplace_back(arc_radius_m * std::sin(turn), arc_radius_m * (std::cos(turn) - 1));
    }
  }
  return points;
}

base::Problems problems_of_slices(const RibOptions& wood, const SliceOptions& options) {
  base::Problems problems;
  check_count("ribs.blades", options.blades, 1, 8, problems);
  check_length("ribs.step", options.step_m, 1e-6, std::min(1e-3, wood.depth_m), problems);
  check_length("ribs.spare", options.spare_m, 0, 0.05, problems);
  return problems;
}

}  // namespace

base::Expected<RibSlices> rib_slices(const std::vector<Rib>& ribs, const RibOptions& wood,
                                     const SliceOptions& options) {
  if (base::Problems problems = problems_of_slices(wood, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  RibSlices slices;
  slices.slices = static_cast<int>(ribs.size()) * options.blades;
  slices.cuts = slices.slices + 1;
  double longest = 0, bend = 0, weight = 0;
  for (const Rib& rib : ribs) {
    longest = std::max(longest, rib.arc_m);
    bend += 8 * rib.camber * rib.chord_m;
    weight += rib.chord_m * rib.chord_m;
  }
  slices.blank_arc_m = longest + 2 * options.spare_m;
  if (bend > 0) slices.arc_radius_m = weight / bend;
  for (const Rib& rib : ribs) {
    slices.cambers.push_back(camber_of_arc(slices.arc_radius_m, rib.chord_m));
  }
  slices.steps = std::max(1, static_cast<int>(std::lround(wood.depth_m / options.step_m)));
  slices.depth_m = slices.steps * options.step_m;
  for (int cut = 0; cut < slices.cuts; ++cut) {
    slices.stops_m.push_back(std::round(cut * wood.depth_m / options.step_m) * options.step_m);
  }
  const double arch = -crown_arc(slices.blank_arc_m, slices.arc_radius_m).front().second;
  slices.sheet_width_m = slices.slices * wood.depth_m + arch;
  return slices;
}

Template blank_template(const std::vector<Rib>& ribs, const RibSlices& slices, Hand hand) {
  // Enough to hold under a finger, and for a line and its number for each rib.
  const double body_m = std::max(0.018, 0.0035 * static_cast<double>(ribs.size() + 1));
  Template drawing;
  drawing.name = "rib-template";
  drawing.title = "Template to slice the ribs along";
  drawing.hand = hand;
  auto cut = crown_arc(slices.blank_arc_m, slices.arc_radius_m);
  const double foot = cut.front().second - body_m;
  cut.emplace_back(cut.back().first, foot);
  cut.emplace_back(cut.front().first, foot);
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = std::move(cut), .closed = true});
  drawing.lines.push_back({.kind = TemplateLine::Kind::centre, .points_m = {{0, foot}, {0, 0}}});
  double row = 0;
  for (const Rib& rib : ribs) {
    row += body_m / static_cast<double>(ribs.size() + 1);
    const auto arc = crown_arc(rib.arc_m, slices.arc_radius_m);
    const double y = arc.front().second - row;
    drawing.lines.push_back({.kind = TemplateLine::Kind::score,
                             .points_m = {{arc.front().first, y}, {arc.back().first, y}},
                             .label = fmt::format("{}", rib.number)});
  }
  drawing.texts.push_back({0, foot - 0.004, "rib lengths, edge to edge, by number", 0, 0});
  return drawing;
}

}  // namespace propwright::form
