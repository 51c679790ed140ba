/// The V-groove sanding block: plan, side and ends at true scale, with the table that says how deep
/// the V is cut.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_pages.h"
#include "bench_units.h"
#include "cautions.h"
#include "table.h"

namespace propwright::sheet {

Groove groove(double diameter_m, double angle_rad) {
  const double depth = diameter_m / 2 * (1 + 1 / std::sin(angle_rad / 2));
  return {depth, 2 * depth * std::tan(angle_rad / 2)};
}

double block_diameter(const SandingBlock& block, double along_m) {
  const auto& stations = block.stations;
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const SizeStation &a = stations[i], &b = stations[i + 1];
    if (along_m > b.along_m && i + 2 < stations.size()) continue;
    const double share = (along_m - a.along_m) / (b.along_m - a.along_m);
    return a.size_m + std::clamp(share, 0.0, 1.0) * (b.size_m - a.size_m);
  }
  return stations.front().size_m;
}

std::vector<double> block_ticks(const SandingBlock& block, bool metric) {
  const double first = block.stations.front().along_m, last = block.stations.back().along_m;
  const double step = metric ? 0.020 : 0.0254;
  std::vector<double> ticks;
  for (const SizeStation& station : block.stations) ticks.push_back(station.along_m);
  for (double x = step * std::ceil(first / step - 1e-9); x < last; x += step) {
    const bool near = std::any_of(ticks.begin(), ticks.end(),
                                  [&](double other) { return std::abs(other - x) < step / 4; });
    if (!near) ticks.push_back(x);
  }
  std::sort(ticks.begin(), ticks.end());
  return ticks;
}

namespace {

constexpr double side_gap_mm = 16;  ///< between plan and side view, for the stations' numbers
constexpr double number_room_mm = 11;
constexpr double head_mm = 6;  ///< the views' names
constexpr double ends_gap_mm = 9;

struct BlockPlan {
  const SandingBlock& block;
  BenchUnits units;
  double scale, from_m, to_m;

  double mm(double m) const { return 1e3 * scale * m; }
  double length() const { return mm(to_m - from_m); }
  double plan_x() const { return number_room_mm; }
  double side_x() const { return plan_x() + mm(block.block_width_m) + side_gap_mm; }
  double width() const { return side_x() + mm(block.block_height_m) + number_room_mm; }
  /// The root is at the foot.
  double y(double along_m) const { return head_mm + mm(to_m - along_m); }
  double views_height() const { return head_mm + length() + 4; }
  Groove at(double along_m) const {
    return groove(block_diameter(block, along_m), block.angle_rad);
  }
};

/// Places where the groove's lines bend, root first.
std::vector<double> knots(const BlockPlan& plan) {
  std::vector<double> along{plan.from_m};
  for (const SizeStation& station : plan.block.stations) {
    if (station.along_m > plan.from_m + 1e-9 && station.along_m < plan.to_m - 1e-9) {
      along.push_back(station.along_m);
    }
  }
  along.push_back(plan.to_m);
  return along;
}

void draw_plan_view(Canvas& canvas, const BlockPlan& plan, Point at) {
  const double left = at.x + plan.plan_x(), width = plan.mm(plan.block.block_width_m);
  const double middle = left + width / 2, top = at.y + head_mm, bottom = top + plan.length();
  canvas.text({middle, at.y + 3}, "plan", small_strong_text, Align::centre);
  canvas.frame({left, top, width, plan.length()}, cut_line());
  canvas.line({middle, top - 2}, {middle, bottom + 2}, centre_line());
  for (const double side : {-1.0, 1.0}) {
    std::vector<Point> edge;
    for (const double along : knots(plan)) {
      edge.push_back({middle + side * plan.mm(plan.at(along).width_m) / 2, at.y + plan.y(along)});
    }
    canvas.polyline(edge, rule());
  }
}

void draw_side_view(Canvas& canvas, const BlockPlan& plan, Point at) {
  const double left = at.x + plan.side_x(), height = plan.mm(plan.block.block_height_m);
  const double top = at.y + head_mm;
  canvas.text({left + height / 2, at.y + 3}, "side", small_strong_text, Align::centre);
  canvas.frame({left, top, height, plan.length()}, cut_line());
  std::vector<Point> bottom_of_v;
  for (const double along : knots(plan)) {
    bottom_of_v.push_back({left + plan.mm(plan.at(along).depth_m), at.y + plan.y(along)});
  }
  canvas.polyline(bottom_of_v, score_line());
}

void draw_stations_of_block(Canvas& canvas, const BlockPlan& plan, Point at) {
  const double left = at.x + plan.plan_x(), right = left + plan.mm(plan.block.block_width_m);
  const double side = at.x + plan.side_x(), back = side + plan.mm(plan.block.block_height_m);
  constexpr double tick_mm = 2.6;
  std::vector<double> ticks = block_ticks(plan.block, plan.units.metric);
  // Where the block is made in parts, the joint is a station too.
  for (const double joint : {plan.from_m, plan.to_m}) {
    const auto near = [&](double tick) { return std::abs(tick - joint) < 1e-9; };
    if (std::none_of(ticks.begin(), ticks.end(), near)) ticks.push_back(joint);
  }
  for (const double along : ticks) {
    if (along < plan.from_m - 1e-9 || along > plan.to_m + 1e-9) continue;
    const double y = at.y + plan.y(along), middle = (left + right) / 2;
    const double half = plan.mm(plan.at(along).width_m) / 2;
    for (const auto& [from, to] :
         {std::pair(left - 1.5, left + tick_mm), std::pair(middle - half - 1, middle - half),
          std::pair(middle + half, middle + half + 1), std::pair(right - tick_mm, right + 1.5),
          std::pair(side - 1.5, side + tick_mm), std::pair(back - tick_mm, back + 1.5)}) {
      canvas.line({from, y}, {to, y}, hairline());
    }
    const double baseline = y + 0.33 * small_type_mm;
    const PrintUnit& size = plan.units.size;
    canvas.text({left - 2.2, baseline}, plan.units.distance.number(along), small_text,
                Align::right);
    canvas.text({side - 2.2, baseline}, size.number(plan.at(along).depth_m), small_strong_text,
                Align::right);
  }
  const double foot = at.y + head_mm + plan.length() + 4;
  canvas.text({left - 2.2, foot}, plan.units.distance.symbol(), {Face::sans, small_type_mm, ink2},
              Align::right);
  canvas.text({side - 2.2, foot}, "deep, " + plan.units.size.symbol(),
              {Face::sans, small_type_mm, ink2}, Align::right);
}

/// The block seen from its end with the V in its top.
void draw_end(Canvas& canvas, const BlockPlan& plan, Point at, double along_m,
              const std::string& name) {
  const double width = plan.mm(plan.block.block_width_m);
  const double height = plan.mm(plan.block.block_height_m);
  const Groove v = plan.at(along_m);
  const double middle = at.x + width / 2, half = plan.mm(v.width_m) / 2;
  const double top = at.y, deep = plan.mm(v.depth_m);
  canvas.polyline({{middle - half, top},
                   {at.x, top},
                   {at.x, top + height},
                   {at.x + width, top + height},
                   {at.x + width, top},
                   {middle + half, top},
                   {middle, top + deep}},
                  cut_line(), true);
  canvas.line({middle, top - 2}, {middle, top + height + 2}, centre_line());
  canvas.text({middle, top + height + 5.4}, name, small_strong_text, Align::centre);
}

void draw_block(Canvas& canvas, const BlockPlan& plan, Point at) {
  draw_plan_view(canvas, plan, at);
  draw_side_view(canvas, plan, at);
  draw_stations_of_block(canvas, plan, at);
}

}  // namespace

Piece block_piece(const SandingBlock& block, double from_m, double to_m, double scale,
                  units::Profile profile) {
  const BlockPlan plan{block, BenchUnits(profile), scale, from_m, to_m};
  return {"", block.title, plan.width(), plan.views_height(),
          [plan](Canvas& canvas, Point at) { draw_block(canvas, plan, at); }};
}

Piece block_ends_piece(const SandingBlock& block, double scale, units::Profile profile) {
  const double first = block.stations.front().along_m, last = block.stations.back().along_m;
  const BlockPlan plan{block, BenchUnits(profile), scale, first, last};
  const double width = plan.mm(block.block_width_m);
  return {"", block.title, 2 * width + ends_gap_mm, plan.mm(block.block_height_m) + 8.5,
          [plan, width, first, last](Canvas& canvas, Point at) {
            draw_end(canvas, plan, {at.x, at.y + 2.5}, first, "root end");
            draw_end(canvas, plan, {at.x + width + ends_gap_mm, at.y + 2.5}, last, "tip end");
          }};
}

}  // namespace propwright::sheet
