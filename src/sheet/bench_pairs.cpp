/// Pairs as they are mounted, seen from the end, and the rounds of sanding to be written in.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_pages.h"
#include "bench_units.h"
#include "cautions.h"
#include "end_view.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double pair_mm = 27, end_mm = 9.5, ends_mm = 64;
constexpr double sanding_mm = 72, round_row_mm = 9.5;

const BenchSpar* spar_named(const BenchBatch& batch, const std::string& id) {
  const auto found = std::find_if(batch.spars.begin(), batch.spars.end(),
                                  [&](const BenchSpar& spar) { return spar.id == id; });
  return found == batch.spars.end() ? nullptr : &*found;
}

const SandingAdvice* advice_for(const BenchBatch& batch, const std::string& id) {
  const auto found = std::find_if(batch.sanding.begin(), batch.sanding.end(),
                                  [&](const SandingAdvice& item) { return item.id == id; });
  return found == batch.sanding.end() ? nullptr : &*found;
}

EndView end_view(const BenchBatch& batch, const std::string& id, double turn_rad) {
  EndView view;
  view.turn_rad = turn_rad;
  if (const BenchSpar* spar = spar_named(batch, id)) {
    view.shape = spar->shape;
    if (spar->root_width_m && spar->root_depth_m && *spar->root_width_m > 0) {
      view.depth_over_width = *spar->root_depth_m / *spar->root_width_m;
    }
  }
  if (const SandingAdvice* advice = advice_for(batch, id)) {
    view.sand_0 = advice->all_round || advice->off_each_0_m > 0;
    view.sand_90 = advice->all_round || advice->off_each_90_m > 0;
  }
  return view;
}

void draw_pair(Canvas& canvas, const Setting& setting, const BenchBatch& batch,
               const BenchPair& pair, double y) {
  const Box& body = setting.body;
  const double middle = y + pair_mm / 2 - 2;
  double x = body.x + ends_mm / 4;
  for (const auto& [id, turn] :
       {std::pair(pair.a, pair.turn_a_rad), std::pair(pair.b, pair.turn_b_rad)}) {
    draw_end_view(canvas, {x, middle}, end_mm, end_view(batch, id, turn));
    canvas.text({x, middle + end_mm + 2.6}, id, {Face::semibold, text_type_mm, black},
                Align::centre);
    x += ends_mm / 2;
  }
  const double words_x = body.x + ends_mm + 8, width = body.right() - words_x;
  const std::string who = pair.a + " + " + pair.b + "  ";
  const TextStyle strong{Face::semibold, strong_type_mm, black};
  canvas.text({words_x, y + 8}, who, strong);
  canvas.text({words_x + canvas.text_width(who, strong) + 1.5, y + 8}, pair.verdict,
              {Face::serif, head_type_mm, black});
  canvas.paragraph({words_x, y + 13.6}, width, pair.words, {}, 4.5);
  canvas.line({body.x, y + pair_mm}, {body.right(), y + pair_mm}, grid_line());
}

std::string band_text(const PrintUnit& unit, const std::optional<double>& target,
                      const std::optional<double>& least, const std::optional<double>& most) {
  if (!target) return "";
  if (!least || !most) return unit.number(*target);
  return fmt::format("{} ({} to {})", unit.number(*target), unit.number(*least),
                     unit.number(*most));
}

/// A column to write in, with its head.
struct WriteColumn {
  std::string head, first;  ///< what is printed in the first round
  double width_mm;
};

void draw_rounds(Canvas& canvas, Point at, const std::vector<WriteColumn>& columns) {
  double x = at.x, width = 0;
  for (const WriteColumn& column : columns) {
    canvas.text({x, at.y + 3.6}, column.head, small_text);
    x += column.width_mm;
    width += column.width_mm;
  }
  canvas.line({at.x, at.y + 5.4}, {at.x + width, at.y + 5.4}, cut_line());
  for (int round = 0; round < 3; ++round) {
    const double y = at.y + 5.4 + round_row_mm * (round + 1);
    x = at.x;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::string words = i == 0       ? fmt::format("{}", round + 1)
                                : round == 0 ? columns[i].first
                                             : std::string();
      canvas.text({x, y - 2.4}, words, {Face::semibold, text_type_mm, black});
      // What is printed is not written over; all else has a line.
      if (i > 0 && words.empty()) {
        canvas.line({x, y - 1.4}, {x + columns[i].width_mm - 3, y - 1.4}, hairline());
      }
      x += columns[i].width_mm;
    }
  }
}

/// What comes off where: one entry, or one for each pair of faces.
std::vector<std::pair<double, std::string>> removals(const SandingAdvice& advice) {
  if (advice.all_round) return {{advice.off_each_0_m, "off all round"}};
  std::vector<std::pair<double, std::string>> all;
  if (advice.off_each_0_m > 0) {
    all.emplace_back(advice.off_each_0_m, "off top and off bottom, mark up");
  }
  if (advice.off_each_90_m > 0) all.emplace_back(advice.off_each_90_m, "off each side");
  return all;
}

void draw_advice(Canvas& canvas, const Setting& setting, const BenchBatch& batch,
                 const SandingAdvice& advice, double y) {
  const Box& body = setting.body;
  const BenchUnits units(setting.options.profile);
  const PrintUnit& read = units.reading;
  canvas.text({body.x, y + 6},
              advice.step.empty() ? "Sand " + advice.id
                                  : fmt::format("Sand {}, {}", advice.id, advice.step),
              {Face::serif, head_type_mm, black});
  const TextStyle big{Face::serif, 12, black}, after{Face::serif, strong_type_mm, ink2};
  double x = body.x;
  std::string number;
  for (const auto& [off_m, where] : removals(advice)) {
    const std::string amount = units.removal.number(off_m);
    const std::string words = units.removal.symbol() + " " + where;
    number += (number.empty() ? "" : ", ") + amount;
    canvas.text({x, y + 18}, amount, big);
    x += canvas.text_width(amount, big) + 2;
    canvas.text({x, y + 18}, words, after);
    x += canvas.text_width(words, after) + 6;
  }
  const std::string up =
      band_text(read, advice.target_0_m, advice.target_0_least_m, advice.target_0_most_m);
  const std::string side =
      band_text(read, advice.target_90_m, advice.target_90_least_m, advice.target_90_most_m);
  std::string then = advice.where + ". It should then read ";
  if (!up.empty()) then += up + " " + read.symbol() + " with the mark up";
  if (!side.empty()) {
    then += (up.empty() ? "" : ", ") + side + " " + read.symbol() + " with the mark at the side";
  }
  then += fmt::format(", like {}.", advice.partner);
  canvas.paragraph({body.x, y + 24.5}, body.width - 44, then, {}, 4.6);
  draw_end_view(canvas, {body.right() - 18, y + 13}, 12, end_view(batch, advice.id, 0));
  canvas.text({body.right() - 18, y + 26.5}, "end view, mark up", {Face::sans, small_type_mm, ink2},
              Align::centre);
  const std::string unit = ", " + read.symbol();
  const std::string up_number = advice.target_0_m ? read.number(*advice.target_0_m) : "",
                    side_number = advice.target_90_m ? read.number(*advice.target_90_m) : "";
  draw_rounds(canvas, {body.x, y + 32.5},
              {{"round", "", 13},
               {"off each face, " + units.removal.symbol(), number, 34},
               {"to read, mark up" + unit, up_number, 33},
               {"reads", "", 22},
               {"to read, at side" + unit, side_number, 33},
               {"reads", "", 22},
               {"mass, mg", "", 23}});
}

}  // namespace

void add_pair_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                    Pages& pages) {
  if (!sheets.spars || sheets.spars->pairs.empty()) return;
  const BenchBatch& batch = *sheets.spars;
  const std::string words =
      "Both spars of a pair seen from the tip end, as they stand in the blades: front of the model "
      "up, the chord across, trailing edge at the right. The dot is the mark; a heavy line beside "
      "a face means sand it.";
  const double top = setting.body.y + title_height(measure, setting, words) + 2;
  const auto fit = static_cast<std::size_t>((setting.body.bottom() - top) / pair_mm);
  for (std::size_t first = 0; first < batch.pairs.size(); first += fit) {
    const std::size_t last = std::min(batch.pairs.size(), first + fit);
    const std::string number = first > 0 ? fmt::format(" {}", first / fit + 1) : "";
    pages.push_back({"pairs" + number,
                     [&setting, &batch, words, top, first, last](Canvas& canvas) {
                       draw_title(canvas, setting, "Pairs", words);
                       for (std::size_t i = first; i < last; ++i) {
                         draw_pair(canvas, setting, batch, batch.pairs[i],
                                   top + pair_mm * static_cast<double>(i - first));
                       }
                     },
                     "pairs"});
  }
}

void add_sanding_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                       Pages& pages) {
  if (!sheets.spars || sheets.spars->sanding.empty()) return;
  const BenchBatch& batch = *sheets.spars;
  const std::string words =
      "Sand, read, enter; the next round\u2019s figures come from what it reads then. Less rather "
      "than more: wood does not go back on. Where the mark is sanded off, make it again.";
  const double cautions_top = setting.body.y + title_height(measure, setting, words) + 1;
  const double top =
      cautions_top + cautions_height(measure, setting.body.width, {cautions::dust}) + 5;
  const auto fit = static_cast<std::size_t>((setting.body.bottom() - top) / sanding_mm);
  for (std::size_t first = 0; first < batch.sanding.size(); first += fit) {
    const std::size_t last = std::min(batch.sanding.size(), first + fit);
    const std::string number = first > 0 ? fmt::format(" {}", first / fit + 1) : "";
    pages.push_back({"sanding" + number,
                     [&setting, &batch, words, cautions_top, top, first, last](Canvas& canvas) {
                       const Box& body = setting.body;
                       draw_title(canvas, setting, "Sanding", words);
                       draw_cautions(canvas, {body.x, cautions_top}, body.width, {cautions::dust});
                       for (std::size_t i = first; i < last; ++i) {
                         draw_advice(canvas, setting, batch, batch.sanding[i],
                                     top + sanding_mm * static_cast<double>(i - first));
                       }
                     },
                     "sanding"});
  }
}

}  // namespace propwright::sheet
