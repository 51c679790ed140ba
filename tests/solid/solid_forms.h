// The form the tests of solids cut: a 46 cm propeller's blade.
#pragma once

#include "propwright/base/constants.h"
#include "propwright/solid/form_solid.h"

namespace propwright::solid {

inline form::Surface blade_form(double camber, form::Hand hand = form::Hand::clockwise,
                                form::Lay lay = form::Lay::helical) {
  const form::OutlineShape outline{.tip_radius_m = 0.23,
                                   .root_radius_m = 0.04,
                                   .widest_chord_m = 0.046,
                                   .widest_at = 0.6,
                                   .root_chord_m = 0.016};
  const form::Form form{.pitch_m = 0.76, .camber = camber};
  const auto rows = form::surface_rows(form, form::outline(outline, 40).value());
  return form::Surface::make(rows, hand, lay).value();
}

/// Everything that can be cut into a form.
inline FormOptions all_cut(std::optional<double> split_radius_m = {}) {
  FormOptions options;
  options.base_tilt_rad = 30 * base::degree_rad;
  options.groove_width_m = 0.0015;
  options.pin_radii_m = {0.0365, 0.2335};
  options.split_radius_m = split_radius_m;
  return options;
}

}  // namespace propwright::solid
