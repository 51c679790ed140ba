/// Target cards: what a blade is to come out as, with room to write what it did.
#include <fmt/format.h>

#include <algorithm>

#include "bench_pages.h"
#include "bench_units.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double target_row_mm = 9;

struct Printed {
  std::string target, from_to, unit;
};

std::string plain_number(double value, const TargetRow& row, units::Profile profile) {
  // Tenths of a milligram and hundredths of a millimetre: what a card is compared with.
  const BenchUnits units(profile);
  if (row.measure == Measure::part_mass) return units.mass.number(value);
  if (row.measure == Measure::stock) return units.size.number(value);
  return cell_text({value}, row.measure, profile);
}

std::string unit_name(const TargetRow& row, units::Profile profile) {
  if (row.measure == Measure::stock) return BenchUnits(profile).size.symbol();
  return measure_unit(row.measure, profile);
}

Printed printed(const TargetRow& row, units::Profile profile) {
  if (!row.words.empty() || row.measure == Measure::word) return {row.words, "", ""};
  Printed text{plain_number(row.target, row, profile), "", unit_name(row, profile)};
  if (row.tolerance > 0) {
    text.from_to = fmt::format("{} to {}", plain_number(row.target - row.tolerance, row, profile),
                               plain_number(row.target + row.tolerance, row, profile));
  }
  return text;
}

double card_height(const Canvas& measure, const Setting& setting, const TargetCard& card) {
  double height = 9 + 8 + target_row_mm * static_cast<double>(card.rows.size()) + 6;
  if (!card.words.empty()) {
    height += measure.paragraph_height(setting.body.width, card.words, {}, 4.6) + 1;
  }
  if (!card.hazards.empty()) {
    height += cautions_height(measure, setting.body.width, cautions_of(card.hazards)) + 3;
  }
  return height;
}

void draw_target_row(Canvas& canvas, const Setting& setting, const TargetCard& card,
                     const TargetRow& row, double y) {
  const Box& body = setting.body;
  const Printed text = printed(row, setting.options.profile);
  const double baseline = y - 2.6;
  canvas.text({body.x, baseline}, row.what, {});
  const TextStyle strong{Face::semibold, text_type_mm, black};
  if (text.unit.empty() && text.from_to.empty()) {
    canvas.text({body.x + 62, baseline}, text.target, strong);
  } else {
    canvas.text({body.x + 76, baseline}, text.target, strong, Align::right);
    canvas.text({body.x + 77.5, baseline}, text.unit, {Face::sans, small_type_mm, ink2});
    canvas.text({body.x + 88, baseline}, text.from_to, {});
  }
  const double first = body.x + 120;
  const double cell =
      (body.width - 120) / static_cast<double>(std::max<std::size_t>(1, card.blanks.size()));
  for (std::size_t i = 0; i < card.blanks.size(); ++i) {
    const double x = first + cell * static_cast<double>(i);
    canvas.line({x, y - 1.6}, {x + cell - 3, y - 1.6}, hairline());
  }
  canvas.line({body.x, y}, {body.right(), y}, grid_line());
}

void draw_target_card(Canvas& canvas, const Setting& setting, const TargetCard& card, double y) {
  const Box& body = setting.body;
  y = draw_heading(canvas, {body.x, y}, body.width, card.title) + 5;
  if (!card.words.empty()) {
    y += canvas.paragraph({body.x, y}, body.width, card.words, {}, 4.6) + 1;
  }
  if (!card.hazards.empty()) {
    y = draw_cautions(canvas, {body.x, y - 3}, body.width, cautions_of(card.hazards)) + 6;
  }
  canvas.text({body.x + 76, y + 1}, "target", small_text, Align::right);
  canvas.text({body.x + 88, y + 1}, "good from, to", small_text);
  const double cell =
      (body.width - 120) / static_cast<double>(std::max<std::size_t>(1, card.blanks.size()));
  for (std::size_t i = 0; i < card.blanks.size(); ++i) {
    canvas.text({body.x + 120 + cell * static_cast<double>(i), y + 1}, card.blanks[i], small_text);
  }
  y += 3;
  canvas.line({body.x, y}, {body.right(), y}, cut_line());
  for (const TargetRow& row : card.rows) {
    y += target_row_mm;
    draw_target_row(canvas, setting, card, row, y);
  }
}

}  // namespace

void add_target_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                      Pages& pages) {
  if (sheets.targets.empty()) return;
  const Box& body = setting.body;
  std::vector<std::vector<std::pair<const TargetCard*, double>>> all(1);
  const double top = body.y + 14;
  double y = top;
  for (const TargetCard& card : sheets.targets) {
    const double height = card_height(measure, setting, card);
    if (y + height > body.bottom() && y > top) {
      all.emplace_back();
      y = top;
    }
    all.back().emplace_back(&card, y);
    y += height + 6;
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string number = i > 0 ? fmt::format(" {}", i + 1) : "";
    pages.push_back({"targets" + number,
                     [&setting, here = all[i]](Canvas& canvas) {
                       draw_title(canvas, setting, "Targets", "");
                       for (const auto& [card, at] : here) {
                         draw_target_card(canvas, setting, *card, at);
                       }
                     },
                     "targets"});
  }
}

}  // namespace propwright::sheet
