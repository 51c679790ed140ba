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

constexpr double batch_row_mm = 6.6, plot_mm = 96, chart_height_mm = plot_mm + 22;

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

std::string shape_letter(EndShape shape) {
  return shape == EndShape::round ? "round" : shape == EndShape::square ? "sq" : "rect";
}

std::vector<Column> batch_columns(const BenchUnits& units, const BenchBatch& batch, double width) {
  const bool rectangular = std::any_of(batch.spars.begin(), batch.spars.end(), [](const auto& s) {
    return s.shape == EndShape::rectangular;
  });
  const double sizes = rectangular ? 24 : 13;
  const std::string read = units.reading.symbol(), size = units.size.symbol();
  std::vector<Column> columns{{"spar", "", 13, false},
                              {"", "", 10, false},
                              {"root", size, sizes, !rectangular},
                              {"tip", size, sizes, !rectangular},
                              {"mass", "mg", 12},
                              {"reads\nmark up", read, 15},
                              {"reads\nat side", read, 15},
                              {"EI\nmark up", "N·mm²", 15},
                              {"±", "", 7},
                              {"EI\nat side", "N·mm²", 15},
                              {"±", "", 7}};
  // E is told where the sizes leave room for it.
  if (!rectangular) {
    columns.insert(columns.begin() + 7, {{"E\nmark up", "GPa", 14}, {"E\nat side", "GPa", 14}});
  }
  double used = 0;
  for (const Column& column : columns) used += column.width_mm;
  columns.push_back({"", "", 3, false});
  columns.push_back({"with", "", width - used - 3, false});
  return columns;
}

std::vector<std::string> batch_cells(const BenchSpar& spar, const BenchUnits& units, bool with_e) {
  std::vector<std::string> cells{
      spar.id,
      shape_letter(spar.shape),
      across(units.size, spar.shape, spar.root_width_m, spar.root_depth_m),
      across(units.size, spar.shape, spar.tip_width_m, spar.tip_depth_m),
      optional_number(units.mass, spar.mass_kg),
      optional_number(units.reading, spar.reading_0_m),
      optional_number(units.reading, spar.reading_90_m)};
  if (with_e) {
    cells.push_back(optional_number(units.modulus, spar.modulus_0_Pa));
    cells.push_back(optional_number(units.modulus, spar.modulus_90_Pa));
  }
  const auto doubt = [&](const std::optional<double>& ei, double sigma) {
    return ei && sigma > 0 ? units.stiffness.number(sigma) : std::string();
  };
  cells.push_back(optional_number(units.stiffness, spar.ei_0_Nm2));
  cells.push_back(doubt(spar.ei_0_Nm2, spar.ei_0_sigma_Nm2));
  cells.push_back(optional_number(units.stiffness, spar.ei_90_Nm2));
  cells.push_back(doubt(spar.ei_90_Nm2, spar.ei_90_sigma_Nm2));
  cells.emplace_back();
  cells.push_back(spar.with.empty() ? spar.verdict : spar.with + (spar.turned ? ", turned" : ""));
  return cells;
}

void draw_batch_rows(Canvas& canvas, const Setting& setting, const BenchBatch& batch, Point at,
                     std::size_t first, std::size_t last, int blanks) {
  const BenchUnits units(setting.options.profile);
  const std::vector<Column> columns = batch_columns(units, batch, setting.body.width);
  const bool with_e = columns.size() > 13;
  std::vector<Row> rows;
  for (std::size_t i = first; i < last; ++i) {
    rows.push_back({batch_cells(batch.spars[i], units, with_e)});
  }
  for (int i = 0; i < blanks; ++i) rows.push_back({{""}});
  draw_table(canvas, at, columns, rows, batch_row_mm);
}

/// Stiffness as mounted: a turned spar stands where its partner is to be met.
struct Spot {
  const BenchSpar* spar;
  double x, y, x_sigma, y_sigma;
};

std::vector<Spot> spots_of(const BenchBatch& batch) {
  std::vector<Spot> spots;
  for (const BenchSpar& spar : batch.spars) {
    if (!spar.ei_0_Nm2 || !spar.ei_90_Nm2) continue;
    Spot spot{&spar, *spar.ei_0_Nm2, *spar.ei_90_Nm2, spar.ei_0_sigma_Nm2, spar.ei_90_sigma_Nm2};
    if (spar.turned) {
      std::swap(spot.x, spot.y);
      std::swap(spot.x_sigma, spot.y_sigma);
    }
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
  const Axis x = round_axis("EI, mark up", units.stiffness, range, 6);
  const Axis y = round_axis("EI, mark at side", units.stiffness, range, 6);
  Chart chart(canvas, plot, x, y, 0);
  chart.axes();
  for (const BenchPair& pair : batch.pairs) {
    const Spot* a = spot_named(spots, pair.a);
    if (!a) continue;
    const double low = 1 - batch.tolerance, high = 1 + batch.tolerance;
    chart.band({a->x * low, a->x * high}, {a->y * low, a->y * low}, {a->y * high, a->y * high});
  }
  const double si = x.si_per_unit;
  chart.line({{x.low * si, x.high * si}, {x.low * si, x.high * si}},
             {hairline_mm, ink2, {0.6, 1.2}});
  draw_pairs_of_scatter(chart, batch, spots);
  for (const Spot& spot : spots) {
    chart.line({{spot.x - spot.x_sigma, spot.x + spot.x_sigma}, {spot.y, spot.y}}, hairline());
    chart.line({{spot.x, spot.x}, {spot.y - spot.y_sigma, spot.y + spot.y_sigma}}, hairline());
  }
  for (const Spot& spot : spots) {
    chart.point(spot.x, spot.y, spot.spar->id + (spot.spar->turned ? " turned" : ""), black,
                spot.spar->with.empty() ? Marker::diamond : Marker::round);
  }
  chart.finish();
}

void draw_scatter_block(Canvas& canvas, const Setting& setting, const BenchBatch& batch, double y) {
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
            "\u201cTurned\u201d: shown as it is to be mounted, a quarter turn from where it was "
            "measured.")}) {
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
  const std::string title = "Spars, batch " + sheets.batch;
  const BenchUnits units(setting.options.profile);
  const double head = table_head_mm(batch_columns(units, batch, body.width));
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
    const bool chart_here = ends && !charted && below + 8 + chart_height_mm <= body.bottom();
    if (chart_here) {
      const double left = body.bottom() - below - 8 - chart_height_mm;
      blanks = std::min(blanks, static_cast<int>(left / batch_row_mm));
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
