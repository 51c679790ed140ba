// The blade as it will fly, over its radius, and how it is set.
#include <nlohmann/json.hpp>

#include "live_parts.h"
#include "packet_data.h"
#include "propwright/base/constants.h"

namespace propwright::answer {

Json blade_part(const LoadedJob& loaded, const predict::Nominal& nominal) {
  const brief::Assembly& a = nominal.assembly;
  const brief::Propeller& propeller = loaded.job.propeller;
  const BladeLaw law(a);
  const bool helical = on_helical_form(propeller);
  std::vector<double> radius, chord, lead, trail, angle, pitch, camber, form_pitch;
  for (const form::OutlineRow& row : a.outline) {
    const double angle_rad = law.angle_rad(row.radius_m);
    radius.push_back(row.radius_m);
    chord.push_back(row.chord_m);
    lead.push_back(row.lead_m);
    trail.push_back(row.trail_m);
    angle.push_back(angle_rad / base::degree_rad);
    pitch.push_back(form::local_pitch_m(angle_rad, row.radius_m));
    camber.push_back(law.camber(row.radius_m));
    form_pitch.push_back(helical ? a.form.pitch_m : pitch.back());
  }
  return {{"radius_m", column(radius)},
          {"chord_m", column(chord)},
          {"lead_m", column(lead)},
          {"trail_m", column(trail)},
          {"angle_deg", column(angle)},
          {"pitch_m", column(pitch)},
          {"camber", column(camber)},
          {"form_pitch_m", column(form_pitch)},
          {"radius_45_m", a.radius_45_m > 0 ? Json(six_digits(a.radius_45_m)) : Json(nullptr)},
          {"gauge_radius_m", six_digits(a.gauge_radius_m)},
          {"gauge_angle_deg", six_digits(a.gauge_angle_rad / base::degree_rad)},
          {"set_pitch_m", six_digits(a.set_pitch_m)},
          {"form_is_helical", helical},
          {"turn_deg", six_digits(a.reset_turn_rad / base::degree_rad)},
          {"spar_position", six_digits(propeller.spar_position)},
          {"hand", a.form.hand == form::Hand::clockwise ? "clockwise" : "anticlockwise"},
          {"blades", a.blade.blades},
          {"diameter_m", six_digits(2 * a.blade.tip_radius_m)}};
}

}  // namespace propwright::answer
