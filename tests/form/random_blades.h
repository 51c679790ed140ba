/// Random outlines and angles for the laws of the form.
#pragma once

#include <rapidcheck/gtest.h>

#include "propwright/base/constants.h"
#include "propwright/form/form.h"

namespace propwright::form {

/// A number between two, evenly spread.
inline rc::Gen<double> between(double low, double high) {
  return rc::gen::map(rc::gen::inRange(0, 1000001),
                      [=](int n) { return low + (high - low) * n / 1e6; });
}

inline OutlineShape random_shape() {
  OutlineShape shape;
  shape.tip_radius_m = *between(0.08, 0.30);
  shape.root_radius_m = *between(0.0, 0.25) * shape.tip_radius_m;
  shape.widest_chord_m = *between(0.08, 0.30) * shape.tip_radius_m;
  shape.widest_at = *between(0.40, 0.80);
  shape.root_chord_m = *between(0.1, 1.0) * shape.widest_chord_m;
  shape.tip_roundness = *between(0.25, 1.0);
  shape.spar_position = *between(0.1, 0.9);
  return shape;
}

}  // namespace propwright::form
