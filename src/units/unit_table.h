/// The units each dimension accepts. Private to the module.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "conversion.h"
#include "propwright/units/units.h"

namespace propwright::units {

/// One unit of one dimension.
struct Unit {
  Dimension dimension;
  std::string typed;    ///< ASCII, as a user types it: "kg/m3"; "" for the pure number
  std::string display;  ///< as it is printed: "kg/m³"
  Conversion conversion;
};

/// "length", "energy per mass" ...
std::string dimension_name(Dimension dimension);

/// The unit of `dimension` with this spelling, or null. Spaces, points, hyphens and middle dots
/// between unit symbols mean the same.
const Unit* find_unit(std::string_view spelling, Dimension dimension);

/// The names of all dimensions that know this spelling: "pressure or modulus"; "" when none does.
std::string dimensions_of(std::string_view spelling);

/// The unit a dimension's SI numbers are in.
const Unit& si_unit(Dimension dimension);

/// The units of a dimension in the order in which they are offered.
std::vector<const Unit*> units_of(Dimension dimension);

/// Every spelling of a dimension, for "did you mean".
std::vector<std::string> spellings_of(Dimension dimension);

}  // namespace propwright::units
