/// Tables with numbers aligned on the decimal mark.
#pragma once

#include <string>
#include <vector>

#include "canvas.h"

namespace propwright::sheet {

struct Column {
  std::string head, unit;  ///< head may have a second line after '\n'
  double width_mm = 18;
  bool is_number = true;  ///< aligned on the decimal mark at the right; else words at the left
};
struct Row {
  std::vector<std::string> cells;
  bool strong = false;
};

inline constexpr double row_mm = 6.2;
/// Height of the head: one more line where any column's head has two.
double table_head_mm(const std::vector<Column>& columns);

/// Draws the table with its top left corner at `at`; returns the y below it.
double draw_table(Canvas& canvas, Point at, const std::vector<Column>& columns,
                  const std::vector<Row>& rows, double height_of_row_mm = row_mm);

struct Fact {
  std::string name, number, unit;
};
/// A headed list of name, number, unit; returns the y below it.
double draw_facts(Canvas& canvas, Point at, double width_mm, const std::string& title,
                  const std::vector<Fact>& facts);

/// A section heading over a rule; returns the y below it.
double draw_heading(Canvas& canvas, Point at, double width_mm, const std::string& title);

}  // namespace propwright::sheet
