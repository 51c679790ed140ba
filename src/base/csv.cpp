#include "propwright/base/csv.h"

#include <algorithm>
#include <array>

namespace propwright::base {
namespace {

constexpr std::string_view blanks = " \t\r\v\f";

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

/// Comma, semicolon or tab: what stands most often in the line; the comma where none does.
char commonest_separator(std::string_view line) {
  constexpr std::array marks{',', ';', '\t'};
  return *std::max_element(marks.begin(), marks.end(), [&](char a, char b) {
    return std::count(line.begin(), line.end(), a) < std::count(line.begin(), line.end(), b);
  });
}

bool all_empty(const std::vector<std::string>& cells, std::size_t from) {
  return std::all_of(cells.begin() + static_cast<std::ptrdiff_t>(std::min(from, cells.size())),
                     cells.end(), [](const std::string& cell) { return trimmed(cell).empty(); });
}

/// "#", "# No.", "#nr"
bool names_numbers(std::string_view cell) {
  if (cell.empty() || cell.front() != '#') return false;
  std::string word(trimmed(cell.substr(1)));
  if (word.ends_with('.')) word.pop_back();
  for (char& c : word) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  constexpr std::array<std::string_view, 5> words{"", "no", "nr", "num", "number"};
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// Walks through the text row by row.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {
    // Spreadsheets put a byte order mark before the text.
    if (text_.starts_with("\xEF\xBB\xBF")) text_.remove_prefix(3);
  }

  bool at_end() const { return at_ >= text_.size(); }
  std::string_view line() const { return trimmed(text_.substr(at_, line_end() - at_)); }
  int line_number() const { return line_; }
  int open_quote_line() const { return open_quote_line_; }

  void skip_line() {
    at_ = std::min(line_end() + 1, text_.size());
    ++line_;
  }

  CsvRow row(char separator) {
    CsvRow row{.line = line_, .cells = {}};
    bool more = true;
    while (more) row.cells.push_back(cell(separator, more));
    return row;
  }

 private:
  std::size_t line_end() const { return std::min(text_.find('\n', at_), text_.size()); }

  /// One cell and its separator, or the end of its line: then `more` is false.
  std::string cell(char separator, bool& more) {
    std::string cell;
    bool was_quoted = false;
    std::size_t sure = 0;  // what was in quotes keeps its spaces
    while (at_ < text_.size()) {
      const char c = text_[at_++];
      if (c == '"' && !was_quoted && trimmed(cell).empty()) {
        was_quoted = true;
        cell = quoted();
        sure = cell.size();
      } else if (c == separator) {
        return finished(cell, was_quoted, sure);
      } else if (c == '\n') {
        ++line_;
        more = false;
        return finished(cell, was_quoted, sure);
      } else if (c != '\r') {
        cell += c;
      }
    }
    more = false;
    return finished(cell, was_quoted, sure);
  }

  static std::string finished(const std::string& cell, bool was_quoted, std::size_t sure) {
    if (!was_quoted) return std::string(trimmed(cell));
    const std::string_view rest = std::string_view(cell).substr(sure);
    const auto end = rest.find_last_not_of(blanks);
    return cell.substr(0, sure + (end == std::string_view::npos ? 0 : end + 1));
  }

  /// After a quote that opens, up to the one that closes.
  std::string quoted() {
    std::string inside;
    const int opened = line_;
    while (at_ < text_.size()) {
      const char c = text_[at_++];
      if (c == '"') {
        if (at_ >= text_.size() || text_[at_] != '"') return inside;
        ++at_;
      }
      if (c == '\n') ++line_;
      inside += c;
    }
    open_quote_line_ = opened;
    return inside;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  int open_quote_line_ = 0;
};

/// Headings whose first is "#" over the numbers of the flights.
bool heads_numbers(std::string_view line) {
  Scanner scanner(line);
  const CsvRow row = scanner.row(commonest_separator(line));
  return !all_empty(row.cells, 1) && names_numbers(row.cells.front());
}

}  // namespace

CsvText scan_csv(std::string_view text, CsvRemarks remarks, const std::vector<std::string>& known) {
  CsvText csv;
  Scanner scanner(text);
  const bool by_sense = remarks == CsvRemarks::by_sense;
  bool all_are_remarks = true;
  while (!scanner.at_end()) {
    const bool headings = csv.headings.cells.empty();
    const std::string_view line = scanner.line();
    const bool marked = line.starts_with('#');
    const int number = scanner.line_number();
    const bool remark = marked && (headings ? !by_sense || !heads_numbers(line) : all_are_remarks);
    if (remark) csv.passed_over.push_back(number);
    if (remark || line.empty()) {
      scanner.skip_line();
      continue;
    }
    if (headings) csv.separator = commonest_separator(line);
    CsvRow row = scanner.row(csv.separator);
    if (headings) {
      all_are_remarks =
          !by_sense || std::all_of(row.cells.begin(), row.cells.end(), [&](const auto& cell) {
            return std::find(known.begin(), known.end(), cell) != known.end();
          });
      csv.headings = std::move(row);
    } else if (marked && row.cells.size() > 1 && all_empty(row.cells, 1)) {
      csv.passed_over.push_back(number);
    } else if (marked && row.cells.size() == 1 && csv.headings.cells.size() > 1) {
      csv.passed_over.push_back(number);
    } else if (!by_sense || !all_empty(row.cells, 0)) {
      csv.rows.push_back(std::move(row));
    }
  }
  csv.open_quote_line = scanner.open_quote_line();
  return csv;
}

}  // namespace propwright::base
