#include "plate.h"

#include <cmath>

namespace propwright::section {

PlateForce separated_plate(double alpha_rad, double normal_cd, double friction_cd) {
  const double s = std::sin(alpha_rad);
  const double c = std::cos(alpha_rad);
  const double magnitude = std::abs(s) / (0.222 * std::abs(s) + 0.283);  // Hoerner, unscaled
  const double normal = std::copysign(magnitude * (0.222 + 0.283) * normal_cd, s);
  return {normal * c, normal * s + friction_cd};
}

}  // namespace propwright::section
