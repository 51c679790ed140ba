#include "arc.h"

#include <algorithm>
#include <boost/math/special_functions/sinc.hpp>
#include <cmath>

#include "propwright/form/form.h"

namespace propwright::form {
namespace {

/// Half the arc's angle: the tangent at the edge leaves the chord at this angle.
double half_angle_rad(double camber) {
  return 2 * std::atan(2 * camber);
}

/// Height at arc angle a; the difference of cosines as a product, which keeps its digits when flat.
double height_m(double chord_m, double half_rad, double a) {
  return chord_m * std::sin((half_rad - a) / 2) * std::sin((half_rad + a) / 2) / std::sin(half_rad);
}

}  // namespace

double arc_length_m(double chord_m, double camber) {
  return chord_m / boost::math::sinc_pi(half_angle_rad(camber));
}

ArcPoint arc_point(double chord_m, double camber, double t) {
  const double half_rad = half_angle_rad(camber);
  if (half_rad == 0) return {chord_m / 2 * t, 0};
  return {chord_m / 2 * (std::sin(half_rad * t) / std::sin(half_rad)),
          height_m(chord_m, half_rad, half_rad * t)};
}

double arc_height_m(double chord_m, double camber, double along_m) {
  const double half_rad = half_angle_rad(camber);
  if (half_rad == 0 || chord_m <= 0) return 0;
  const double sine = std::clamp(2 * along_m / chord_m, -1.0, 1.0) * std::sin(half_rad);
  return height_m(chord_m, half_rad, std::asin(sine));
}

double arc_share(double chord_m, double camber, double along_m) {
  const double half_rad = half_angle_rad(camber);
  if (half_rad == 0) return 0.5 + along_m / chord_m;
  const double sine = std::clamp(2 * along_m / chord_m * std::sin(half_rad), -1.0, 1.0);
  return 0.5 + std::asin(sine) / (2 * half_rad);
}

}  // namespace propwright::form
