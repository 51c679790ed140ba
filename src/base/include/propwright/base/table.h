/// Numeric tables in CSV text: comment lines start with '#', the first other line names the
/// columns. Cells, quotes and remarks as csv.h has them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "propwright/base/csv.h"
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
  /// Reads CSV text (comma-separated, or by semicolons or tabs with decimal commas, whichever
  /// stands most often in the first line; quotes not needed for numbers, LF or CRLF). Every problem
  /// in the text is reported with its line: missing or unknown column, wrong cell count, text that
  /// is no number, value out of range, a quote that nothing closes. `file` is used in the problems
  /// only.
  static Expected<Table> read(std::string_view csv, const std::vector<ColumnRule>& rules,
                              const std::string& file, bool allow_other_columns = false);
  /// Reads a log as a builder keeps it, of which the columns `known` are understood and others are
  /// left alone: a column may be headed "#", and a row may begin with it (CsvRemarks::by_sense).
  /// No number is checked. Problems: wrong cell count, a quote that nothing closes, no rows.
  static Expected<Table> read_log(std::string_view csv, const std::vector<std::string>& known,
                                  const std::string& file);

  std::size_t rows() const { return rows_.size(); }
  const std::vector<std::string>& names() const { return names_; }
  bool has(const std::string& column) const;
  /// The numbers of a column; empty when the table lacks it.
  const std::vector<double>& column(const std::string& name) const;
  /// The text of one cell of any column as it is written, "" when absent.
  std::string text(std::size_t row, const std::string& column) const;
  /// The same without spaces at its ends, and with a decimal point for a decimal comma.
  std::string number_text(std::size_t row, const std::string& column) const;
  /// The cells of a row as they are written.
  const std::vector<std::string>& cells(std::size_t row) const { return rows_[row].cells; }
  int line(std::size_t row) const { return rows_[row].line; }  ///< 1-based line in the file
  /// Lines that were taken for remarks.
  const std::vector<int>& passed_over() const { return passed_over_; }

 private:
  static Expected<Table> of(CsvText csv, const std::vector<ColumnRule>& rules,
                            const std::string& file, bool allow_other_columns);
  void read_numbers(const std::vector<ColumnRule>& rules, const std::string& file,
                    Problems& problems);

  std::vector<std::string> names_;
  std::vector<std::vector<double>> numbers_;
  std::vector<CsvRow> rows_;
  std::vector<int> passed_over_;
  bool decimal_commas_ = false;
};

}  // namespace propwright::base
