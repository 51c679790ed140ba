#include "propwright/base/table.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

namespace propwright::base {
namespace {

std::string trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

/// "12,5" of a spreadsheet that writes decimals with a comma as "12.5"; other text as it is.
std::string with_point(std::string cell) {
  const auto comma = cell.find(',');
  if (comma == std::string::npos) return cell;
  std::string pointed = cell;
  pointed[comma] = '.';
  double number = 0;
  const bool plus = pointed[0] == '+';
  const char* end = pointed.data() + pointed.size();
  const auto [stop, error] = std::from_chars(pointed.data() + (plus ? 1 : 0), end, number);
  return error == std::errc() && stop == end ? pointed : cell;
}

std::string cells_word(std::size_t count) {
  return fmt::format("{} {}", count, count == 1 ? "cell" : "cells");
}

std::optional<double> to_number(const std::string& text) {
  double number = 0;
  const bool plus = text.size() > 1 && text[0] == '+' && text[1] != '-';
  const char* begin = text.data() + (plus ? 1 : 0);
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(begin, end, number);
  if (error != std::errc() || stop != end || !std::isfinite(number)) return std::nullopt;
  return number;
}

}  // namespace

bool Table::has(const std::string& column) const {
  return std::find(names_.begin(), names_.end(), column) != names_.end();
}

const std::vector<double>& Table::column(const std::string& name) const {
  static const std::vector<double> none;
  const auto found = std::find(names_.begin(), names_.end(), name);
  return found == names_.end() ? none : numbers_[static_cast<std::size_t>(found - names_.begin())];
}

std::string Table::text(std::size_t row, const std::string& column) const {
  const auto found = std::find(names_.begin(), names_.end(), column);
  if (found == names_.end() || row >= rows_.size()) return {};
  return rows_[row].cells[static_cast<std::size_t>(found - names_.begin())];
}

std::string Table::number_text(std::size_t row, const std::string& column) const {
  std::string cell = trim(text(row, column));
  return decimal_commas_ ? with_point(std::move(cell)) : cell;
}

namespace {

void check_header(const std::vector<std::string>& names, const std::vector<ColumnRule>& rules,
                  bool allow_other_columns, int line, const std::string& file, Problems& problems) {
  std::vector<std::string> known;
  known.reserve(rules.size());
  for (const ColumnRule& rule : rules) known.push_back(rule.name);
  for (const ColumnRule& rule : rules) {
    if (rule.required && std::find(names.begin(), names.end(), rule.name) == names.end()) {
      problems.push_back({.file = file,
                          .line = line,
                          .field = rule.name,
                          .allowed = fmt::format("columns {}", fmt::join(known, ", ")),
                          .remedy = "add the column",
                          .message = "this column is missing"});
    }
    if (std::count(names.begin(), names.end(), rule.name) > 1) {
      problems.push_back({.file = file,
                          .line = line,
                          .field = rule.name,
                          .remedy = "remove or rename one of them",
                          .message = "the column is there twice"});
    }
  }
  for (const std::string& name : names) {
    if (allow_other_columns || std::find(known.begin(), known.end(), name) != known.end()) continue;
    const std::string near = nearest_name(name, known);
    problems.push_back({.file = file,
                        .line = line,
                        .field = name,
                        .allowed = fmt::format("columns {}", fmt::join(known, ", ")),
                        .remedy = near.empty() ? std::string("remove or rename the column")
                                               : fmt::format("did you mean {}?", near),
                        .message = "unknown column"});
  }
}

Problem wrong_count(const CsvRow& row, std::size_t columns, const std::string& file) {
  return {.file = file,
          .line = row.line,
          .value = cells_word(row.cells.size()),
          .allowed = cells_word(columns) + ", one per column",
          .remedy = "complete or remove the row",
          .message = "the row has the wrong number of cells"};
}

Problem wrong_number(const ColumnRule& rule, const std::string& cell, bool number, int line,
                     const std::string& file) {
  return {.file = file,
          .line = line,
          .field = rule.name,
          .value = cell,
          .allowed = rule.low > -1e299 || rule.high < 1e299
                         ? fmt::format("{} to {}", rule.low, rule.high)
                         : std::string("a number in SI units, without text"),
          .remedy = "correct the cell",
          .message = number ? "the value is out of range" : "not a number"};
}

}  // namespace

void Table::read_numbers(const std::vector<ColumnRule>& rules, const std::string& file,
                         Problems& problems) {
  std::vector<const ColumnRule*> rule_of;
  rule_of.reserve(names_.size());
  for (const std::string& name : names_) {
    const auto rule = std::find_if(rules.begin(), rules.end(), [&](const ColumnRule& candidate) {
      return candidate.name == name;
    });
    rule_of.push_back(rule == rules.end() ? nullptr : &*rule);
  }
  for (std::size_t row = 0; row < rows_.size(); ++row) {
    for (std::size_t i = 0; i < names_.size(); ++i) {
      std::string cell = trim(rows_[row].cells[i]);
      if (decimal_commas_) cell = with_point(std::move(cell));
      const std::optional<double> number = to_number(cell);
      const ColumnRule* const rule = rule_of[i];
      if (rule != nullptr && (!number || *number < rule->low || *number > rule->high)) {
        problems.push_back(wrong_number(*rule, cell, number.has_value(), rows_[row].line, file));
      }
      numbers_[i].push_back(number.value_or(0));
    }
  }
}

Expected<Table> Table::of(CsvText csv, const std::vector<ColumnRule>& rules,
                          const std::string& file, bool allow_other_columns) {
  Table table;
  Problems problems;
  table.decimal_commas_ = csv.separator != ',';
  table.passed_over_ = std::move(csv.passed_over);
  table.names_.reserve(csv.headings.cells.size());
  for (const std::string& name : csv.headings.cells) table.names_.push_back(trim(name));
  table.numbers_.resize(table.names_.size());
  if (!table.names_.empty()) {
    check_header(table.names_, rules, allow_other_columns, csv.headings.line, file, problems);
  }
  table.rows_.reserve(csv.rows.size());
  for (CsvRow& row : csv.rows) {
    if (row.cells.size() == table.names_.size()) {
      table.rows_.push_back(std::move(row));
    } else {
      problems.push_back(wrong_count(row, table.names_.size(), file));
    }
  }
  table.read_numbers(rules, file, problems);
  std::stable_sort(problems.begin(), problems.end(),
                   [](const Problem& a, const Problem& b) { return a.line < b.line; });
  if (csv.open_quote_line > 0) {
    problems.push_back({.file = file,
                        .line = csv.open_quote_line,
                        .value = "\"",
                        .remedy = "close it at the end of its cell, or double a quote that is text",
                        .message = "a quote opens here and nothing closes it"});
  }
  if (csv.rows.empty()) {
    problems.push_back({.file = file,
                        .allowed = "a header line and at least one row of numbers",
                        .remedy = "check that this is the right file",
                        .message = "no rows found"});
  }
  if (!problems.empty()) return fail(std::move(problems));
  return table;
}

Expected<Table> Table::read(std::string_view csv, const std::vector<ColumnRule>& rules,
                            const std::string& file, bool allow_other_columns) {
  return of(scan_csv(csv), rules, file, allow_other_columns);
}

Expected<Table> Table::read_log(std::string_view csv, const std::vector<std::string>& known,
                                const std::string& file) {
  return of(scan_csv(csv, CsvRemarks::by_sense, known), {}, file, true);
}

}  // namespace propwright::base
