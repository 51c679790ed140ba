/// What names that end in an SI unit measure: "rested_length_m", "launch_torque_Nm".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "propwright/base/problem.h"
#include "propwright/units/units.h"

namespace propwright::answer {

struct SiName {
  std::string_view stem;  ///< "rested_length"
  units::Dimension dimension;
};
/// Nothing for a name without a unit.
std::optional<SiName> si_name(std::string_view name);

/// A problem's bare numbers with their units, where its field's name tells one: value "0.9144" of
/// "length_m" becomes "0.9144 m", allowed "1.5 to 200" becomes "1.5 m to 200 m", in a natural unit.
void give_units(base::Problem& problem);

}  // namespace propwright::answer
