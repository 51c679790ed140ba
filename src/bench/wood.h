/// Facts of balsa that several files of this module hold numbers against. Private to the module;
/// their home for users is data/balsa.csv.
#pragma once

#include "propwright/spar/reduce.h"

namespace propwright::bench {

inline constexpr double balsa_least_kg_m3 = spar::least_density_kg_m3,
                        balsa_greatest_kg_m3 = spar::most_density_kg_m3;

inline constexpr double lb_ft3_kg_m3 = 0.45359237 / (0.3048 * 0.3048 * 0.3048);  // exact

}  // namespace propwright::bench
