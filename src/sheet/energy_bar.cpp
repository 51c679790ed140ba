#include "energy_bar.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace propwright::sheet {
namespace {

constexpr double bar_height_mm = 7;
constexpr double least_letter_mm = 3;  ///< narrower segments carry no letter

Colour hue_of(EnergyOwner owner) {
  switch (owner) {
    case EnergyOwner::motor:
      return motor_hue;
    case EnergyOwner::propeller:
      return blade_hue;
    case EnergyOwner::airframe:
      return rgb(0x3a3b36);
    case EnergyOwner::other:
      break;
  }
  return rgb(0x8a877c);
}

std::string letter(std::size_t index) {
  return std::string(1, static_cast<char>('a' + index % 26));
}

/// What the bar is long: negative parts cannot be drawn.
double drawn_J(const std::vector<EnergyPart>& parts) {
  double sum = 0;
  for (const EnergyPart& part : parts) sum += std::max(0.0, part.energy_J);
  return sum;
}

/// What the parts add to, signed: all the motor gives.
double sum_J(const std::vector<EnergyPart>& parts) {
  double sum = 0;
  for (const EnergyPart& part : parts) sum += part.energy_J;
  return sum;
}

void draw_segments(Canvas& canvas, const std::vector<EnergyPart>& parts, const Box& bar) {
  const double total = drawn_J(parts);
  double x = bar.x;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const double width = bar.width * std::max(0.0, parts[i].energy_J) / total;
    canvas.fill(Box{x, bar.y, width, bar.height}, hue_of(parts[i].owner));
    if (x > bar.x) canvas.line({x, bar.y}, {x, bar.bottom()}, {0.4, white, {}});
    if (width >= least_letter_mm) {
      canvas.text({x + width / 2, bar.y + bar.height / 2 + 1}, letter(i),
                  {Face::semibold, text_type_mm, white}, Align::centre);
    }
    x += width;
  }
}

void draw_part(Canvas& canvas, const EnergyPart& part, std::size_t index, double total,
               const Box& cell) {
  canvas.fill(Box{cell.x, cell.y - 2.2, 2.4, 2.4}, hue_of(part.owner));
  canvas.text({cell.x + 4, cell.y}, letter(index), {Face::semibold, small_type_mm, black});
  canvas.text({cell.x + 7, cell.y}, part.label, small_text);
  canvas.text({cell.right() - 12, cell.y}, fixed(part.energy_J, 2), small_text, Align::right);
  canvas.text({cell.right() - 4, cell.y}, fixed(100 * part.energy_J / total, 0), small_text,
              Align::right);
  canvas.text({cell.right() - 3.2, cell.y}, "%", {Face::sans, small_type_mm, ink2});
}

}  // namespace

double draw_energy(Canvas& canvas, const Setting& setting, const Box& at) {
  const std::vector<EnergyPart>& parts = setting.data.energy;
  const double total = sum_J(parts);
  double y = at.y + 5;
  if (!(total > 0)) return y;
  const TextStyle strong{Face::semibold, small_type_mm, black};
  const std::string title = "Where the energy goes ";
  canvas.text({at.x, y}, title, strong);
  canvas.text({at.x + canvas.text_width(title, strong), y},
              "J and share of what the motor gives from breaking turns",
              {Face::sans, small_type_mm, ink2});
  y += 2.4;
  draw_segments(canvas, parts, {at.x, y, at.width, bar_height_mm});
  y += bar_height_mm + 5;
  constexpr std::size_t columns = 3;
  constexpr double gutter_mm = 8;
  const double width = (at.width - (columns - 1) * gutter_mm) / columns;
  const std::size_t rows = (parts.size() + columns - 1) / columns;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::size_t column = i / rows, row = i % rows;
    draw_part(canvas, parts[i], i, total,
              {at.x + static_cast<double>(column) * (width + gutter_mm),
               y + 4.6 * static_cast<double>(row), width, 0});
  }
  return y + 4.6 * static_cast<double>(rows);
}

}  // namespace propwright::sheet
