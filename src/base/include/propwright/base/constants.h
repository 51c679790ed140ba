/// Physical and mathematical constants, each once, with its source.
#pragma once

namespace propwright::base {

inline constexpr double pi = 3.14159265358979323846;
inline constexpr double gravity_m_s2 = 9.80665;  ///< standard gravity; 3rd CGPM, 1901, adopted
inline constexpr double degree_rad = pi / 180.0;

}  // namespace propwright::base
