/// The default tables and fonts that travel inside the program (the folder data/).
#pragma once

#include <string_view>
#include <vector>

namespace propwright::data {

/// The bytes of an embedded file by its path below data/, e.g. "polars/thin_arc_ns2d.csv".
/// Every table starts with '#' lines that name its source. The view lives as long as the program.
/// An unknown name is a bug and throws std::out_of_range.
std::string_view file(std::string_view name);

/// The names of all embedded files, in the order of the build.
std::vector<std::string_view> names();

}  // namespace propwright::data
