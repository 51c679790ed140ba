#include "page.h"

#include <fmt/format.h>

#include <algorithm>

#include "cautions.h"
#include "propwright/base/constants.h"

namespace propwright::sheet {
namespace {

constexpr double side_mm = 15, top_mm = 14, bottom_mm = 10;
constexpr double block_mm = 14.5, above_block_mm = 5;
constexpr double line_of_text_mm = 4.7, line_of_small_mm = 4.1;
constexpr double caution_indent_mm = 3.2;

const TextStyle caution_style{Face::sans, 3.0, black};

struct PaperSize {
  double width_mm, height_mm;
};

PaperSize size_of(Paper paper) {
  return paper == Paper::a4 ? PaperSize{210, 297} : PaperSize{215.9, 279.4};
}

}  // namespace

double print_scale(const PacketOptions& options) {
  constexpr double bar_m = 0.1;
  return options.bar_measured_m ? bar_m / *options.bar_measured_m : 1;
}

Setting::Setting(const PacketData& packet, const PacketOptions& chosen)
    : data(packet), options(chosen), units(chosen.profile), scale(print_scale(chosen)) {
  const PaperSize size = size_of(chosen.paper);
  width_mm = size.width_mm;
  height_mm = size.height_mm;
  body = {side_mm, top_mm, width_mm - 2 * side_mm,
          height_mm - top_mm - bottom_mm - block_mm - above_block_mm};
}

namespace {

struct Cell {
  std::string name, words;
};

std::vector<Cell> block_cells(const Setting& setting, const std::string& sheet, int page,
                              int pages) {
  const JobLine& job = setting.data.job;
  Cell subject{setting.subject.name, setting.subject.words};
  if (subject.name.empty()) {
    subject = {"design", fmt::format("{}, version {}", job.design, job.version)};
  }
  return {subject,
          {"sheet", sheet},
          {"date", date_text(setting.options.date)},
          {"page", fmt::format("{} of {}", page, pages)}};
}

void draw_cell(Canvas& canvas, const Box& box, const Cell& cell) {
  TextStyle words{Face::semibold, strong_type_mm, black};
  const double width = canvas.text_width(cell.words, words), room = box.width - 4;
  // A long name is set smaller, down to the least readable size, and then cut.
  if (width > room) words.size_mm = std::max(small_type_mm, words.size_mm * room / width);
  const Canvas::Scope scope(canvas, {box.x, box.y, box.width - 1, box.height}, {0, 0});
  canvas.text({box.x + 2.2, box.y + 4.6}, cell.name, {Face::sans, small_type_mm, ink2});
  canvas.text({box.x + 2.2, box.y + 10.6}, cell.words, words);
}

}  // namespace

void draw_title_block(Canvas& canvas, const Setting& setting, const std::string& sheet, int page,
                      int pages) {
  const Box block{side_mm, setting.height_mm - bottom_mm - block_mm, setting.body.width, block_mm};
  canvas.frame(block, cut_line());
  constexpr double ends[] = {0, 0.36, 0.70, 0.87, 1};
  const std::vector<Cell> cells = block_cells(setting, sheet, page, pages);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double x = block.x + ends[i] * block.width, width = (ends[i + 1] - ends[i]) * block.width;
    if (i > 0) canvas.line({x, block.y}, {x, block.bottom()}, hairline());
    draw_cell(canvas, {x, block.y, width, block.height}, cells[i]);
  }
}

void draw_upright_block(Canvas& canvas, const Setting& setting, const Box& column,
                        const std::string& sheet, int page, int pages) {
  const std::vector<Cell> cells = block_cells(setting, sheet, page, pages);
  const double cell = upright_block_mm / static_cast<double>(cells.size());
  const Box block{column.x, column.bottom() - upright_block_mm, column.width, upright_block_mm};
  canvas.frame(block, cut_line());
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double y = block.y + static_cast<double>(i) * cell;
    if (i > 0) canvas.line({block.x, y}, {block.right(), y}, hairline());
    draw_cell(canvas, {block.x, y, block.width, cell}, cells[i]);
  }
}

double draw_title(Canvas& canvas, const Setting& setting, const std::string& title,
                  const std::string& words) {
  const Box& body = setting.body;
  canvas.text({body.x, body.y + 7.5}, title, {Face::serif, title_type_mm, black});
  if (words.empty()) return body.y + 11;
  return body.y + 10 +
         canvas.paragraph({body.x, body.y + 14}, body.width, words, {}, line_of_text_mm);
}

double title_height(const Canvas& canvas, const Setting& setting, const std::string& words) {
  if (words.empty()) return 11;
  return 10 + canvas.paragraph_height(setting.body.width, words, {}, line_of_text_mm);
}

double draw_reading(Canvas& canvas, Point at, double width_mm, const std::string& words) {
  const TextStyle style{Face::sans, 3.1, ink2};
  return at.y + canvas.paragraph(at, width_mm, words, style, line_of_small_mm);
}

double cautions_height(const Canvas& canvas, double width_mm,
                       const std::vector<std::string>& cautions) {
  double height = 1.2;
  const double width = width_mm - caution_indent_mm;
  for (const std::string& words : cautions) {
    height += canvas.paragraph_height(width, words, caution_style, line_of_small_mm);
  }
  return height + canvas.paragraph_height(width, cautions::defer, caution_style, line_of_small_mm);
}

double draw_cautions(Canvas& canvas, Point at, double width_mm,
                     const std::vector<std::string>& cautions) {
  double y = at.y + 3.4;
  const double x = at.x + caution_indent_mm, width = width_mm - caution_indent_mm;
  for (const std::string& words : cautions) {
    y += canvas.paragraph({x, y}, width, words, caution_style, line_of_small_mm);
  }
  y += canvas.paragraph({x, y}, width, cautions::defer, caution_style, line_of_small_mm);
  const double bottom = at.y + cautions_height(canvas, width_mm, cautions);
  canvas.fill(Box{at.x, at.y, bar_mm, bottom - at.y}, black);
  return bottom;
}

namespace {

struct BarScale {
  double unit_mm;
  int units, parts_per_unit, number_every, number_step;
  const char* name;
};

void draw_bar(Canvas& canvas, Point zero, double scale, const BarScale& bar) {
  constexpr double long_mm = 3.2, middle_mm = 2.2, short_mm = 1.4;
  const TextStyle number{Face::sans, small_type_mm, black};
  const double step = bar.unit_mm * scale / bar.parts_per_unit;
  const int parts = bar.units * bar.parts_per_unit;
  canvas.line(zero, {zero.x + parts * step, zero.y}, hairline());
  for (int i = 0; i <= parts; ++i) {
    const double x = zero.x + i * step;
    const bool whole = i % bar.parts_per_unit == 0;
    const bool numbered = whole && (i / bar.parts_per_unit) % bar.number_every == 0;
    canvas.line({x, zero.y},
                {x, zero.y - (numbered ? long_mm
                              : whole  ? middle_mm
                                       : short_mm)},
                hairline());
    if (!numbered) continue;
    canvas.text({x, zero.y - long_mm - 1},
                fmt::format("{}", i / bar.parts_per_unit * bar.number_step), number, Align::centre);
  }
  canvas.text({zero.x + parts * step + 2.2, zero.y}, bar.name,
              {Face::semibold, small_type_mm, black});
}

}  // namespace

void draw_scale_bars(Canvas& canvas, Point at, double scale) {
  draw_bar(canvas, {at.x + 1, at.y + 8}, scale, {10, 10, 2, 5, 10, "100 mm"});
  draw_bar(canvas, {at.x + 1, at.y + 19.5}, scale, {25.4, 4, 8, 1, 1, "4 in"});
}

void draw_upright_bars(Canvas& canvas, Point at, double scale) {
  const Canvas::Turn turn(canvas, at, base::pi / 2);
  draw_scale_bars(canvas, {0, 0}, scale);
}

double draw_bar_words(Canvas& canvas, Point at, double width_mm, const PacketOptions& options) {
  const TextStyle strong{Face::semibold, text_type_mm, black}, plain{Face::sans, 3.1, black};
  double y = at.y;
  y += canvas.paragraph({at.x, y}, width_mm, "Measure both bars before cutting.", strong,
                        line_of_small_mm + 0.2);
  std::string words = "Short or long by 0.5 mm: print again at 100 %, no fitting to the page.";
  if (options.bar_measured_m) {
    const PrintUnit mm{units::Dimension::length, "mm", 2};
    words = "Drawn for a printer whose bar came out " + mm.text(*options.bar_measured_m) +
            " long. Off by 0.5 mm now: print again on that printer, same setting.";
  }
  return y + canvas.paragraph({at.x, y}, width_mm, words, plain, line_of_small_mm);
}

void draw_blank(Canvas& canvas, Point at, double width_mm, const std::string& words,
                double words_mm) {
  canvas.text(at, words, {});
  canvas.line({at.x + words_mm, at.y + 0.8}, {at.x + width_mm, at.y + 0.8}, hairline());
}

std::string hand_text(form::Hand hand) {
  return hand == form::Hand::clockwise ? "clockwise" : "anticlockwise";
}

void fitted_text(Canvas& canvas, Point at, double room_mm, std::string words, TextStyle style) {
  const double width = canvas.text_width(words, style);
  if (width > room_mm) style.size_mm = std::max(small_type_mm, style.size_mm * room_mm / width);
  const std::string more = "\u2026";
  if (canvas.text_width(words, style) > room_mm) {
    do {
      // Whole characters: the bytes that continue one go with it.
      while (!words.empty() && (static_cast<unsigned char>(words.back()) & 0xc0) == 0x80) {
        words.pop_back();
      }
      if (!words.empty()) words.pop_back();
    } while (!words.empty() && canvas.text_width(words + more, style) > room_mm);
    words += more;
  }
  canvas.text(at, words, style);
}

}  // namespace propwright::sheet
