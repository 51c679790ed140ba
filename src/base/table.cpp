#include "propwright/base/table.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

namespace propwright::base {
namespace {

std::string_view trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
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

/// Splits one line; a cell may stand in double quotes to hold the separator itself, and within them
/// a doubled quote is one.
std::vector<std::string> split(std::string_view line, char separator) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += line[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  for (std::string& cell : cells) {
    cell = std::string(trim(cell));
    if (separator == ';') cell = with_point(std::move(cell));
  }
  return cells;
}

/// Where decimals have a comma, spreadsheets part columns by semicolons.
char separator_of(std::string_view header) {
  return header.find(',') == std::string_view::npos && header.find(';') != std::string_view::npos
             ? ';'
             : ',';
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

/// Calls visit(line_number, text) for every line that is neither blank nor a comment.
template <class Visit>
void for_each_line(std::string_view csv, Visit visit) {
  int number = 0;
  // Spreadsheets put a byte order mark before the text.
  if (csv.substr(0, 3) == "\xEF\xBB\xBF") csv.remove_prefix(3);
  while (!csv.empty()) {
    const auto end = csv.find('\n');
    const std::string_view line = trim(csv.substr(0, end));
    csv = end == std::string_view::npos ? std::string_view{} : csv.substr(end + 1);
    ++number;
    if (!line.empty() && line.front() != '#') visit(number, line);
  }
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
  if (found == names_.end() || row >= cells_.size()) return {};
  return cells_[row][static_cast<std::size_t>(found - names_.begin())];
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

}  // namespace

Expected<Table> Table::read(std::string_view csv, const std::vector<ColumnRule>& rules,
                            const std::string& file, bool allow_other_columns) {
  Table table;
  Problems problems;
  bool header_seen = false;
  bool rows_seen = false;
  char separator = ',';
  for_each_line(csv, [&](int line, std::string_view text) {
    if (!header_seen) separator = separator_of(text);
    std::vector<std::string> cells = split(text, separator);
    if (!header_seen) {
      header_seen = true;
      table.names_ = std::move(cells);
      table.numbers_.resize(table.names_.size());
      check_header(table.names_, rules, allow_other_columns, line, file, problems);
      return;
    }
    rows_seen = true;
    if (cells.size() != table.names_.size()) {
      problems.push_back({.file = file,
                          .line = line,
                          .value = cells_word(cells.size()),
                          .allowed = cells_word(table.names_.size()) + ", one per column",
                          .remedy = "complete or remove the row",
                          .message = "the row has the wrong number of cells"});
      return;
    }
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const auto rule = std::find_if(rules.begin(), rules.end(), [&](const ColumnRule& candidate) {
        return candidate.name == table.names_[i];
      });
      const std::optional<double> number = to_number(cells[i]);
      const bool wanted = rule != rules.end();
      if (wanted && (!number || *number < rule->low || *number > rule->high)) {
        problems.push_back({.file = file,
                            .line = line,
                            .field = rule->name,
                            .value = cells[i],
                            .allowed = rule->low > -1e299 || rule->high < 1e299
                                           ? fmt::format("{} to {}", rule->low, rule->high)
                                           : std::string("a number in SI units, without text"),
                            .remedy = "correct the cell",
                            .message = number ? "the value is out of range" : "not a number"});
      }
      table.numbers_[i].push_back(number.value_or(0));
    }
    table.cells_.push_back(std::move(cells));
    table.lines_.push_back(line);
  });
  if (!rows_seen) {
    problems.push_back({.file = file,
                        .allowed = "a header line and at least one row of numbers",
                        .remedy = "check that this is the right file",
                        .message = "no rows found"});
  }
  if (!problems.empty()) return fail(std::move(problems));
  return table;
}

}  // namespace propwright::base
