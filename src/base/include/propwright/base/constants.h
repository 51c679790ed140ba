/// Physical and mathematical constants, each once, with its source.
#pragma once

namespace propwright::base {

inline constexpr double pi = 3.14159265358979323846;
inline constexpr double gravity_m_s2 = 9.80665;  ///< standard gravity; 3rd CGPM, 1901, adopted
inline constexpr double degree_rad = pi / 180.0;
inline constexpr double celsius_0_K = 273.15;  ///< 0 degC; SI Brochure, 9th edition, 2.3.1

}  // namespace propwright::base
