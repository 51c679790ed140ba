/// Random models with stand-in propellers, ordinary and odd.
#pragma once

#include <rapidcheck.h>

#include <sstream>
#include <string>

#include "stand_in.h"

namespace propwright::flight {

inline double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 10001) / 10000.0;
}

inline support::StandIn random_propeller() {
  support::StandIn p;
  p.diameter_m = between(0.1, 0.6);
  p.zero_thrust_rad = between(0.4, 1.1);
  p.loading = between(0.05, 0.3);
  p.ideal_efficiency = 1;
  p.slipstream = between(0.05, 0.45) * p.loading;
  p.section_drag = between(0, 0.005);
  p.standing_drag = between(0, 0.02);
  p.density_kg_m3 = between(1.0, 1.3);
  RC_LOG("diameter " + std::to_string(p.diameter_m) + " beta0 " +
         std::to_string(p.zero_thrust_rad) + " loading " + std::to_string(p.loading) +
         " slipstream " + std::to_string(p.slipstream) + " section drag " +
         std::to_string(p.section_drag) + " standing " + std::to_string(p.standing_drag));
  return p;
}

/// Motor torque of level flight, to a percent. The case is dropped where there is none.
inline double level_torque_Nm(const Setup& setup) {
  double low = 1e-8, high = 1e-8;
  for (int i = 0; i < 200; ++i) {
    high *= 1.25;
    const auto e = equilibrium(setup, high);
    RC_PRE(e.has_value());
    if (e->climb_m_s >= 0) break;
    low = high;
  }
  while (high > 1.01 * low) {
    const double middle = std::sqrt(low * high);
    const auto e = equilibrium(setup, middle);
    RC_PRE(e.has_value());
    (e->climb_m_s < 0 ? low : high) = middle;
  }
  return high;
}

/// For the log of a case that fails.
inline std::string describe(const Setup& setup) {
  const Airframe& a = setup.airframe;
  std::ostringstream text;
  text << "mass " << a.mass_kg << " wing " << a.wing_area_m2 << " CL " << a.trim_cl << " CD "
       << a.drag.cd(a.trim_cl, 1) << " circle " << a.circle_radius_m << "; rubber "
       << setup.motor.mass_kg << " loop " << setup.motor.length_m << "; launch "
       << setup.launch.height_m << " turns " << *setup.launch.turns << " of "
       << setup.motor.breaking_turns << " relaxation " << setup.launch.relaxation_per_s
       << "; friction " << setup.friction_fraction << " freewheels " << setup.freewheels;
  return text.str();
}

/// Models of 0.5 to 10 g with wing loadings and drags from the very best to the hopeless, in
/// circles or straight; motors thin to thick. Launched with 0.3 to 0.8 of the breaking turns.
inline Setup random_setup(const support::StandIn& propeller) {
  Setup setup;
  Airframe& a = setup.airframe;
  a.mass_kg = between(0.0005, 0.01);
  a.wing_area_m2 = a.mass_kg / between(0.012, 0.1);
  a.trim_cl = between(0.3, 1.3);
  a.drag.profile_cd_min = between(0.015, 0.1);
  a.drag.profile_curvature = between(0, 0.1);
  a.drag.profile_cl_at_min = between(0, 0.8);
  a.drag.induced_factor = between(0.03, 0.2);
  a.drag.extra_cd = between(0, 0.1);
  a.circle_radius_m = *rc::gen::arbitrary<bool>() ? between(3, 15) : 0;
  setup.propeller = propeller.map();
  setup.density_kg_m3 = propeller.density_kg_m3;
  setup.motor.mass_kg = a.mass_kg * between(0.1, 1.0);
  setup.friction_fraction = between(0, 0.1);
  const rubber::Batch batch = rubber::default_batch().value();
  const double share = between(0.3, 0.8);
  const double launch_Nm = between(0.5, 4) * level_torque_Nm(setup);
  const double section_m2 =
      std::pow(launch_Nm / (batch.torque_constant_Pa * batch.unwinding.value(share)), 2.0 / 3.0);
  const double rubber_kg = setup.motor.mass_kg;
  const double length_m = rubber::loop_length_m(batch, rubber_kg, section_m2);
  RC_PRE(section_m2 > 1e-8 && section_m2 < 1e-4 && length_m > 0.01 && length_m < 5);
  setup.motor = support::motor_of(batch, section_m2, rubber_kg);
  setup.hall.roof_m = 1000;
  setup.launch.height_m = between(0.1, 3);
  setup.launch.wound_turns = 0.9 * setup.motor.breaking_turns;
  setup.launch.turns = share * setup.motor.breaking_turns;
  setup.launch.relaxation_per_s = between(0, 1e-3);
  setup.freewheels = *rc::gen::arbitrary<bool>();
  RC_LOG(describe(setup));
  return setup;
}

}  // namespace propwright::flight
