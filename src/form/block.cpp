#include "propwright/form/block.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "propwright/base/constants.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

constexpr int contour_steps = 96, across_steps = 24;

base::Problem range_problem(const char* field, double value_m, const char* allowed,
                            const char* remedy) {
  return {.field = field,
          .value = fmt::format("{:.1f} mm", 1e3 * value_m),
          .allowed = allowed,
          .remedy = remedy,
          .message = "the block cannot be made so"};
}

base::Problems problems_of(const Surface& surface, const std::vector<double>& radii_m,
                           const BlockOptions& options) {
  base::Problems problems;
  const auto within = [](double value, double low, double high) {
    return value >= low && value <= high;
  };
  if (!within(options.edge_allowance_m, 0, 0.03)) {
    problems.push_back(range_problem("block.edge_allowance", options.edge_allowance_m, "0 to 30 mm",
                                     "3 to 5 mm is usual"));
  }
  if (!within(options.end_allowance_m, 0, 0.05)) {
    problems.push_back(range_problem("block.end_allowance", options.end_allowance_m, "0 to 50 mm",
                                     "10 mm is usual"));
  }
  if (!within(options.base_m, 0.001, 0.1)) {
    problems.push_back(
        range_problem("block.base", options.base_m, "1 to 100 mm", "10 mm is usual"));
  }
  for (const double radius_m : radii_m) {
    if (within(radius_m, surface.root_m(), surface.tip_m())) continue;
    problems.push_back(range_problem("block.stations", radius_m, "from root to tip of the blade",
                                     "leave out the stations off the blade"));
  }
  return problems;
}

/// Heights are still those of the surface, the spar line at 0.
BlockStation block_section(const Surface& surface, double radius_m, double allowance_m) {
  const double share = surface.spar_share(radius_m), width = surface.sheet_width_m(radius_m);
  const double from = -share * width - allowance_m, to = (1 - share) * width + allowance_m;
  const double side = surface.hand() == Hand::clockwise ? 1 : -1;
  const Point trail = surface.along_arc(radius_m, from), lead = surface.along_arc(radius_m, to);
  BlockStation s{.radius_m = radius_m, .angle_rad = surface.angle_rad(radius_m)};
  s.lead_m = side * lead.y_m;
  s.trail_m = -side * trail.y_m;
  s.lead_height_m = lead.z_m;
  s.trail_height_m = trail.z_m;
  s.width_m = s.lead_m + s.trail_m;
  s.depth_m = lead.z_m - trail.z_m;
  // A tip without chord and without allowance: the ratio is the angle's all the same.
  s.depth_over_width = s.width_m > 1e-9 ? s.depth_m / s.width_m : std::tan(s.angle_rad);
  s.top_height_m = std::max(lead.z_m, trail.z_m);
  s.lead_reach_m = s.lead_m;
  s.trail_reach_m = s.trail_m;
  for (int i = 0; i <= across_steps; ++i) {
    const Point p = surface.along_arc(radius_m, from + (to - from) * i / across_steps);
    s.top_height_m = std::max(s.top_height_m, p.z_m);
    s.lead_reach_m = std::max(s.lead_reach_m, side * p.y_m);
    s.trail_reach_m = std::max(s.trail_reach_m, -side * p.y_m);
  }
  return s;
}

void raise(std::vector<BlockStation>& stations, double by_m) {
  for (BlockStation& s : stations) {
    s.lead_height_m += by_m;
    s.trail_height_m += by_m;
    s.top_height_m += by_m;
    s.spar_height_m += by_m;
  }
}

using Points = std::vector<std::pair<double, double>>;
using Value = std::function<double(const BlockStation&)>;

/// Along the contour, carried on level over both ends of the block.
Points contour_line(const Block& block, const Value& value) {
  const double far = block.near_end_m + block.length_m;
  Points points{{block.near_end_m, value(block.contour.front())}};
  for (const BlockStation& s : block.contour) {
    if (s.radius_m > points.back().first + 1e-9) points.emplace_back(s.radius_m, value(s));
  }
  if (far > points.back().first + 1e-9) points.emplace_back(far, value(block.contour.back()));
  return points;
}

void add_stations(const Block& block, Template& drawing, const Value& low, const Value& high) {
  for (const BlockStation& s : block.stations) {
    drawing.lines.push_back({.kind = TemplateLine::Kind::station,
                             .points_m = {{s.radius_m, high(s)}, {s.radius_m, low(s)}},
                             .label = fmt::format("{:g}", std::round(1e4 * s.radius_m) / 10),
                             .value_m = s.radius_m});
  }
}

double middle_of(const Block& block) {
  return block.near_end_m + block.length_m / 2;
}

}  // namespace

base::Expected<Block> carved_block(const Surface& surface, const std::vector<double>& radii_m,
                                   const BlockOptions& options) {
  if (auto problems = problems_of(surface, radii_m, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  Block block;
  block.hand = surface.hand();
  for (const double radius_m : radii_m) {
    block.stations.push_back(block_section(surface, radius_m, options.edge_allowance_m));
  }
  const double root = surface.root_m(), tip = surface.tip_m();
  for (int i = 0; i <= contour_steps; ++i) {
    // Denser towards the tip, where the outline rounds off.
    const double share = std::sin(base::pi / 2 * i / contour_steps);
    block.contour.push_back(block_section(surface, std::min(tip, root + (tip - root) * share),
                                          options.edge_allowance_m));
  }
  double lowest = 0, highest = 0;
  for (const auto* list : {&block.stations, &block.contour}) {
    for (const BlockStation& s : *list) {
      lowest = std::min({lowest, s.lead_height_m, s.trail_height_m});
      highest = std::max(highest, s.top_height_m);
      block.lead_side_m = std::max(block.lead_side_m, s.lead_reach_m);
      block.trail_side_m = std::max(block.trail_side_m, s.trail_reach_m);
    }
  }
  raise(block.stations, options.base_m - lowest);
  raise(block.contour, options.base_m - lowest);
  block.near_end_m = root - options.end_allowance_m;
  block.length_m = tip - root + 2 * options.end_allowance_m;
  block.width_m = block.lead_side_m + block.trail_side_m;
  block.height_m = options.base_m + highest - lowest;
  return block;
}

Template block_side_template(const Block& block) {
  Template drawing;
  drawing.name = "block-side";
  drawing.title = "Form block, side view";
  drawing.hand = block.hand;
  const double far = block.near_end_m + block.length_m;
  Points cut = contour_line(block, [](const auto& s) { return s.top_height_m; });
  cut.emplace_back(far, 0);
  cut.emplace_back(block.near_end_m, 0);
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = std::move(cut), .closed = true});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::score,
       .points_m = contour_line(block, [](const auto& s) { return s.trail_height_m; }),
       .dashed = true});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::centre,
       .points_m = contour_line(block, [](const auto& s) { return s.spar_height_m; })});
  add_stations(
      block, drawing, [](const auto&) { return 0.0; },
      [](const auto& s) { return s.top_height_m; });
  const double x = middle_of(block);
  drawing.texts = {
      {x, -0.0085, "dashed: trailing edge; chain line: spar; root end marked", 0, 0},
      {x, -0.0125, std::string("seen from the trailing side; ") + hand_words(block.hand), 0, 0},
      {block.near_end_m, block.height_m + 0.003, "root end", 0, 0}};
  give_hand(drawing);
  return drawing;
}

Template block_plan_template(const Block& block) {
  Template drawing;
  drawing.name = "block-plan";
  drawing.title = "Form block, plan";
  drawing.hand = block.hand;
  Points cut = contour_line(block, [](const auto& s) { return s.lead_reach_m; });
  const Points trail = contour_line(block, [](const auto& s) { return -s.trail_reach_m; });
  for (auto p = trail.rbegin(); p != trail.rend(); ++p) {
    if (std::hypot(p->first - cut.back().first, p->second - cut.back().second) > 1e-7) {
      cut.push_back(*p);
    }
  }
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = std::move(cut), .closed = true});
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::centre,
       .points_m = {{block.near_end_m, 0}, {block.near_end_m + block.length_m, 0}}});
  add_stations(
      block, drawing, [](const auto& s) { return -s.trail_reach_m; },
      [](const auto& s) { return s.lead_reach_m; });
  const double x = middle_of(block);
  drawing.texts = {
      {x, block.lead_side_m + 0.004, "leading edge", 0, 0},
      {x, -block.trail_side_m - 0.0085,
       std::string("seen from in front of the model; turns ") + hand_words(block.hand), 0, 0},
      {block.near_end_m, block.lead_side_m + 0.004, "root end", 0, 0}};
  give_hand(drawing);
  return drawing;
}

}  // namespace propwright::form
