/// Tables for the bench: stations, spar taper with its cut list, weight budget.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cautions.h"
#include "pages.h"
#include "propwright/base/constants.h"
#include "table.h"

namespace propwright::sheet {
namespace {

/// The row nearest 45 degrees as set, within half a degree; -1 = none.
int row_at_45(const std::vector<StationRow>& rows) {
  int best = -1;
  double least = 0.5 * base::degree_rad;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double off = std::abs(rows[i].gauge_angle_rad - 45 * base::degree_rad);
    if (off <= least) {
      least = off;
      best = static_cast<int>(i);
    }
  }
  return best;
}

std::vector<Column> station_columns(const PrintUnits& units, double width) {
  const std::string mm = units.length.symbol(), degree = "°";
  std::vector<Column> columns{{"radius", units.radius.symbol()},
                              {"radius", units.other_radius.symbol()},
                              {"chord", mm},
                              {"front\nof spar", mm},
                              {"behind\nspar", mm},
                              {"blade\nangle", degree},
                              {"pitch", units.pitch.symbol()},
                              {"gauge\nangle", degree},
                              {"form\nangle", degree},
                              {"block\nheight", mm},
                              {"block\nwidth", mm},
                              {"camber", units.stock.symbol()},
                              {"sheet\nwidth", mm}};
  // Shares of the width by the digits a column needs.
  const double shares[] = {6, 6, 7, 7.5, 7.5, 6.5, 7, 7, 6.5, 7.5, 7.5, 7.5, 7};
  double sum = 0;
  for (const double share : shares) sum += share;
  for (std::size_t i = 0; i < columns.size(); ++i) columns[i].width_mm = width * shares[i] / sum;
  return columns;
}

Row station_cells(const StationRow& row, const PrintUnits& units, bool strong) {
  const auto length = [&](double value) { return units.length.number(value); };
  const auto angle = [&](double value) { return units.angle.number(value); };
  return {{units.radius.number(row.radius_m), units.other_radius.number(row.radius_m),
           length(row.chord_m), length(row.lead_m), length(row.trail_m), angle(row.angle_rad),
           units.pitch.number(row.pitch_m), angle(row.gauge_angle_rad), angle(row.form_angle_rad),
           length(row.block_height_m), length(row.block_width_m),
           units.stock.number(row.camber_height_m), length(row.sheet_width_m)},
          strong};
}

void draw_stations(Canvas& canvas, const Setting& setting, std::size_t first, std::size_t last) {
  const Box& body = setting.body;
  const auto& stations = setting.data.stations;
  const int strong = row_at_45(stations);
  double y = draw_title(canvas, setting, "Stations",
                        "Radii from the shaft axis; angles to the chord, from the disc plane.") +
             2;
  std::vector<Row> rows;
  for (std::size_t i = first; i < last; ++i) {
    rows.push_back(station_cells(stations[i], setting.units, static_cast<int>(i) == strong));
  }
  y = draw_table(canvas, {body.x, y}, station_columns(setting.units, body.width), rows);
  const std::pair<const char*, const char*> words[] = {
      {"blade", "angle of the blade as it flies; pitch is 2\u03c0 radius \u00d7 its tangent there"},
      {"gauge", "what a gauge reads there once the blade is set; the bold row stands at 45°"},
      {"form", "angle and camber to make the form with, over-bend included"},
      {"block", "the chord measured along the shaft (height) and across it (width)"},
      {"sheet", "width of the flat blank, along the curved surface"}};
  y += 7;
  for (const auto& [name, meaning] : words) {
    canvas.text({body.x, y}, name, {Face::semibold, 3.1, black});
    canvas.text({body.x + 16, y}, meaning, {Face::sans, 3.1, ink2});
    y += 4.6;
  }
}

}  // namespace

void add_station_pages(const Setting& setting, Pages& pages) {
  const std::size_t count = setting.data.stations.size();
  constexpr double head_mm = 15, words_mm = 34;
  const double room = setting.body.height - 20 - head_mm - words_mm;
  const auto per_page = static_cast<std::size_t>(std::max(1.0, std::floor(room / row_mm)));
  for (std::size_t first = 0; first < count; first += per_page) {
    const std::size_t last = std::min(count, first + per_page);
    const std::string number = count > per_page ? fmt::format(" {}", first / per_page + 1) : "";
    pages.push_back(
        {"stations" + number,
         [&setting, first, last](Canvas& canvas) { draw_stations(canvas, setting, first, last); },
         "stations"});
  }
}

namespace {

std::vector<Row> spar_rows(const Setting& setting) {
  const SparData& spar = setting.data.spar;
  const PrintUnit other{units::Dimension::length,
                        setting.options.profile == units::Profile::metric ? "thou" : "mm",
                        setting.options.profile == units::Profile::metric ? 1 : 2};
  std::vector<Row> rows;
  for (std::size_t i = 0; i < spar.rows.size(); ++i) {
    const SparRow& row = spar.rows[i];
    const bool end = i == 0 || i + 1 == spar.rows.size();
    rows.push_back(
        {{setting.units.radius.number(row.along_m), setting.units.stock.number(row.width_m),
          setting.units.stock.number(row.depth_m), other.number(row.width_m),
          other.number(row.depth_m)},
         end});
  }
  return rows;
}

std::string size_or_blank(const PrintUnit& unit, double si) {
  return si > 0 ? unit.number(si) : "";
}

double draw_cut_list(Canvas& canvas, const Setting& setting, Point at, double width) {
  const std::vector<CutItem>& items = setting.data.spar.cut_list;
  if (items.empty()) return at.y;
  double y = draw_heading(canvas, at, width, "Cut list");
  const PrintUnits& units = setting.units;
  std::vector<Row> rows;
  rows.reserve(items.size());
  for (const CutItem& item : items) {
    rows.push_back(
        {{item.name, fmt::format("{}", item.count), size_or_blank(units.length, item.length_m),
          size_or_blank(units.stock, item.width_m), size_or_blank(units.stock, item.depth_m),
          size_or_blank(units.part_mass, item.mass_kg)}});
  }
  const double share = (width - 36) / 5;
  const std::vector<Column> columns{{"piece", "", 36, false},
                                    {"count", "", share},
                                    {"length", units.length.symbol(), share},
                                    {"width", units.stock.symbol(), share},
                                    {"depth", units.stock.symbol(), share},
                                    {"mass, all", "mg", share}};
  return draw_table(canvas, {at.x, y + 1}, columns, rows);
}

void draw_spar(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  const SparData& spar = setting.data.spar;
  const bool metric = setting.options.profile == units::Profile::metric;
  double y = draw_title(canvas, setting, "Spar taper",
                        fmt::format("{} spars, each {}, wood of {}. Ends in bold.", spar.count,
                                    setting.units.part_mass.text(spar.mass_kg),
                                    setting.units.density.text(spar.density_kg_m3)));
  y = draw_cautions(canvas, {body.x, y + 1}, body.width, {cautions::knife, cautions::dust}) + 5;
  const std::string stock = setting.units.stock.symbol(), other = metric ? "thou" : "mm";
  const std::vector<Column> columns{{"from root", setting.units.radius.symbol(), 24},
                                    {"width", stock, 22},
                                    {"depth", stock, 22},
                                    {"width", other, 22},
                                    {"depth", other, 22}};
  const double below =
      14 + (spar.cut_list.empty() ? 0 : 20 + row_mm * static_cast<double>(spar.cut_list.size()));
  const double room = body.bottom() - y - table_head_mm(columns) - below;
  const double row = std::clamp(room / static_cast<double>(spar.rows.size()), 4.2, row_mm);
  const double end = draw_table(canvas, {body.x, y}, columns, spar_rows(setting), row);
  canvas.text({body.x + 128, y + 5.5}, "As sanded", {Face::serif, head_type_mm, black});
  for (int i = 0; i < spar.count; ++i) {
    draw_blank(canvas, {body.x + 128, y + 16 + 10 * i}, body.width - 128,
               fmt::format("spar {}, mg", static_cast<char>('A' + i % 26)), 22);
  }
  draw_cut_list(canvas, setting, {body.x, end + 7}, body.width);
}

void draw_weights(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  double y = draw_title(canvas, setting, "Weight budget",
                        "Weigh each part before it is glued in; write it down beside the plan.") +
             3;
  std::vector<Row> rows;
  double sum = 0;
  for (const WeightRow& row : setting.data.weights) {
    rows.push_back({{row.part, setting.units.part_mass.number(row.mass_kg)}});
    sum += row.mass_kg;
  }
  rows.push_back({{"sum", setting.units.part_mass.number(sum)}, true});
  const double height = 9;
  const std::vector<Column> columns{{"part", "", 70, false}, {"planned", "mg", 30}};
  const double top = y + table_head_mm(columns);
  const TextStyle head{Face::sans, small_type_mm, black};
  const double x = body.x + 112;
  canvas.text({x, y + 4.2}, "as built", head);
  canvas.text({x, y + 8}, "mg", {Face::sans, small_type_mm, ink2});
  canvas.text({x + 36, y + 4.2}, "note", head);
  y = draw_table(canvas, {body.x, y}, columns, rows, height);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double line = top + height * static_cast<double>(i + 1);
    canvas.line({x, line}, {x + 30, line}, hairline());
    canvas.line({x + 36, line}, {body.right(), line}, hairline());
  }
  draw_reading(
      canvas, {body.x, y + 8}, body.width,
      "A scale that reads to 10 mg weighs a set of parts together better than each alone.");
}

}  // namespace

void add_spar_pages(const Setting& setting, Pages& pages) {
  if (setting.data.spar.rows.empty()) return;
  pages.push_back({"spar taper", [&setting](Canvas& canvas) { draw_spar(canvas, setting); }});
}

void add_weight_page(const Setting& setting, Pages& pages) {
  if (setting.data.weights.empty()) return;
  pages.push_back({"weight budget", [&setting](Canvas& canvas) { draw_weights(canvas, setting); }});
}

}  // namespace propwright::sheet
