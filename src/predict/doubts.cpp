#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "propwright/brief/assemble.h"
#include "propwright/predict/variation.h"

namespace propwright::predict {
namespace {

/// Moves added and factors multiplied to what a draw has been moved by already.
void turn(double& factor, double sigma, double z) {
  factor *= std::exp(sigma * z);
}
void turn_share(double& share, double sigma, double z) {
  share = (1 + share) * std::exp(sigma * z) - 1;
}

/// Each doubt by itself.
std::vector<Doubt> single_doubts(const brief::Job& job, const Nominal& nominal) {
  const brief::Doubts doubts = brief::doubts_in_force(job);
  const section::Uncertainty& polar = nominal.assembly.family.uncertainty();
  std::vector<Doubt> all;
  const auto add = [&](const char* key, const char* label, Owner owner, bool is_factor,
                       double sigma, auto change) {
    all.push_back(
        {key, label, owner, is_factor, sigma, [=](Draw& d, double z) { change(d, sigma, z); }});
  };
  const double scale = doubts.polar_scale;
  add("polar_lift_slope", "blade section, lift slope", Owner::section, true,
      scale * polar.lift_slope,
      [](Draw& d, double s, double z) { turn_share(d.polar.lift_slope, s, z); });
  add("polar_zero_lift", "blade section, zero-lift angle", Owner::section, false,
      scale * polar.zero_lift_rad,
      [](Draw& d, double s, double z) { d.polar.zero_lift_rad += s * z; });
  add("polar_drag", "blade section, drag", Owner::section, true, scale * polar.drag,
      [](Draw& d, double s, double z) { turn_share(d.polar.drag, s, z); });
  add("polar_cl_max", "blade section, greatest lift", Owner::section, true, scale * polar.cl_max,
      [](Draw& d, double s, double z) { turn_share(d.polar.cl_max, s, z); });
  add("blade_angle", "blade angle", Owner::propeller, false, doubts.blade_angle_rad,
      [](Draw& d, double s, double z) { d.blade_turn_rad += s * z; });
  add("airframe_drag", "drag of the model", Owner::model, true, doubts.airframe_drag,
      [](Draw& d, double s, double z) { turn(d.airframe_drag_factor, s, z); });
  add("trim_lift", "trim", Owner::model, true, doubts.trim_lift,
      [](Draw& d, double s, double z) { turn(d.trim_factor, s, z); });
  add("rubber_energy", "energy of the rubber", Owner::rubber, true, doubts.rubber_energy,
      [](Draw& d, double s, double z) { turn(d.rubber_energy_factor, s, z); });
  add("rubber_turns", "turns the rubber takes", Owner::rubber, true, doubts.rubber_turns,
      [](Draw& d, double s, double z) { turn(d.rubber_turns_factor, s, z); });
  add("temperature", "temperature", Owner::day, false, doubts.temperature_K,
      [](Draw& d, double s, double z) { d.temperature_K += s * z; });
  add("circle_radius", "circle flown", Owner::model, true, doubts.circle_radius,
      [](Draw& d, double s, double z) { turn(d.circle_factor, s, z); });
  if (!nominal.flexing) return all;
  add("blade_stiffness", "stiffness of the blade", Owner::propeller, true, doubts.blade_stiffness,
      [](Draw& d, double s, double z) { turn(d.stiffness_factor, s, z); });
  add("blade_moment", "moment of the blade section", Owner::propeller, true, doubts.blade_moment,
      [](Draw& d, double s, double z) { turn(d.moment_factor, s, z); });
  return all;
}

}  // namespace

Doubt temperature_of_a_day(double sigma_K) {
  return {"temperature", "temperature of the day",
          Owner::day,    false,
          sigma_K,       [=](Draw& d, double z) { d.temperature_K += sigma_K * z; }};
}

std::vector<Doubt> doubts_of(const brief::Job& job, const Nominal& nominal) {
  std::vector<Doubt> doubts = single_doubts(job, nominal);
  const auto axes = brief::learned_axes(job);
  if (!axes) return doubts;
  const auto& keys = brief::learned_keys();
  const std::vector<Doubt> alone = doubts;
  for (std::size_t axis = 0; axis < brief::learned_count; ++axis) {
    const auto own = std::find_if(doubts.begin(), doubts.end(), [&](const Doubt& d) {
      return std::string_view(d.key) == keys[axis].key;
    });
    if (own == doubts.end()) continue;
    std::vector<std::pair<std::function<void(Draw&, double)>, double>> moved;
    for (const Doubt& one : alone) {
      for (std::size_t i = 0; i < brief::learned_count; ++i) {
        const double share = (*axes)[i][axis];
        if (std::string_view(one.key) == keys[i].key && share != 0 && one.sigma > 0) {
          moved.emplace_back(one.set, share);
        }
      }
    }
    own->set = [moved](Draw& draw, double z) {
      for (const auto& [set, share] : moved) set(draw, share * z);
    };
  }
  return doubts;
}

}  // namespace propwright::predict
