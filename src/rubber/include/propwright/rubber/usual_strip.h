/// What rubber strip usually is, where nothing was measured: the one home of these figures.
#pragma once

namespace propwright::rubber {

/// 0.041 in; builders' archive: 0.039 to 0.042 in, 0.99 to 1.07 mm.
inline constexpr double usual_strip_thickness_m = 1.04e-3;
/// Raw natural rubber, polymer handbook page; vulcanised, unfilled about 950.
inline constexpr double usual_rubber_density_kg_m3 = 930;

}  // namespace propwright::rubber
