/// The card behind the spar's tip: a scale in both units hung from the zero line, at its true
/// distance from the clamp.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_pages.h"
#include "bench_units.h"
#include "cautions.h"
#include "group_pages.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double left_mm = 7, right_mm = 17, above_mm = 9, below_mm = 5, flap_mm = 22;
constexpr double above_zero_mm = 3;     ///< of the scale, true
constexpr double strip_reach_m = 0.05;  ///< of a card too long for the paper
constexpr double strip_words_mm = 62;   ///< of its words, left of that line
constexpr double words_line_mm = 4.1;

/// Graduations 0.25 mm apart would run together at the hairline's 0.18 mm.
Stroke graduation() {
  return {0.09, black, {}};
}

/// One side of the scale.
struct Graduation {
  double step_mm = 0.5;  ///< true
  int middle_every = 2, long_every = 10;
  double number_per_step = 0.5;
  const char* unit = "mm";
};
constexpr Graduation in_mm{0.5, 2, 10, 0.5, "mm"};
constexpr Graduation in_thou{0.254, 5, 10, 10, "thou"};

std::string grams(double mass_kg) {
  return fmt::format("{:.3f}\u00a0g", 1e3 * mass_kg);
}

struct CardPlan {
  const DeflectionCard& card;
  BenchUnits units;
  double scale;
  bool whole;      ///< from the clamp on
  double mark_m;   ///< the line the card is set by, from the clamp: the clamp itself if whole
  double left_m;   ///< where the left edge's margin ends, from the clamp
  double deep_mm;  ///< of the scale, true
  double face_mm;  ///< height above the fold

  double x(double from_clamp_m) const { return left_mm + 1e3 * scale * (from_clamp_m - left_m); }
  double y(double down_mm) const { return above_mm + scale * (above_zero_mm + down_mm); }
  double width() const {
    const double scale_end = x(card.read_at_m) + right_mm;
    return whole ? std::max(scale_end, x(card.load_at_m) + left_mm) : scale_end;
  }
};

void draw_side(Canvas& canvas, const CardPlan& plan, Point at, const Graduation& side,
               double towards) {
  constexpr double short_mm = 2.2, middle_mm = 3.6, long_mm = 5.6, number_gap_mm = 0.9;
  const double x = at.x + plan.x(plan.card.read_at_m);
  const int first = -static_cast<int>(std::floor(above_zero_mm / side.step_mm));
  const int last = static_cast<int>(std::floor(plan.deep_mm / side.step_mm + 1e-6));
  for (int i = first; i <= last; ++i) {
    const double y = at.y + plan.y(i * side.step_mm);
    const bool is_long = i % side.long_every == 0, is_middle = i % side.middle_every == 0;
    const double reach = is_long ? long_mm : is_middle ? middle_mm : short_mm;
    canvas.line({x, y}, {x + towards * reach, y}, is_long ? hairline() : graduation());
    if (!is_long || i < 0) continue;
    canvas.text({x + towards * (long_mm + number_gap_mm), y + 0.33 * small_type_mm},
                whole_number(i * side.number_per_step), i == 0 ? small_strong_text : small_text,
                towards < 0 ? Align::right : Align::left, true);
  }
  canvas.text({x + towards * 1.2, at.y + plan.y(-above_zero_mm) - 1.6}, side.unit,
              {Face::semibold, small_type_mm, black}, towards < 0 ? Align::right : Align::left);
}

std::vector<std::string> rig_sentences(const CardPlan& plan) {
  const DeflectionCard& card = plan.card;
  const PrintUnit& distance = plan.units.distance;
  std::vector<std::string> lines;
  lines.push_back(fmt::format("Load {} at {} along the spar from the clamp.", grams(card.load_kg),
                              distance.text(card.load_at_m)));
  lines.push_back(
      card.follows_spar
          ? fmt::format("Read at a mark on the spar, {} along it.", distance.text(card.read_at_m))
          : fmt::format("Read where the spar crosses the upright line, {} out.",
                        distance.text(card.read_at_m)));
  std::string zero = card.zero_is_straight ? "Zero line: straight out of the clamp"
                                           : "Zero line: on the spar without its weight";
  if (card.zero_reading_m != 0) {
    zero += fmt::format(", which reads {}", plan.units.reading.text(card.zero_reading_m));
  }
  lines.push_back(zero + ".");
  if (card.resolution_m > 0 || card.repeatability_m > 0) {
    std::string doubt;
    if (card.resolution_m > 0) doubt = "Read to " + plan.units.reading.text(card.resolution_m);
    if (card.repeatability_m > 0) {
      doubt +=
          fmt::format("{} {} (1 \u03c3)", doubt.empty() ? "Repeats within" : "; repeats within",
                      plan.units.reading.text(card.repeatability_m));
    }
    lines.push_back(doubt + ".");
  }
  if (!card.notes.empty()) lines.push_back(card.notes);
  return lines;
}

void draw_uprights(Canvas& canvas, const CardPlan& plan, Point at) {
  const DeflectionCard& card = plan.card;
  const double zero = at.y + plan.y(0), foot = at.y + plan.face_mm;
  if (plan.whole) {
    const double clamp = at.x + plan.x(0);
    canvas.line({clamp, at.y + 3}, {clamp, foot - 3}, cut_line());
    canvas.text({clamp + 1.4, at.y + 5.4}, "clamp edge", small_strong_text);
  } else {
    const double mark = at.x + plan.x(plan.mark_m);
    canvas.line({mark, at.y + 3}, {mark, foot - 3}, centre_line());
    canvas.text({mark + 1.4, at.y + 5.4},
                plan.units.distance.text(plan.mark_m) + " from the clamp edge", small_strong_text);
  }
  const double load = at.x + plan.x(card.load_at_m);
  const bool apart = std::abs(card.load_at_m - card.read_at_m) > 1e-4;
  if (apart && card.load_at_m > plan.mark_m) {
    canvas.line({load, zero - 5}, {load, zero + 7}, hairline());
    canvas.arrow_head({load, zero + 9}, {load, zero}, 2.4, black);
    canvas.text({load, zero + 12.4}, "load", small_strong_text, Align::centre, true);
  }
  const double read = at.x + plan.x(card.read_at_m);
  canvas.line({read, at.y + plan.y(-above_zero_mm)}, {read, at.y + plan.y(plan.deep_mm)},
              hairline());
  canvas.text({read, at.y + 4.2}, apart ? "reading" : "load and reading", small_strong_text,
              Align::centre);
}

void draw_curve(Canvas& canvas, const CardPlan& plan, Point at) {
  const auto& curve = plan.card.curve_m;
  std::vector<Point> points;
  for (const auto& [x_m, y_m] : curve) {
    if (x_m < plan.mark_m || 1e3 * y_m > plan.deep_mm) continue;
    points.push_back({at.x + plan.x(x_m), at.y + plan.y(1e3 * y_m)});
  }
  if (points.size() < 2) return;
  canvas.polyline(points, {rule_mm, ink2, {1.6, 1.0}});
  if (plan.card.curve_words.empty()) return;
  // Along the curve, where it is a good way out and not yet among the graduations.
  const std::size_t i = points.size() * 6 / 10;
  const Point a = points[i > 0 ? i - 1 : 0], b = points[i];
  canvas.turned_text({b.x, b.y - 1.2}, -std::atan2(b.y - a.y, b.x - a.x), plan.card.curve_words,
                     {Face::sans, small_type_mm, ink2}, Align::centre);
}

/// Words stand below the curve's flat beginning.
double words_width(const CardPlan& plan) {
  const double free = plan.x(plan.card.read_at_m) - plan.x(plan.mark_m) - 22;
  return plan.whole ? std::min(92.0, free) : strip_words_mm - 4;
}

double words_height(const Canvas& canvas, const CardPlan& plan) {
  double height = 7;
  for (const std::string& line : rig_sentences(plan)) {
    height +=
        canvas.paragraph_height(words_width(plan), line, {Face::sans, 3.1, black}, words_line_mm);
  }
  return height;
}

/// Without a curve's droop to clear, words begin a little under the zero line.
double words_top(const CardPlan& plan) {
  const double end = plan.x(plan.mark_m) + 3 + words_width(plan);
  double lowest = 0;
  for (const auto& [x_m, y_m] : plan.card.curve_m) {
    if (plan.x(x_m) < end) lowest = std::max(lowest, 1e3 * y_m);
  }
  return plan.y(std::min(lowest, plan.deep_mm)) + 5;
}

void draw_card_words(Canvas& canvas, const CardPlan& plan, Point at) {
  const double x = at.x + (plan.whole ? plan.x(0) + 3 : 4), width = words_width(plan);
  double y = at.y + (plan.whole ? words_top(plan) : above_mm);
  canvas.text({x, y}, plan.card.rig, {Face::semibold, strong_type_mm, black});
  y += 5.2;
  for (const std::string& line : rig_sentences(plan)) {
    y += canvas.paragraph({x, y}, width, line, {Face::sans, 3.1, black}, words_line_mm);
  }
}

void draw_card(Canvas& canvas, const CardPlan& plan, Point at) {
  const double width = plan.width(), fold = at.y + plan.face_mm;
  canvas.frame({at.x, at.y, width, plan.face_mm + flap_mm}, cut_line());
  canvas.line({at.x, fold}, {at.x + width, fold}, score_line());
  canvas.text({at.x + width / 2, fold + flap_mm / 2 + 1},
              "Fold back along the dashed line and glue this foot to a block as high as brings the "
              "zero line behind the spar.",
              {Face::sans, small_type_mm, ink2}, Align::centre);
  // The zero line goes over all that is long enough to be aimed along.
  const double zero = at.y + plan.y(0);
  const double from = at.x + plan.x(plan.mark_m);
  canvas.line({from, zero}, {at.x + width - 3, zero}, rule());
  canvas.text({from + 1.4, zero + 3.6}, "zero line", small_strong_text);
  draw_curve(canvas, plan, at);
  draw_uprights(canvas, plan, at);
  draw_side(canvas, plan, at, plan.units.metric ? in_mm : in_thou, -1);
  draw_side(canvas, plan, at, plan.units.metric ? in_thou : in_mm, 1);
  draw_card_words(canvas, plan, at);
}

CardPlan make_plan(const Canvas& measure, const DeflectionCard& card, double scale,
                   units::Profile profile, bool whole) {
  CardPlan plan{card, BenchUnits(profile), scale, whole, 0, 0, 0, 0};
  if (!whole) {
    plan.mark_m = std::max(0.0, card.read_at_m - strip_reach_m);
    // Words stand left of the line the card is set by.
    plan.left_m = plan.mark_m - strip_words_mm / (1e3 * scale);
  }
  // To whole 5 mm, so that both scales end beyond the deepest reading.
  plan.deep_mm = std::clamp(5 * std::ceil(1e3 * card.deepest_m / 5 - 1e-9), 5.0, 60.0);
  plan.face_mm = std::max(plan.y(plan.deep_mm) + below_mm,
                          (whole ? words_top(plan) : above_mm) + words_height(measure, plan));
  return plan;
}

}  // namespace

Piece deflection_piece(const Canvas& measure, const DeflectionCard& card, double scale,
                       units::Profile profile, double most_width_mm) {
  const CardPlan whole = make_plan(measure, card, scale, profile, true);
  const CardPlan plan =
      whole.width() <= most_width_mm ? whole : make_plan(measure, card, scale, profile, false);
  return {"", card.rig, plan.width(), plan.face_mm + flap_mm,
          [plan](Canvas& canvas, Point at) { draw_card(canvas, plan, at); }};
}

namespace {

/// Three readings of one spar, clamped afresh each time: what a rig's doubt is found from.
void draw_readings(Canvas& canvas, const Setting& setting, Point at) {
  const BenchUnits units(setting.options.profile);
  const double room = setting.body.bottom() - scale_bars_height_mm - 6 - at.y;
  constexpr double line_mm = 9;
  if (room < 14 + 3 * line_mm) return;
  double y = draw_heading(canvas, at, setting.body.width, "How well this rig repeats") + 5;
  const double width = setting.body.width;
  y += canvas.paragraph({at.x, y}, width,
                        "Take one spar, clamp and read it three times, taking it out in between. "
                        "Enter the readings with the rig: they give the doubt of every later one.",
                        {Face::sans, 3.1, ink2}, words_line_mm);
  const double cell = (width - 24) / 3;
  for (const char* what : {"mark up", "mark at side"}) {
    y += line_mm;
    canvas.text({at.x, y}, what, {});
    for (int i = 0; i < 3; ++i) {
      const double x = at.x + 24 + i * cell;
      canvas.line({x, y + 0.8}, {x + cell - 12, y + 0.8}, hairline());
      canvas.text({x + cell - 11, y}, units.reading.symbol(), {Face::sans, small_type_mm, ink2});
    }
  }
}

constexpr const char* card_words =
    "One card for each rig. Cut on the solid line, fold on the dashed one. Stand it close behind "
    "the tip, aim along the zero line and read with the eye level with the spar.";

}  // namespace

void add_deflection_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                          Pages& pages) {
  for (const DeflectionCard& card : sheets.cards) {
    const Piece piece =
        deflection_piece(measure, card, setting.scale, setting.options.profile, setting.body.width);
    const std::string words = card_words;
    pages.push_back({"deflection card, 1 : 1", [&setting, piece, words](Canvas& canvas) {
                       const Box& body = setting.body;
                       double y = draw_title(canvas, setting, "Deflection card", words) + 2;
                       y = draw_cautions(canvas, {body.x, y}, body.width, {cautions::knife}) + 8;
                       piece.draw(canvas, {body.x + (body.width - piece.width_mm) / 2, y});
                       y += piece.height_mm + 10;
                       draw_readings(canvas, setting, {body.x, y});
                       draw_foot_bars(canvas, setting);
                     }});
  }
}

}  // namespace propwright::sheet
