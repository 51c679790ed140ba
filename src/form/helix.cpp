/// The helix and the re-set blade.
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/form.h"

namespace propwright::form {

double blade_angle_rad(double pitch_m, double radius_m) {
  return std::atan(pitch_m / (2 * base::pi * radius_m));
}

double local_pitch_m(double angle_rad, double radius_m) {
  return 2 * base::pi * radius_m * std::tan(angle_rad);
}

double radius_45deg_m(double pitch_m) {
  return pitch_m / (2 * base::pi);
}

Reset reset_turn(double form_pitch_m, double set_pitch_m, double gauge_radius_m) {
  return {blade_angle_rad(set_pitch_m, gauge_radius_m) -
          blade_angle_rad(form_pitch_m, gauge_radius_m)};
}

double reset_angle_rad(double form_pitch_m, const Reset& reset, double radius_m) {
  return blade_angle_rad(form_pitch_m, radius_m) + reset.turn_rad;
}

}  // namespace propwright::form
