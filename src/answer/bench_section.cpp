#include "bench_section.h"

namespace propwright::answer {
namespace {

using spar::Shape;

Shape section_shape(const std::string& word) {
  if (word == "rectangular") return Shape::rectangular;
  if (word == "round") return Shape::round;
  if (word == "rounded square") return Shape::rounded_square;
  return Shape::square;
}

}  // namespace

std::optional<spar::Taper> read_taper(BenchReader& reader, double length_m) {
  const Shape shape =
      section_shape(reader.word("shape", {"square", "rectangular", "round", "rounded square"}));
  const double corner_m = reader.length("corner_radius", {0, 0.01}).value_or(0);
  spar::Section root{shape, reader.needed("root_width", units::Dimension::length, bench_small_m), 0,
                     corner_m};
  root.depth_m = reader.length("root_depth", bench_small_m).value_or(root.width_m);
  spar::Section tip = root;
  tip.width_m = reader.length("tip_width", bench_small_m).value_or(root.width_m);
  tip.depth_m = reader.length("tip_depth", bench_small_m)
                    .value_or(reader.has("tip_width") ? tip.width_m : root.depth_m);
  if (!reader.problems().empty()) return std::nullopt;
  return spar::taper(root, std::nullopt, tip, length_m);
}

}  // namespace propwright::answer
