/// The tapered section of a spar as it is written at the bench.
#pragma once

#include "bench_reader.h"
#include "propwright/spar/section.h"

namespace propwright::answer {

inline const std::vector<std::string> bench_section_members{
    "shape", "root_width", "root_depth", "tip_width", "tip_depth", "corner_radius"};

/// Root and tip over `length_m`; depth is the width and the tip is the root where they are left
/// out. Nothing, with problems, where the root's width is wanting.
std::optional<spar::Taper> read_taper(BenchReader& reader, double length_m);

/// Names of a taper's members in the question.
inline const std::vector<std::pair<std::string_view, std::string_view>> bench_taper_names{
    {"width_root_m", "root_width"}, {"depth_root_m", "root_depth"}, {"width_tip_m", "tip_width"},
    {"depth_tip_m", "tip_depth"},   {"width_mid_m", "root_width"},  {"depth_mid_m", "root_depth"}};

}  // namespace propwright::answer
