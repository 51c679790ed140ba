#include "pair_worlds.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string_view>

#include "propwright/brief/assemble.h"
#include "propwright/predict/variation.h"

namespace propwright::answer {
namespace {

/// What the flight of a design takes from one doubt, at +1 or -1 of its standard deviation.
struct FlightDoubt {
  const char* name;
  std::function<void(flight::Setup&, double sign)> change;
};

std::vector<FlightDoubt> flight_doubts(const brief::Doubts& d) {
  return {{"the airframe's drag",
           [&d](flight::Setup& s, double sign) {
             s.airframe.drag.scale(std::exp(sign * d.airframe_drag));
           }},
          {"the trim", [&d](flight::Setup& s,
                            double sign) { s.airframe.trim_cl *= std::exp(sign * d.trim_lift); }},
          {"the rubber's energy",
           [&d](flight::Setup& s, double sign) {
             rubber::scale(s.motor, std::exp(sign * d.rubber_energy), 1);
           }},
          {"the rubber's turns", [&d](flight::Setup& s, double sign) {
             rubber::scale(s.motor, 1, std::exp(sign * d.rubber_turns));
           }}};
}

/// Each doubt by itself. The zero-lift angle of the sections and the angle of the blades do the
/// same, and are one.
std::vector<asbuilt::World> single_worlds(const brief::Job& job, const asbuilt::Design& design) {
  const brief::Doubts d = brief::doubts_in_force(job);
  const section::Uncertainty& polar = design.family.uncertainty();
  const double scale = d.polar_scale;
  std::vector<asbuilt::World> worlds;
  const auto propeller = [&](const char* doubt, const section::Shift& shift, double turn_rad) {
    worlds.push_back({.doubt = doubt,
                      .shift = shift,
                      .turn_rad = turn_rad,
                      .setup = design.setup,
                      .same_propeller = false});
  };
  propeller("the lift of the blade's sections",
            {.lift_slope = std::expm1(scale * polar.lift_slope)}, 0);
  propeller("the drag of the blade's sections", {.drag = std::expm1(scale * polar.drag)}, 0);
  propeller("the stall of the blade's sections", {.cl_max = std::expm1(scale * polar.cl_max)}, 0);
  propeller("the blade angle", {}, std::hypot(scale * polar.zero_lift_rad, d.blade_angle_rad));
  for (const FlightDoubt& doubt : flight_doubts(d)) {
    for (const double sign : {1.0, -1.0}) {
      asbuilt::World world;
      world.doubt = doubt.name;
      world.weight = 0.5;
      world.setup = design.setup;
      doubt.change(world.setup, sign);
      worlds.push_back(std::move(world));
    }
  }
  return worlds;
}

/// As the reason of an interval names them.
const char* spoken(std::string_view key) {
  static constexpr std::pair<std::string_view, const char*> names[] = {
      {"polar_lift_slope", "the lift of the blade's sections"},
      {"polar_zero_lift", "the zero-lift angle of the blade's sections"},
      {"polar_drag", "the drag of the blade's sections"},
      {"polar_cl_max", "the stall of the blade's sections"},
      {"blade_angle", "the blade angle"},
      {"airframe_drag", "the airframe's drag"},
      {"trim_lift", "the trim"},
      {"rubber_energy", "the rubber's energy"},
      {"rubber_turns", "the rubber's turns"},
      {"circle_radius", "the circle flown"},
      {"blade_stiffness", "the blade's stiffness"},
      {"blade_moment", "the moment of the blade's sections"}};
  for (const auto& [one, name] : names) {
    if (one == key) return name;
  }
  return "the model";
}

bool of_the_flight(predict::Owner owner) {
  return owner == predict::Owner::model || owner == predict::Owner::rubber;
}

/// Along the axes of what flights left open. The day's temperature is none of them.
std::vector<asbuilt::World> learned_worlds(const std::vector<predict::Doubt>& doubts,
                                           const asbuilt::Design& design) {
  std::vector<asbuilt::World> worlds;
  for (const predict::Doubt& doubt : doubts) {
    if (doubt.owner == predict::Owner::day || doubt.sigma == 0) continue;
    const bool both = of_the_flight(doubt.owner);
    for (const double z : {1.0, -1.0}) {
      if (z < 0 && !both) continue;
      predict::Draw draw;
      doubt.set(draw, z);
      worlds.push_back({.doubt = spoken(doubt.key),
                        .weight = both ? 0.5 : 1,
                        .shift = draw.polar,
                        .turn_rad = draw.blade_turn_rad,
                        .stiffness = draw.stiffness_factor,
                        .moment = draw.moment_factor,
                        .setup = predict::moved_setup(design.setup, draw, design.setup.propeller),
                        .same_propeller = false});
    }
  }
  return worlds;
}

}  // namespace

std::vector<asbuilt::World> worlds_of(const brief::Job& job, const predict::Nominal& nominal,
                                      const asbuilt::Design& design) {
  if (!brief::learned_axes(job)) return single_worlds(job, design);
  return learned_worlds(predict::doubts_of(job, nominal), design);
}

}  // namespace propwright::answer
