#include "table.h"

#include <algorithm>

namespace propwright::sheet {
namespace {

constexpr double head_line_mm = 3.8;
constexpr double baseline_share = 0.68;  ///< of the row's height, from its top

std::string after_point(const std::string& number) {
  const std::size_t point = number.find('.');
  return point == std::string::npos ? std::string() : number.substr(point);
}

/// Widest ".34" among the cells of a column.
double widest_fraction(const Canvas& canvas, const std::vector<Row>& rows, std::size_t column) {
  double widest = 0;
  for (const Row& row : rows) {
    if (column >= row.cells.size()) continue;
    const TextStyle style{row.strong ? Face::semibold : Face::sans, text_type_mm, black};
    widest = std::max(widest, canvas.text_width(after_point(row.cells[column]), style));
  }
  return widest;
}

/// Draws a number so that its decimal mark stands `fraction` left of `right`.
void draw_number(Canvas& canvas, double right, double fraction, double baseline,
                 const std::string& number, const TextStyle& style) {
  const double own = canvas.text_width(after_point(number), style);
  canvas.text({right - (fraction - own), baseline}, number, style, Align::right);
}

bool two_lines(const std::vector<Column>& columns) {
  return std::any_of(columns.begin(), columns.end(), [](const Column& column) {
    return column.head.find('\n') != std::string::npos;
  });
}

void draw_head(Canvas& canvas, Point at, const std::vector<Column>& columns) {
  const TextStyle head{Face::sans, small_type_mm, black}, unit{Face::sans, small_type_mm, ink2};
  const double height = table_head_mm(columns);
  double x = at.x;
  for (const Column& column : columns) {
    const Align align = column.is_number ? Align::right : Align::left;
    const double edge = column.is_number ? x + column.width_mm : x;
    // Heads stand on the unit line, so that short ones line up with the last line of long ones.
    const std::size_t end = column.head.find('\n');
    const double unit_line = at.y + height - 2.5;
    const bool two = end != std::string::npos;
    canvas.text({edge, unit_line - head_line_mm}, two ? column.head.substr(end + 1) : column.head,
                head, align);
    if (two) {
      canvas.text({edge, unit_line - 2 * head_line_mm}, column.head.substr(0, end), head, align);
    }
    canvas.text({edge, unit_line}, column.unit, unit, align);
    x += column.width_mm;
  }
  canvas.line({at.x, at.y + height - 0.8}, {x, at.y + height - 0.8}, cut_line());
}

}  // namespace

double table_head_mm(const std::vector<Column>& columns) {
  return 10.5 + (two_lines(columns) ? head_line_mm : 0);
}

double draw_table(Canvas& canvas, Point at, const std::vector<Column>& columns,
                  const std::vector<Row>& rows, double height_of_row_mm) {
  draw_head(canvas, at, columns);
  std::vector<double> fractions;
  double width = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    fractions.push_back(widest_fraction(canvas, rows, i));
    width += columns[i].width_mm;
  }
  double y = at.y + table_head_mm(columns);
  for (const Row& row : rows) {
    const TextStyle style{row.strong ? Face::semibold : Face::sans, text_type_mm, black};
    const double baseline = y + baseline_share * height_of_row_mm;
    double x = at.x;
    for (std::size_t i = 0; i < std::min(columns.size(), row.cells.size()); ++i) {
      if (columns[i].is_number) {
        draw_number(canvas, x + columns[i].width_mm, fractions[i], baseline, row.cells[i], style);
      } else {
        canvas.text({x, baseline}, row.cells[i], style);
      }
      x += columns[i].width_mm;
    }
    y += height_of_row_mm;
    canvas.line({at.x, y}, {at.x + width, y}, grid_line());
  }
  return y;
}

double draw_heading(Canvas& canvas, Point at, double width_mm, const std::string& title) {
  canvas.text({at.x, at.y + 5.2}, title, {Face::serif, head_type_mm, black});
  canvas.line({at.x, at.y + 7.6}, {at.x + width_mm, at.y + 7.6}, rule());
  return at.y + 7.6;
}

double draw_facts(Canvas& canvas, Point at, double width_mm, const std::string& title,
                  const std::vector<Fact>& facts) {
  constexpr double unit_gap_mm = 1.8;
  const TextStyle name{Face::sans, text_type_mm, black};
  const TextStyle number{Face::semibold, text_type_mm, black};
  const TextStyle unit{Face::sans, small_type_mm, ink2};
  double y = draw_heading(canvas, at, width_mm, title) + 0.4;
  double widest_unit = 0, fraction = 0;
  for (const Fact& fact : facts) {
    widest_unit = std::max(widest_unit, canvas.text_width(fact.unit, unit));
    fraction = std::max(fraction, canvas.text_width(after_point(fact.number), number));
  }
  const double edge = at.x + width_mm - widest_unit - unit_gap_mm;
  for (const Fact& fact : facts) {
    const double baseline = y + baseline_share * row_mm;
    canvas.text({at.x, baseline}, fact.name, name);
    draw_number(canvas, edge, fraction, baseline, fact.number, number);
    canvas.text({edge + unit_gap_mm, baseline}, fact.unit, unit);
    y += row_mm;
    canvas.line({at.x, y}, {at.x + width_mm, y}, grid_line());
  }
  return y;
}

}  // namespace propwright::sheet
