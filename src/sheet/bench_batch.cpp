/// The bench sheet: the batch as a table to write in, and its scatter of stiffness.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "axes.h"
#include "bench_pages.h"
#include "bench_units.h"
#include "chart.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double batch_row_mm = 6.6, most_plot_mm = 96, least_plot_mm = 70, round_plot_mm = 22;

std::string optional_number(const PrintUnit& unit, const std::optional<double>& si) {
  return si ? unit.number(*si) : std::string();
}

/// "60.0" where square or round, "60.0 × 58.0" where not.
std::string across(const PrintUnit& unit, EndShape shape, const std::optional<double>& width,
                   const std::optional<double>& depth) {
  if (!width) return "";
  const std::string one = unit.number(*width);
  if (shape != EndShape::rectangular || !depth) return one;
  return one + "\u2009×\u2009" + unit.number(*depth);
}

const char* shape_word(EndShape shape) {
  switch (shape) {
    case EndShape::square:
      return "square";
    case EndShape::rectangular:
      return "rect.";
    case EndShape::round:
      return "round";
    case EndShape::rounded_square:
      return "rnd. sq.";
  }
  return "";
}

/// Which columns the batch asks for.
struct BatchTable {
  bool rectangular = false;  ///< sizes in two numbers
  bool shapes = false;       ///< not all of one shape
  bool third = false;        ///< some were read half-way between the two directions as well

  explicit BatchTable(const BenchBatch& batch) {
    for (const BenchSpar& spar : batch.spars) {
      rectangular = rectangular || spar.shape == EndShape::rectangular;
      shapes = shapes || spar.shape != batch.spars.front().shape;
      third = third || spar.reading_45_m;
    }
  }
  // A page has room for all but these.
  bool moduli() const { return !rectangular && !third; }
  bool masses() const { return !rectangular || !third; }
};

std::vector<Column> batch_columns(const BenchUnits& units, const BatchTable& table, double width) {
  const std::string read = units.reading.symbol(), size = units.size.symbol();
  std::vector<Column> columns{{"spar", "", 12, false}};
  if (table.shapes) columns.push_back({"", "", 13, false});
  const double sizes = table.rectangular ? 22 : 12;
  columns.push_back({"root", size, sizes, !table.rectangular});
  columns.push_back({"tip", size, sizes, !table.rectangular});
  if (table.masses()) columns.push_back({"mass", "mg", 11});
  for (const char* head : {"reads\nmark up", "reads\nat side"}) {
    columns.push_back({head, read, 14});
  }
  if (table.third) columns.push_back({"reads\nat 45°", read, 12});
  if (table.moduli()) {
    for (const char* head : {"E\nmark up", "E\nat side"}) columns.push_back({head, "GPa", 13});
  }
  for (const char* head : {"EI\nmark up", "EI\nat side"}) {
    columns.push_back({head, "N·mm²", 14});
    columns.push_back({"±", "", 6});
  }
  double used = 0;
  for (const Column& column : columns) used += column.width_mm;
  columns.push_back({"", "", 3, false});
  const double left = width - used - 3;
  columns.push_back({"with", "", 0.46 * left, false});
  columns.push_back({"verdict", "", 0.54 * left, false});
  return columns;
}

std::vector<std::string> batch_cells(const BenchSpar& spar, const BenchUnits& units,
                                     const BatchTable& table) {
  std::vector<std::string> cells{spar.id};
  if (table.shapes) cells.emplace_back(shape_word(spar.shape));
  cells.push_back(across(units.size, spar.shape, spar.root_width_m, spar.root_depth_m));
  cells.push_back(across(units.size, spar.shape, spar.tip_width_m, spar.tip_depth_m));
  if (table.masses()) cells.push_back(optional_number(units.mass, spar.mass_kg));
  cells.push_back(optional_number(units.reading, spar.reading_0_m));
  cells.push_back(optional_number(units.reading, spar.reading_90_m));
  if (table.third) cells.push_back(optional_number(units.reading, spar.reading_45_m));
  if (table.moduli()) {
    cells.push_back(optional_number(units.modulus, spar.modulus_0_Pa));
    cells.push_back(optional_number(units.modulus, spar.modulus_90_Pa));
  }
  for (const auto& [ei, sigma] : {std::pair(spar.ei_0_Nm2, spar.ei_0_sigma_Nm2),
                                  std::pair(spar.ei_90_Nm2, spar.ei_90_sigma_Nm2)}) {
    cells.push_back(optional_number(units.stiffness, ei));
    cells.push_back(ei && sigma > 0 ? units.stiffness.number(sigma) : std::string());
  }
  cells.emplace_back();
  cells.push_back(spar.turned ? spar.with + " turned" : spar.with);
  cells.push_back(spar.verdict);
  return cells;
}

void draw_batch_rows(Canvas& canvas, const Setting& setting, const BenchBatch& batch, Point at,
                     std::size_t first, std::size_t last, int blanks) {
  const BenchUnits units(setting.options.profile);
  const BatchTable table(batch);
  const std::vector<Column> columns = batch_columns(units, table, setting.body.width);
  std::vector<Row> rows;
  for (std::size_t i = first; i < last; ++i) {
    rows.push_back({batch_cells(batch.spars[i], units, table)});
  }
  for (int i = 0; i < blanks; ++i) rows.push_back({{""}});
  draw_table(canvas, at, columns, rows, batch_row_mm);
}

/// Stiffness as mounted: a turned spar stands where its partner is to be met.
struct Spot {
  const BenchSpar* spar;
  double x, y, x_sigma, y_sigma;

  /// To where it is mounted; its doubt keeps its share.
  static void move(const std::optional<double>& to, double& at, double& sigma) {
    if (!to || !(at > 0)) return;
    sigma *= *to / at;
    at = *to;
  }
};

std::vector<Spot> spots_of(const BenchBatch& batch) {
  std::vector<Spot> spots;
  for (const BenchSpar& spar : batch.spars) {
    if (!spar.ei_0_Nm2 || !spar.ei_90_Nm2) continue;
    Spot spot{&spar, *spar.ei_0_Nm2, *spar.ei_90_Nm2, spar.ei_0_sigma_Nm2, spar.ei_90_sigma_Nm2};
    Spot::move(spar.mounted_0_Nm2, spot.x, spot.x_sigma);
    Spot::move(spar.mounted_90_Nm2, spot.y, spot.y_sigma);
    spots.push_back(spot);
  }
  return spots;
}

const Spot* spot_named(const std::vector<Spot>& spots, const std::string& id) {
  const auto found = std::find_if(spots.begin(), spots.end(),
                                  [&](const Spot& spot) { return spot.spar->id == id; });
  return found == spots.end() ? nullptr : &*found;
}

void draw_pairs_of_scatter(Chart& chart, const BenchBatch& batch, const std::vector<Spot>& spots) {
  for (const BenchPair& pair : batch.pairs) {
    const Spot *a = spot_named(spots, pair.a), *b = spot_named(spots, pair.b);
    if (!a || !b) continue;
    const Stroke joined{rule_mm + 0.1, black, {}}, broken{rule_mm, ink2, {1.6, 1.0}};
    chart.line({{a->x, b->x}, {a->y, b->y}}, pair.matched ? joined : broken);
  }
}

void draw_scatter(Canvas& canvas, const BenchBatch& batch, const Box& plot,
                  const BenchUnits& units) {
  const std::vector<Spot> spots = spots_of(batch);
  Range range;
  for (const Spot& spot : spots) {
    range.include({spot.x - 2 * spot.x_sigma, spot.x + 2 * spot.x_sigma, spot.y - 2 * spot.y_sigma,
                   spot.y + 2 * spot.y_sigma});
  }
  const double room = std::max(0.06 * (range.high - range.low), 0.02 * range.high);
  range.include({range.low - room, range.high + room});
  const Axis x = round_axis("EI, mark up", units.stiffness, range, 8);
  const Axis y = round_axis("EI, mark at side", units.stiffness, range, 8);
  Chart chart(canvas, plot, x, y, 0);
  chart.axes();
  for (double at = x.low + x.step; at < x.high - x.step / 2; at += x.step) {
    const Point foot = chart.place(at * x.si_per_unit, y.low * y.si_per_unit);
    canvas.line(foot, {foot.x, plot.y}, grid_line());
  }
  for (const BenchPair& pair : batch.pairs) {
    const Spot* a = spot_named(spots, pair.a);
    if (!a) continue;
    const double low = 1 - batch.tolerance, high = 1 + batch.tolerance;
    chart.band({a->x * low, a->x * high}, {a->y * low, a->y * low}, {a->y * high, a->y * high});
    chart.line({{a->x * low, a->x * high, a->x * high, a->x * low, a->x * low},
                {a->y * low, a->y * low, a->y * high, a->y * high, a->y * low}},
               {hairline_mm, rgb(0xa9a9a3), {}});
  }
  const double si = x.si_per_unit;
  chart.line({{x.low * si, x.high * si}, {x.low * si, x.high * si}},
             {hairline_mm, ink2, {0.6, 1.2}});
  draw_pairs_of_scatter(chart, batch, spots);
  for (const Spot& spot : spots) {
    chart.point(spot.x, spot.y, spot.spar->id + (spot.spar->turned ? " turned" : ""), black,
                spot.spar->with.empty() ? Marker::diamond : Marker::round);
  }
  for (const Spot& spot : spots) {
    chart.line({{spot.x - spot.x_sigma, spot.x + spot.x_sigma}, {spot.y, spot.y}}, hairline());
    chart.line({{spot.x, spot.x}, {spot.y - spot.y_sigma, spot.y + spot.y_sigma}}, hairline());
  }
  chart.finish();
}

void draw_scatter_block(Canvas& canvas, const Setting& setting, const BenchBatch& batch, double y) {
  const double plot_mm =
      std::clamp(setting.body.bottom() - y - round_plot_mm, least_plot_mm, most_plot_mm);
  const Box& body = setting.body;
  const Box plot{body.x + chart_left_mm, y + 6, plot_mm, plot_mm};
  draw_scatter(canvas, batch, plot, BenchUnits(setting.options.profile));
  const double x = plot.right() + 9, width = body.right() - x;
  double at = y + 10;
  canvas.text({x, at}, "What to read from it", {Face::serif, head_type_mm, black});
  at += 8;
  const std::string percent = fmt::format("{:g}", std::round(1000 * batch.tolerance) / 10);
  for (const std::string& words :
       {std::string("Each dot is a spar, its cross one standard deviation of its stiffness. On the "
                    "dotted line a spar is equally stiff both ways."),
        std::string("A solid line joins a matched pair, a broken one a pair still to be worked; a "
                    "diamond has no partner."),
        fmt::format("Grey: within {} % both ways of the first of a pair. Its partner belongs "
                    "inside.",
                    percent),
        std::string(
            "\u201cTurned\u201d: where it stands once it is mounted with its mark turned.")}) {
    at += canvas.paragraph({x, at}, width, words, {Face::sans, 3.1, black}, 4.2) + 2.4;
  }
}

}  // namespace

void add_batch_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                     Pages& pages) {
  if (!sheets.spars) return;
  const BenchBatch& batch = *sheets.spars;
  const Box& body = setting.body;
  const std::string words = batch.sentence;
  // A long name is in the title block alone.
  const std::string full = "Spars, batch " + sheets.batch;
  const bool fits = measure.text_width(full, {Face::serif, title_type_mm, black}) <= body.width;
  const std::string title = sheets.batch.empty() || !fits ? "Spars" : full;
  const BenchUnits units(setting.options.profile);
  const double head = table_head_mm(batch_columns(units, BatchTable(batch), body.width));
  const double rig = batch.rig_words.empty() ? 0 : 6;
  const double top = body.y + title_height(measure, setting, words) + 1 + rig;
  const auto fit = static_cast<std::size_t>((body.bottom() - top - head) / batch_row_mm);
  const std::size_t count = batch.spars.size();
  const bool chart = !spots_of(batch).empty();
  std::size_t first = 0;
  bool charted = !chart;
  int sheet = 0;
  do {
    const std::size_t last = std::min(count, first + fit);
    const bool ends = last == count;
    int blanks = ends ? std::min(batch.blank_rows, static_cast<int>(fit - (last - first))) : 0;
    double below = top + head + batch_row_mm * static_cast<double>(last - first);
    // Blank rows give way to the chart rather than send it to a page of its own.
    const bool chart_here =
        ends && !charted && below + 8 + least_plot_mm + round_plot_mm <= body.bottom();
    if (chart_here) {
      const double left = body.bottom() - below - 8 - most_plot_mm - round_plot_mm;
      blanks = std::clamp(static_cast<int>(left / batch_row_mm), 0, blanks);
      charted = true;
    }
    below += batch_row_mm * blanks + 8;
    const auto draw = [&setting, &batch, title, words, top, rig, first, last, blanks, chart_here,
                       below](Canvas& canvas) {
      draw_title(canvas, setting, title, words);
      if (rig > 0) {
        draw_reading(canvas, {setting.body.x, top - rig + 3}, setting.body.width, batch.rig_words);
      }
      draw_batch_rows(canvas, setting, batch, {setting.body.x, top}, first, last, blanks);
      if (chart_here) draw_scatter_block(canvas, setting, batch, below);
    };
    const std::string number = ++sheet > 1 ? fmt::format(" {}", sheet) : "";
    pages.push_back({"bench sheet" + number, draw, "bench sheet"});
    first = last;
  } while (first < count);
  if (charted) return;
  pages.push_back({"stiffness", [&setting, &batch](Canvas& canvas) {
                     const double y = draw_title(canvas, setting, "Stiffness of the batch", "");
                     draw_scatter_block(canvas, setting, batch, y + 2);
                   }});
}

}  // namespace propwright::sheet
