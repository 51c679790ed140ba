#include <fmt/format.h>

#include <algorithm>

#include "form_pages.h"
#include "quantity.h"
#include "table.h"

namespace propwright::sheet {
namespace {

/// The print unit of a measure; nothing for words, counts and shares.
const PrintUnit* unit_of(Measure measure, const PrintUnits& units) {
  switch (measure) {
    case Measure::radius:
      return &units.radius;
    case Measure::length:
      return &units.length;
    case Measure::stock:
      return &units.stock;
    case Measure::pitch:
      return &units.pitch;
    case Measure::angle:
      return &units.angle;
    case Measure::part_mass:
      return &units.part_mass;
    case Measure::word:
    case Measure::count:
    case Measure::percent:
    case Measure::area:
      break;
  }
  return nullptr;
}

constexpr double table_words_line_mm = 4.4;
constexpr double table_gap_mm = 9;

double words_height(const Canvas& measure, double width, const std::string& words) {
  if (words.empty()) return 0;
  return measure.paragraph_height(width, words, {Face::sans, 3.1, ink2}, table_words_line_mm) + 1;
}

double head_height(const Canvas& measure, double width, const FormTable& table) {
  return 8 + words_height(measure, width, table.words);
}

constexpr double most_number_mm = 26, before_words_mm = 5;

/// Words stand clear of a number on their left.
bool clears_number(const FormTable& table, std::size_t column) {
  return column > 0 && table.columns[column].measure == Measure::word &&
         table.columns[column - 1].measure != Measure::word;
}

std::vector<Column> print_columns(const FormTable& table, units::Profile profile, double width) {
  // Numbers take what they need, words share the rest.
  double words = 0, gaps = 0;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    words += table.columns[i].measure == Measure::word ? 1 : 0;
    gaps += clears_number(table, i) ? before_words_mm : 0;
  }
  const double numbers = static_cast<double>(table.columns.size()) - words;
  const double number_mm =
      std::min(words > 0 ? 20.0 : most_number_mm, (width - gaps) / std::max(1.0, numbers));
  const double word_mm = (width - gaps - numbers * number_mm) / std::max(1.0, words);
  std::vector<Column> columns;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const auto& column = table.columns[i];
    const bool word = column.measure == Measure::word;
    if (clears_number(table, i)) {
      columns.push_back({.head = "", .unit = "", .width_mm = before_words_mm, .is_number = false});
    }
    // The last words have the longest sentences.
    const double share = words < 2 ? 1 : i + 1 == table.columns.size() ? 1.5 : 0.5;
    columns.push_back({.head = column.head,
                       .unit = measure_unit(column.measure, profile),
                       .width_mm = word ? share * word_mm : number_mm,
                       .is_number = !word});
  }
  return columns;
}

double draw_form_table(Canvas& canvas, const Setting& setting, const FormTable& table, double y,
                       std::size_t first, std::size_t last) {
  const Box& body = setting.body;
  canvas.text({body.x, y + 5}, table.title, {Face::serif, head_type_mm, black});
  y += 8;
  if (!table.words.empty()) {
    y += canvas.paragraph({body.x, y + 2.5}, body.width, table.words, {Face::sans, 3.1, ink2},
                          table_words_line_mm) +
         1;
  }
  const units::Profile profile = setting.options.profile;
  std::vector<Row> rows;
  for (std::size_t i = first; i < last; ++i) {
    Row row{{}, static_cast<int>(i) == table.strong_row};
    for (std::size_t j = 0; j < table.columns.size(); ++j) {
      if (clears_number(table, j)) row.cells.emplace_back();
      row.cells.push_back(cell_text(table.rows[i][j], table.columns[j].measure, profile));
    }
    rows.push_back(std::move(row));
  }
  return draw_table(canvas, {body.x, y}, print_columns(table, profile, body.width), rows);
}

/// Part of a table on a page.
struct TablePiece {
  const FormTable* table = nullptr;
  std::size_t first = 0, last = 0;
  double y = 0;
};

}  // namespace

std::string measure_unit(Measure measure, units::Profile profile) {
  if (measure == Measure::percent) return "%";
  if (measure == Measure::area) return profile == units::Profile::inch ? "in²" : "cm²";
  const PrintUnits units(profile);
  const PrintUnit* unit = unit_of(measure, units);
  return unit ? unit->symbol() : "";
}

std::string cell_text(const FormCell& cell, Measure measure, units::Profile profile) {
  if (!cell.word.empty() || measure == Measure::word) return cell.word;
  switch (measure) {
    case Measure::count:
      return whole_number(cell.value);
    case Measure::percent:
      return fixed(100 * cell.value, 2);
    case Measure::area:
      return units::print_in(cell.value, units::Dimension::area,
                             profile == units::Profile::inch ? "in2" : "cm2", 1)
          .number;
    default:
      break;
  }
  const PrintUnits units(profile);
  return unit_of(measure, units)->number(cell.value);
}

void add_table_pages(const Setting& setting, const Canvas& measure,
                     const std::vector<FormTable>& tables, double first_top, Pages& pages,
                     std::vector<std::function<void(Canvas&)>>& on_first) {
  const Box& body = setting.body;
  std::vector<std::vector<TablePiece>> sheets(1);
  double y = first_top;
  for (const FormTable& table : tables) {
    const double head = head_height(measure, body.width, table) +
                        table_head_mm(print_columns(table, setting.options.profile, body.width));
    std::size_t first = 0;
    do {
      const std::size_t left = table.rows.size() - first;
      const double room = body.bottom() - y - head;
      const bool starts_page = y <= body.y + 1;
      // A table broken after its first rows reads badly: it goes over whole where it can.
      const std::size_t least = std::min<std::size_t>(left, 4);
      if (!starts_page && room < static_cast<double>(least) * row_mm) {
        sheets.emplace_back();
        y = body.y;
        continue;
      }
      const auto fit = static_cast<std::size_t>(std::max(1.0, room / row_mm));
      const std::size_t last = first + std::min(left, fit);
      sheets.back().push_back({&table, first, last, y});
      y += head + static_cast<double>(last - first) * row_mm + table_gap_mm;
      first = last;
    } while (first < table.rows.size());
  }
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const auto draw = [&setting, pieces = sheets[i]](Canvas& canvas) {
      for (const TablePiece& piece : pieces) {
        draw_form_table(canvas, setting, *piece.table, piece.y, piece.first, piece.last);
      }
    };
    if (i == 0) {
      on_first.emplace_back(draw);
    } else {
      pages.push_back({fmt::format("tables {}", i + 1), draw, "tables"});
    }
  }
}

}  // namespace propwright::sheet
