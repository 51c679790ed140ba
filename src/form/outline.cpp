/// Blade outlines: the parametric shape and tables of chords.
#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/form/form.h"

namespace propwright::form {
namespace {

OutlineRow row_of(double radius_m, double chord_m, double spar_position) {
  const double lead_m = spar_position * chord_m;
  return {radius_m, chord_m, lead_m, chord_m - lead_m};
}

base::Problems check_shape(const OutlineShape& shape, int count) {
  base::Problems problems;
  const auto check = [&](const char* field, double value, double low, double high,
                         const char* remedy) {
    if (value >= low && value <= high) return;
    problems.push_back({.field = field,
                        .value = fmt::format("{:g}", value),
                        .allowed = fmt::format("{:g} to {:g}", low, high),
                        .remedy = remedy,
                        .message = "no blade has such an outline"});
  };
  check("tip_radius_m", shape.tip_radius_m, 0.01, 1, "give half the propeller's diameter");
  const double tip_m = shape.tip_radius_m;
  if (!(tip_m > 0)) return problems;
  check("root_radius_m", shape.root_radius_m, 0, 0.9 * tip_m,
        "give the radius where the blade begins");
  check("widest_at", shape.widest_at, shape.root_radius_m / tip_m + 0.02, 0.98,
        "give the widest place as a fraction of the tip radius");
  check("widest_chord_m", shape.widest_chord_m, 1e-4, 2 * tip_m, "give the greatest chord");
  check("root_chord_m", shape.root_chord_m, 1e-5, shape.widest_chord_m,
        "give the chord at the root, at most the widest");
  check("tip_roundness", shape.tip_roundness, 0.1, 2, "give 0.5 for a rounded tip");
  check("spar_position", shape.spar_position, 0, 1, "give a fraction of the chord");
  check("count", count, 3, 2000, "ask for about 40 rows");
  return problems;
}

}  // namespace

double outline_chord_m(const OutlineShape& shape, double radius_m) {
  const double tip_m = shape.tip_radius_m;
  const double widest_m = shape.widest_at * tip_m;
  if (radius_m >= tip_m) return 0;
  if (radius_m >= widest_m) {
    const double t = (radius_m - widest_m) / (tip_m - widest_m);
    return shape.widest_chord_m * std::pow((1 - t) * (1 + t), shape.tip_roundness);
  }
  if (radius_m <= shape.root_radius_m) return shape.root_chord_m;
  const double v = (widest_m - radius_m) / (widest_m - shape.root_radius_m);
  return shape.root_chord_m * v * v + shape.widest_chord_m * (1 - v * v);
}

base::Expected<std::vector<OutlineRow>> outline(const OutlineShape& shape, int count) {
  auto problems = check_shape(shape, count);
  if (!problems.empty()) return base::fail(std::move(problems));
  std::vector<OutlineRow> rows;
  const double length_m = shape.tip_radius_m - shape.root_radius_m;
  for (int i = 0; i < count; ++i) {
    const bool last = i + 1 == count;
    const double radius_m =
        last ? shape.tip_radius_m
             : shape.root_radius_m + length_m * std::sin(base::pi / 2 * i / (count - 1));
    rows.push_back(row_of(radius_m, outline_chord_m(shape, radius_m), shape.spar_position));
  }
  return rows;
}

std::vector<OutlineRow> outline_from_chords(const std::vector<double>& radii_m,
                                            const std::vector<double>& chords_m,
                                            double spar_position) {
  if (radii_m.size() != chords_m.size()) {
    throw std::invalid_argument("outline_from_chords: as many chords as radii are needed");
  }
  std::vector<OutlineRow> rows;
  for (std::size_t i = 0; i < radii_m.size(); ++i) {
    rows.push_back(row_of(radii_m[i], chords_m[i], spar_position));
  }
  return rows;
}

}  // namespace propwright::form
