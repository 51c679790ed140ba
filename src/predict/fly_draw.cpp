#include "fly_draw.h"

#include <algorithm>

namespace propwright::predict {

flight::Setup moved_setup(flight::Setup setup, const Draw& d, rotor::Map map) {
  setup.propeller = std::move(map);
  setup.airframe.trim_cl *= d.trim_factor;
  setup.airframe.circle_radius_m *= d.circle_factor;
  setup.airframe.drag.scale(d.airframe_drag_factor);
  rubber::Motor& motor = setup.motor;
  rubber::scale(motor, d.rubber_energy_factor, d.rubber_turns_factor);
  // A motor that would break before the turns planned is wound as far as it goes.
  flight::LaunchPlan& plan = setup.launch;
  plan.wound_turns = std::min(plan.wound_turns, motor.breaking_turns);
  if (plan.turns) plan.turns = std::min(*plan.turns, plan.wound_turns);
  return setup;
}

std::optional<rotor::Map> moved_map(const Nominal& nominal, const Draw& d,
                                    const rotor::Flow& flow) {
  const rotor::Rotor rotor =
      nominal.rotor.varied(nominal.assembly.family, d.polar, d.blade_turn_rad);
  const double speed = nominal.map.middle_speed_m_s();
  if (!nominal.flexing) {
    auto map = rotor::make_map(rotor, flow, speed);
    return map ? std::optional(std::move(*map)) : std::nullopt;
  }
  flex::Options options = nominal.flexing->options();
  options.moment_factor *= d.moment_factor;
  const double s = d.stiffness_factor;
  const auto flexing = nominal.flexing->varied(rotor, {s, s, s}, options);
  if (!flexing) return std::nullopt;
  auto made = flex::make_map(*flexing, flow, speed);
  return made ? std::optional(std::move(made->map)) : std::nullopt;
}

std::optional<flight::Flight> fly_draw(const Nominal& nominal, const Draw& d) {
  const brief::Assembly& a = nominal.assembly;
  const double temperature = a.air.temperature_K;
  const rotor::Flow flow{a.air.density_kg_m3 * temperature / (temperature + d.temperature_K),
                         a.air.viscosity_Pa_s};
  auto map = moved_map(nominal, d, flow);
  if (!map) return std::nullopt;
  flight::Setup setup = nominal.setup;
  setup.density_kg_m3 = flow.density_kg_m3;
  setup.motor.temperature_K += d.temperature_K;
  setup.launch.margin_m.reset();
  setup.launch.torque_Nm.reset();
  setup.launch.turns = nominal.flight.turns_at_launch;
  auto flown = flight::fly(moved_setup(std::move(setup), d, std::move(*map)));
  if (!flown) return std::nullopt;
  return std::move(*flown);
}

}  // namespace propwright::predict
