/// Small aligned tables for the terminal. Widths count characters, not bytes.
#pragma once

#include <string>
#include <vector>

namespace propwright::desk {

/// Rows of cells under a heading, every column right-aligned but the first.
class TextTable {
 public:
  explicit TextTable(std::vector<std::string> heading) : rows_{std::move(heading)} {}
  TextTable() = default;
  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  /// Lines that end in LF; each begins with two spaces.
  std::string text(bool first_column_right = false) const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

/// Characters of UTF-8 text.
std::size_t width_of(const std::string& utf8);

/// A list of sentences under a heading; "" when there are none.
std::string bullet_list(const std::string& heading, const std::vector<std::string>& sentences);

}  // namespace propwright::desk
