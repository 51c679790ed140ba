/// Gauges of paper for the size of a spar along its length: a long wedge that magnifies, and
/// notches that let it in or keep it out. The white between the lines is the true width, so the
/// knife follows the inner edge of the line.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_pages.h"
#include "bench_units.h"
#include "cautions.h"
#include "group_pages.h"
#include "layout.h"

namespace propwright::sheet {
namespace {

constexpr double wedge_mm = 150, wedge_margin_mm = 6, mark_row_mm = 6.5;
constexpr double notch_pair_mm = 28, notch_deep_mm = 9, notch_card_mm = 26;
constexpr std::size_t notches_per_card = 6;
const TextStyle grey_text{Face::sans, small_type_mm, ink2};

struct Limits {
  double narrow_m, wide_m;  ///< of the wedge
};

/// A round step of widths for the wedge's numbers: about as many as its length can hold.
double number_step(const PrintUnit& unit, double range_m) {
  const double range = range_m / unit.si_per_unit(), least = range * 9 / wedge_mm;
  for (double decade = 0.01;; decade *= 10) {
    for (const double step : {1.0, 2.0, 5.0}) {
      if (step * decade >= least - 1e-12) return step * decade;
    }
  }
}

Limits limits_of(const TaperGauge& gauge, const PrintUnit& unit) {
  double least = gauge.stations.front().least_m, most = gauge.stations.front().most_m;
  for (const TaperGauge::Station& station : gauge.stations) {
    least = std::min(least, station.least_m);
    most = std::max(most, station.most_m);
  }
  const double margin = std::max(0.15 * (most - least), 0.05e-3);
  const double si = unit.si_per_unit();
  const double step = number_step(unit, most - least + 2 * margin) * si;
  return {std::max(step, step * std::floor((least - margin) / step)),
          step * std::ceil((most + margin) / step)};
}

struct Wedge {
  const TaperGauge& gauge;
  BenchUnits units;
  double scale;
  Limits limits;

  /// The wide mouth is at the left.
  double x(double width_m) const {
    return wedge_margin_mm +
           wedge_mm * (limits.wide_m - width_m) / (limits.wide_m - limits.narrow_m);
  }
  double gap_mm(double width_m) const { return 1e3 * scale * width_m; }
};

/// Ticks of width under the slot: the first row in the profile's unit, the second in the other's.
void draw_widths(Canvas& canvas, const Wedge& wedge, Point at, double base, const PrintUnit& unit,
                 double down) {
  const double si = unit.si_per_unit();
  const double step = number_step(unit, wedge.limits.wide_m - wedge.limits.narrow_m);
  const int parts = 5;
  const int first = static_cast<int>(std::ceil(wedge.limits.narrow_m / si / step * parts - 1e-6));
  const int last = static_cast<int>(std::floor(wedge.limits.wide_m / si / step * parts + 1e-6));
  const int decimals = step < 0.0999 ? 2 : step < 0.999 ? 1 : 0;
  for (int i = first; i <= last; ++i) {
    const bool numbered = i % parts == 0;
    const double width = i * step / parts, x = at.x + wedge.x(width * si);
    canvas.line({x, base + down}, {x, base + down + (numbered ? 2.6 : 1.4)}, hairline());
    if (!numbered) continue;
    canvas.text({x, base + down + 5.6}, fixed(width, decimals), small_text, Align::centre);
  }
  canvas.line({at.x + wedge_margin_mm, base + down},
              {at.x + wedge_margin_mm + wedge_mm, base + down}, hairline());
  canvas.text({at.x + wedge_margin_mm + wedge_mm + 2.5, base + down + 5.6}, unit.symbol(),
              grey_text);
}

/// A station's bar between the marks where the spar may stop, and the row it stands in.
struct MarkBar {
  TaperGauge::Station station;
  double left, right;  ///< from the card's left edge
  int row;
};

/// From the wide end on, in rows where no two words touch.
std::vector<MarkBar> mark_bars(const Wedge& wedge) {
  constexpr double half_word_mm = 5.5;
  std::vector<TaperGauge::Station> stations = wedge.gauge.stations;
  std::stable_sort(stations.begin(), stations.end(),
                   [](const auto& a, const auto& b) { return a.most_m > b.most_m; });
  std::vector<double> taken;  // how far each row is
  std::vector<MarkBar> bars;
  for (const TaperGauge::Station& station : stations) {
    const double left = wedge.x(station.most_m), right = wedge.x(station.least_m);
    const double middle = (left + right) / 2;
    std::size_t row = 0;
    while (row < taken.size() && taken[row] > std::min(left, middle - half_word_mm)) ++row;
    if (row == taken.size()) taken.push_back(0);
    taken[row] = std::max(right, middle + half_word_mm);
    bars.push_back({station, left, right, static_cast<int>(row)});
  }
  return bars;
}

void draw_marks(Canvas& canvas, const Wedge& wedge, Point at, double slot_top) {
  for (const MarkBar& bar : mark_bars(wedge)) {
    const double left = at.x + bar.left, right = at.x + bar.right;
    const double y = slot_top - 3 - mark_row_mm * bar.row;
    canvas.fill(Box{left, y - 0.9, right - left, 0.9}, black);
    canvas.line({left, y}, {left, slot_top}, hairline());
    canvas.line({right, y}, {right, slot_top}, hairline());
    canvas.text({(left + right) / 2, y - 1.9}, wedge.units.distance.number(bar.station.along_m),
                small_strong_text, Align::centre, true);
  }
}

double wedge_top(const Wedge& wedge) {
  int rows = 0;
  for (const MarkBar& bar : mark_bars(wedge)) rows = std::max(rows, bar.row + 1);
  return 12 + mark_row_mm * rows;
}

void draw_wedge(Canvas& canvas, const Wedge& wedge, Point at, const Box& size) {
  canvas.frame({at.x, at.y, size.width, size.height}, cut_line());
  canvas.text({at.x + 3, at.y + 5}, wedge.gauge.title, {Face::semibold, text_type_mm, black});
  canvas.text({at.x + size.width - 3, at.y + 5},
              "distance from root, " + wedge.units.distance.symbol(), grey_text, Align::right);
  const double narrow = wedge.gap_mm(wedge.limits.narrow_m),
               wide = wedge.gap_mm(wedge.limits.wide_m);
  const double top = at.y + wedge_top(wedge), half = cut_mm / 2;
  const double mouth = at.x, end = at.x + wedge_margin_mm + wedge_mm;
  // The slot runs on to the card's edge with the taper it has.
  const double slope = (wide - narrow) / wedge_mm, at_mouth = wide + slope * wedge_margin_mm;
  // Middles of the lines lie outside the white by half their width.
  canvas.polyline({{mouth, top - half}, {end, top - half}}, cut_line());
  canvas.polyline({{mouth, top + at_mouth + half}, {end, top + narrow + half}}, cut_line());
  canvas.line({end + half, top - cut_mm}, {end + half, top + narrow + cut_mm}, cut_line());
  canvas.fill(Box{mouth - cut_mm, top, 2 * cut_mm, at_mouth}, white);
  draw_marks(canvas, wedge, at, top - cut_mm);
  const double base = top + at_mouth + 1.2;
  draw_widths(canvas, wedge, at, base, wedge.units.size, 0);
  draw_widths(canvas, wedge, at, base, wedge.units.other_size, 8.5);
}

Piece wedge_piece(const TaperGauge& gauge, double scale, units::Profile profile) {
  const BenchUnits units(profile);
  const Wedge wedge{gauge, units, scale, limits_of(gauge, units.size)};
  const double wide = wedge.gap_mm(wedge.limits.wide_m);
  const Box size{0, 0, wedge_mm + 2 * wedge_margin_mm + 8, wedge_top(wedge) + wide + 20};
  return {"", gauge.title, size.width, size.height,
          [wedge, size](Canvas& canvas, Point at) { draw_wedge(canvas, wedge, at, size); }};
}

/// A notch up from the lower edge at `middle`, its white as wide as told.
void draw_notch(Canvas& canvas, double middle, double edge, double width_mm) {
  const double half = width_mm / 2 + cut_mm / 2, top = edge - notch_deep_mm;
  canvas.polyline(
      {{middle - half, edge}, {middle - half, top}, {middle + half, top}, {middle + half, edge}},
      cut_line());
  canvas.fill(Box{middle - width_mm / 2, edge - cut_mm, width_mm, 2 * cut_mm}, white);
}

struct NotchCard {
  const TaperGauge& gauge;
  BenchUnits units;
  double scale;
  std::size_t first, last;
};

void draw_notches(Canvas& canvas, const NotchCard& card, Point at, const Box& size) {
  canvas.frame({at.x, at.y, size.width, size.height}, cut_line());
  const double edge = at.y + size.height;
  for (std::size_t i = card.first; i < card.last; ++i) {
    const TaperGauge::Station& station = card.gauge.stations[i];
    const double left = at.x + notch_pair_mm * static_cast<double>(i - card.first);
    const double in = left + notch_pair_mm * 0.28, out = left + notch_pair_mm * 0.72;
    if (i > card.first) canvas.line({left, at.y + 3}, {left, edge - 3}, hairline());
    canvas.text({left + notch_pair_mm / 2, at.y + 4.6},
                "at " + card.units.distance.text(station.along_m), small_strong_text,
                Align::centre);
    for (const auto& [x, words, width_m] : {std::tuple(in, "goes in", station.most_m),
                                            std::tuple(out, "stays out", station.least_m)}) {
      canvas.text({x, at.y + 9.4}, words, grey_text, Align::centre);
      canvas.text({x, at.y + 13.4}, card.units.size.number(width_m), small_text, Align::centre);
      draw_notch(canvas, x, edge, 1e3 * card.scale * width_m);
    }
  }
}

}  // namespace

std::vector<Piece> gauge_pieces(const TaperGauge& gauge, double scale, units::Profile profile) {
  std::vector<Piece> pieces{wedge_piece(gauge, scale, profile)};
  for (std::size_t first = 0; first < gauge.stations.size(); first += notches_per_card) {
    const std::size_t last = std::min(first + notches_per_card, gauge.stations.size());
    const NotchCard card{gauge, BenchUnits(profile), scale, first, last};
    const Box size{0, 0, notch_pair_mm * static_cast<double>(last - first), notch_card_mm};
    pieces.push_back(
        {"", gauge.title, size.width, size.height,
         [card, size](Canvas& canvas, Point at) { draw_notches(canvas, card, at, size); }});
  }
  return pieces;
}

void add_gauge_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                     Pages& pages) {
  const Box& body = setting.body;
  const std::string words =
      "Glue the page on thin ply, card or brass shim, then cut along the INNER edge of the lines: "
      "the white is the size. Wedge: slide the spar in from the wide end at the station told; it "
      "stops under that station\u2019s black bar when it is right, left of it when it is too "
      "thick, right of it when it is too thin. Try a rod or drill you have measured first: where "
      "it stops, its own number should stand.";
  const std::vector<std::string> hurts{cautions::knife};
  const double top = body.y + title_height(measure, setting, words) + 2 +
                     cautions_height(measure, body.width, hurts) + 7;
  const double room = body.bottom() - scale_bars_height_mm - 4 - top;
  std::vector<Piece> pieces;
  std::vector<Box> sizes;
  for (const TaperGauge& gauge : sheets.gauges) {
    for (Piece& piece : gauge_pieces(gauge, setting.scale, setting.options.profile)) {
      sizes.push_back({0, 0, piece.width_mm, piece.height_mm});
      pieces.push_back(std::move(piece));
    }
  }
  const std::vector<Placed> places = pack_shelves(sizes, body.width, room, 8);
  const int count = places.empty() ? 0 : places.back().sheet + 1;
  for (int sheet = 0; sheet < count; ++sheet) {
    std::vector<std::pair<Piece, Point>> here;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (places[i].sheet == sheet) here.emplace_back(pieces[i], places[i].at);
    }
    pages.push_back({"taper gauge, 1 : 1", [&setting, here, words, hurts, top](Canvas& canvas) {
                       const Box& page = setting.body;
                       const double y = draw_title(canvas, setting, "Taper gauge", words) + 2;
                       draw_cautions(canvas, {page.x, y}, page.width, hurts);
                       for (const auto& [piece, at] : here) {
                         piece.draw(canvas, {page.x + at.x, top + at.y});
                       }
                       draw_foot_bars(canvas, setting);
                     }});
  }
}

}  // namespace propwright::sheet
