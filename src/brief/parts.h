/// The parts an assembly is put together from, one file each.
#pragma once

#include <string>
#include <vector>

#include "propwright/brief/assemble.h"

namespace propwright::brief {

/// The blade as it will fly, and the form it is made on.
struct BladeGeometry {
  rotor::Blade blade;
  std::vector<form::OutlineRow> outline;
  form::Form form;
  double radius_45_m = 0;  ///< 0 when the blade has no such station
  double gauge_radius_m = 0, gauge_angle_rad = 0;
  double set_pitch_m = 0, reset_turn_rad = 0;
  std::vector<std::string> notes;
};
base::Expected<BladeGeometry> make_blade(const Propeller& propeller);

/// The airframe's drag and trim.
struct AirframeBuild {
  flight::Airframe airframe;
  std::vector<std::string> notes;
};
/// `flying_mass_kg`: model, rubber and spacer together.
base::Expected<AirframeBuild> make_airframe(const Model& model, const air::Air& air,
                                            double flying_mass_kg);

/// Mean chord drag of a cambered wing section over its attached range, as the drag polar takes it:
/// cd = cd_min + curvature (cl - cl_at_min)^2.
struct SectionDrag {
  double cd_min = 0, cl_at_min = 0, curvature = 0;
  double cl_max = 0;  ///< at the onset of stall
};
SectionDrag section_drag(const section::Polar& polar, double ln_re);

/// Drag coefficient of a thin plate along the flow, both sides, Re 500..1e5.
double plate_cd(double re);

/// What the flights taught, where the job says so and uses it.
section::Family learned_family(const Job& job, const section::Family& family);
void apply_learned(const Job& job, rubber::Motor& motor);
void apply_learned(const Job& job, flight::Airframe& airframe);
void apply_learned(const Job& job, Assembly& made);  ///< to the flexing blade; and notes it

/// The propeller part by part, all blades together.
std::vector<PartMass> propeller_weights(const Job& job, const std::vector<form::OutlineRow>& rows);

}  // namespace propwright::brief
