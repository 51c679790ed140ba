#include <cmath>

#include "propwright/predict/variation.h"

namespace propwright::predict {

std::vector<Doubt> doubts_of(const brief::Job& job, const Nominal& nominal) {
  const brief::Doubts doubts = brief::doubts_in_force(job);
  const section::Uncertainty& polar = nominal.assembly.family.uncertainty();
  const auto factor = [](double sigma, double z) { return std::exp(sigma * z); };
  std::vector<Doubt> all;
  const auto add = [&](const char* key, const char* label, Owner owner, bool is_factor,
                       double sigma, auto change) {
    all.push_back(
        {key, label, owner, is_factor, sigma, [=](Draw& d, double z) { change(d, sigma, z); }});
  };
  const double scale = doubts.polar_scale;
  add("polar_lift_slope", "blade section, lift slope", Owner::section, true,
      scale * polar.lift_slope,
      [=](Draw& d, double s, double z) { d.polar.lift_slope = factor(s, z) - 1; });
  add("polar_zero_lift", "blade section, zero-lift angle", Owner::section, false,
      scale * polar.zero_lift_rad,
      [](Draw& d, double s, double z) { d.polar.zero_lift_rad = s * z; });
  add("polar_drag", "blade section, drag", Owner::section, true, scale * polar.drag,
      [=](Draw& d, double s, double z) { d.polar.drag = factor(s, z) - 1; });
  add("polar_cl_max", "blade section, greatest lift", Owner::section, true, scale * polar.cl_max,
      [=](Draw& d, double s, double z) { d.polar.cl_max = factor(s, z) - 1; });
  add("blade_angle", "blade angle", Owner::propeller, false, doubts.blade_angle_rad,
      [](Draw& d, double s, double z) { d.blade_turn_rad = s * z; });
  add("airframe_drag", "drag of the model", Owner::model, true, doubts.airframe_drag,
      [=](Draw& d, double s, double z) { d.airframe_drag_factor = factor(s, z); });
  add("trim_lift", "trim", Owner::model, true, doubts.trim_lift,
      [=](Draw& d, double s, double z) { d.trim_factor = factor(s, z); });
  add("rubber_energy", "energy of the rubber", Owner::rubber, true, doubts.rubber_energy,
      [=](Draw& d, double s, double z) { d.rubber_energy_factor = factor(s, z); });
  add("rubber_turns", "turns the rubber takes", Owner::rubber, true, doubts.rubber_turns,
      [=](Draw& d, double s, double z) { d.rubber_turns_factor = factor(s, z); });
  add("temperature", "temperature", Owner::day, false, doubts.temperature_K,
      [](Draw& d, double s, double z) { d.temperature_K = s * z; });
  add("circle_radius", "circle flown", Owner::model, true, doubts.circle_radius,
      [=](Draw& d, double s, double z) { d.circle_factor = factor(s, z); });
  if (!nominal.flexing) return all;
  add("blade_stiffness", "stiffness of the blade", Owner::propeller, true, doubts.blade_stiffness,
      [=](Draw& d, double s, double z) { d.stiffness_factor = factor(s, z); });
  add("blade_moment", "moment of the blade section", Owner::propeller, true, doubts.blade_moment,
      [=](Draw& d, double s, double z) { d.moment_factor = factor(s, z); });
  return all;
}

}  // namespace propwright::predict
