/// Facts of balsa that several files of this module hold numbers against. Private to the module;
/// their home for users is data/balsa.csv.
#pragma once

namespace propwright::bench {

// Natural span of the species: Borrega & Gibson, Mech. Mater. 84 (2015) 75-90, abstract.
inline constexpr double balsa_least_kg_m3 = 60, balsa_greatest_kg_m3 = 380;

inline constexpr double lb_ft3_kg_m3 = 0.45359237 / (0.3048 * 0.3048 * 0.3048);  // exact

}  // namespace propwright::bench
