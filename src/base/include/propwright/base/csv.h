/// The rows of CSV text as they are written: cells with quotes as RFC 4180 has them (a quoted cell
/// may hold the separator, line breaks and spaces at its ends; a doubled quote in it is one), LF or
/// CRLF, a byte order mark or none. Nothing is read as a number here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace propwright::base {

struct CsvRow {
  int line = 0;  ///< 1-based line of the text that it begins on
  std::vector<std::string> cells;
};

struct CsvText {
  /// ',' or ';' or a tab: what stands most often in the line of the headings.
  char separator = ',';
  CsvRow headings;  ///< without cells: there is no table in the text
  std::vector<CsvRow> rows;
  std::vector<int> passed_over;  ///< lines that were taken for remarks
  int open_quote_line = 0;       ///< where a quote opens that nothing closes; 0 = none
};

/// Which lines that begin with # are remarks.
enum class CsvRemarks {
  all,  ///< every one
  /// As in a log that a builder keeps in columns of their own: above the headings those that are
  /// not themselves headings ("#" or "# No." over the numbers of the flights); below them those
  /// that have nothing but their first cell, and all where every heading is one of `known`.
  by_sense,
};

/// Cuts CSV text into rows. Blank lines are left out, with `by_sense` also rows of empty cells.
/// Cells without quotes lose the spaces at their ends, quoted ones keep them.
CsvText scan_csv(std::string_view text, CsvRemarks remarks = CsvRemarks::all,
                 const std::vector<std::string>& known = {});

}  // namespace propwright::base
