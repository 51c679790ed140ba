/// Numeric tables in CSV text: comment lines start with '#', the first other line names the
/// columns.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::base {

/// One column a table must or may have.
struct ColumnRule {
  std::string name;
  bool required = true;
  double low = -1e300;  ///< least allowed value
  double high = 1e300;  ///< greatest allowed value
};

/// A table of numbers. Columns the caller did not ask for are kept as text only.
class Table {
 public:
  /// Reads CSV text (comma-separated, or by semicolons with decimal commas where the first line has
  /// no comma; quotes not needed for numbers, LF or CRLF). Every problem in the text is reported:
  /// missing or unknown column, wrong cell count, text that is no number, value out of range.
  /// `file` is used in the problems only.
  static Expected<Table> read(std::string_view csv, const std::vector<ColumnRule>& rules,
                              const std::string& file, bool allow_other_columns = false);

  std::size_t rows() const { return lines_.size(); }
  const std::vector<std::string>& names() const { return names_; }
  bool has(const std::string& column) const;
  /// The numbers of a column; empty when the table lacks it.
  const std::vector<double>& column(const std::string& name) const;
  /// The text of one cell of any column, "" when absent.
  std::string text(std::size_t row, const std::string& column) const;
  int line(std::size_t row) const { return lines_[row]; }  ///< 1-based line in the file

 private:
  std::vector<std::string> names_;
  std::vector<std::vector<double>> numbers_;
  std::vector<std::vector<std::string>> cells_;
  std::vector<int> lines_;
};

}  // namespace propwright::base
