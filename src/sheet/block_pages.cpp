/// The pages of a sanding block: what to cut and how with both ends, then plan and side full
/// length.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_pages.h"
#include "bench_units.h"
#include "cautions.h"
#include "group_pages.h"
#include "propwright/base/constants.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double column_mm = 60, edge_mm = 10, block_side_mm = 15;
constexpr double views_room_mm = 12;  ///< head and foot of the views

std::vector<Row> groove_rows(const SandingBlock& block, const BenchUnits& units) {
  std::vector<Row> rows;
  for (const double along : block_ticks(block, units.metric)) {
    const double diameter = block_diameter(block, along);
    const Groove v = groove(diameter, block.angle_rad);
    const bool end =
        along == block.stations.front().along_m || along == block.stations.back().along_m;
    rows.push_back(
        {{units.distance.number(along), units.size.number(diameter), units.size.number(v.depth_m),
          units.size.number(v.width_m), units.other_size.number(diameter),
          units.other_size.number(v.depth_m), units.other_size.number(v.width_m)},
         end});
  }
  return rows;
}

/// The spar lying flush in the V, enlarged, with what the columns of the table mean.
void draw_flush(Canvas& canvas, const SandingBlock& block, const Box& room) {
  constexpr double surface_mm = 14;  // of the block at either side of the V
  // The enlarged spar is as large as the room allows.
  const Groove unit = groove(1, block.angle_rad);
  const double d =
      std::min((room.width - 2 * surface_mm) / unit.width_m, (room.height - 14) / unit.depth_m);
  const Groove v = groove(d, block.angle_rad);
  const double middle = room.x + room.width / 2, top = room.y + 7;
  const Point bottom{middle, top + v.depth_m};
  const double left = middle - v.width_m / 2, right = middle + v.width_m / 2;
  canvas.polyline({{room.x, top}, {left, top}, bottom, {right, top}, {room.right(), top}},
                  cut_line());
  const Point centre{middle, top + d / 2};
  canvas.fill(Box{centre.x - 0.3, centre.y - 0.3, 0.6, 0.6}, black);
  canvas.circle(centre, d / 2, rule());
  canvas.line({middle, top - 4}, {middle, bottom.y + 3}, centre_line());
  // Width over the surface, depth and diameter beside the V.
  const double over = top - 3;
  canvas.line({left, over}, {right, over}, hairline());
  canvas.arrow_head({left, over}, {right, over}, 1.8, black);
  canvas.arrow_head({right, over}, {left, over}, 1.8, black);
  canvas.text({middle + d / 2, over - 1.2}, "width", small_strong_text, Align::centre);
  const double at = right + 3;
  canvas.line({middle + 2, bottom.y}, {at + 2, bottom.y}, hairline());
  canvas.line({at, top}, {at, bottom.y}, hairline());
  canvas.arrow_head({at, top}, {at, bottom.y}, 1.8, black);
  canvas.arrow_head({at, bottom.y}, {at, top}, 1.8, black);
  canvas.turned_text({at - 1, top + 0.6 * v.depth_m}, base::pi / 2, "depth", small_strong_text,
                     Align::centre);
  canvas.text({middle, centre.y - 2.2}, "spar", small_text, Align::centre, true);
  canvas.text({room.x, top + 4.2}, "sanded flush", small_text);
}

std::vector<std::string> steps(const SandingBlock& block) {
  const double degrees = block.angle_rad / base::degree_rad;
  return {
      fmt::format("Plane a straight block of hardwood to the size of the end views. Glue the plan "
                  "on its top and the ends on its ends; the root is at the foot of the plan."),
      fmt::format("Cut a V of {:.0f}° between the edge lines, down to the dashed line of the side "
                  "view. Start narrow and work down with a triangular file.",
                  degrees),
      "Check with a rod or drill of a station\u2019s diameter: laid in the V there it is flush "
      "with the surface. Harden the V with thin instant glue, smooth it, pull the paper off.",
      "Lay the spar in the V, root at the root end. Sand along it with fine paper on a flat "
      "block, a stroke, a turn, all round, until the paper rides on the surface and takes no "
      "more."};
}

void draw_cutting(Canvas& canvas, const Setting& setting, const SandingBlock& block) {
  const Box& body = setting.body;
  const BenchUnits units(setting.options.profile);
  double y =
      draw_title(canvas, setting, "Sanding block", block.title + ". For round tapered spars.") + 2;
  y = draw_cautions(canvas, {body.x, y}, body.width,
                    {cautions::knife, cautions::instant_glue, cautions::dust}) +
      6;
  const std::string own = units.size.symbol(), other = units.other_size.symbol();
  const std::vector<Column> columns{{"from root", units.distance.symbol(), 17},
                                    {"spar", own, 15},
                                    {"depth", own, 15},
                                    {"width", own, 15},
                                    {"spar", other, 16},
                                    {"depth", other, 15},
                                    {"width", other, 15}};
  const std::vector<Row> rows = groove_rows(block, units);
  const double foot = body.bottom() - scale_bars_height_mm - 6;
  const double ends_mm = 1e3 * setting.scale * block.block_height_m + 16;
  const double room = foot - ends_mm - y - table_head_mm(columns);
  const double row = std::clamp(room / static_cast<double>(rows.size()), 4.0, 5.6);
  const double table_end = draw_table(canvas, {body.x, y}, columns, rows, row);
  const double x = body.x + 118, width = body.right() - x;
  double at = y;
  int number = 0;
  for (const std::string& step : steps(block)) {
    canvas.text({x, at + 4.2}, fmt::format("{}", ++number), {Face::semibold, text_type_mm, black});
    at += canvas.paragraph({x + 5, at + 4.2}, width - 5, step, {Face::sans, 3.1, black}, 4.1) + 1.6;
  }
  draw_flush(canvas, block, {x, at + 4, width, std::min(42.0, foot - ends_mm - at)});
  const Piece ends = block_ends_piece(block, setting.scale, setting.options.profile);
  const double ends_y = std::max(table_end + 6, foot - ends.height_mm);
  ends.draw(canvas, {body.x, ends_y});
  canvas.paragraph({body.x + ends.width_mm + 8, ends_y + 8}, 60,
                   "The block\u2019s ends, 1 : 1. Cut round them and glue them on so that both "
                   "tops lie in one plane.",
                   {Face::sans, 3.1, ink2}, 4.1);
  draw_foot_bars(canvas, setting);
}

Page views_page(const Setting& setting, const SandingBlock& block, double from_m, double to_m,
                const std::string& part) {
  const Box column{setting.width_mm - block_side_mm - column_mm, edge_mm, column_mm,
                   setting.height_mm - 2 * edge_mm};
  const Piece piece = block_piece(block, from_m, to_m, setting.scale, setting.options.profile);
  const auto draw = [&setting, &block, piece, column, part](Canvas& canvas) {
    const double left = column.x - 8 - block_side_mm;
    piece.draw(canvas, {block_side_mm + (left - piece.width_mm) / 2,
                        (setting.height_mm - piece.height_mm) / 2});
    canvas.text({column.x, column.y + 7}, "Sanding block", {Face::serif, title_type_mm, black});
    double y = column.y + 14;
    y += canvas.paragraph({column.x, y}, column_mm, block.title + part, {}, 4.7) + 2;
    y += canvas.paragraph({column.x, y}, column_mm,
                          "Solid: the block and the edges of the V at its surface; the middle of a "
                          "line is the edge. Dashed: the bottom of the V. Numbers: distance from "
                          "the root, and how deep the V is there.",
                          {Face::sans, 3.1, black}, 4.1);
    draw_cautions(canvas, {column.x, y}, column_mm, {cautions::knife});
    const double foot = column.bottom() - upright_block_mm - 5;
    draw_upright_bars(canvas, {column.x, foot}, setting.scale);
    const double x = column.x + scale_bars_height_mm + 3;
    draw_bar_words(canvas, {x, foot - 96}, column.right() - x, setting.options);
  };
  return {"sanding block, 1 : 1", draw, "", column};
}

/// Halves, thirds where the paper is shorter than the block.
int parts_of(const Setting& setting, const SandingBlock& block) {
  const double room = setting.height_mm - 2 * edge_mm - views_room_mm;
  const double length =
      1e3 * setting.scale * (block.stations.back().along_m - block.stations.front().along_m);
  return std::max(1, static_cast<int>(std::ceil(length / room - 1e-9)));
}

struct Part {
  double from_m, to_m;
};

std::vector<Part> split(const Setting& setting, const SandingBlock& block) {
  const int parts = parts_of(setting, block);
  const double first = block.stations.front().along_m;
  const double length = block.stations.back().along_m - first;
  std::vector<Part> all;
  all.reserve(static_cast<std::size_t>(parts));
  for (int i = 0; i < parts; ++i) {
    all.push_back({first + length * i / parts, first + length * (i + 1) / parts});
  }
  return all;
}

}  // namespace

void add_block_pages(const Setting& setting, const BenchSheets& sheets, Pages& pages) {
  for (const SandingBlock& block : sheets.blocks) {
    pages.push_back({"sanding block, 1 : 1",
                     [&setting, &block](Canvas& canvas) { draw_cutting(canvas, setting, block); }});
    const std::vector<Part> parts = split(setting, block);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      std::string words;
      if (parts.size() > 1) {
        const PrintUnit distance = BenchUnits(setting.options.profile).distance;
        words = fmt::format(". Part {} of {}, {} to {} from the root; butt the parts together",
                            i + 1, parts.size(), distance.number(parts[i].from_m),
                            distance.text(parts[i].to_m));
      }
      pages.push_back(views_page(setting, block, parts[i].from_m, parts[i].to_m, words + "."));
    }
  }
}

std::vector<Piece> block_pieces(const Setting& setting, const SandingBlock& block) {
  std::vector<Piece> pieces;
  for (const Part& part : split(setting, block)) {
    pieces.push_back(
        block_piece(block, part.from_m, part.to_m, setting.scale, setting.options.profile));
  }
  pieces.push_back(block_ends_piece(block, setting.scale, setting.options.profile));
  return pieces;
}

}  // namespace propwright::sheet
