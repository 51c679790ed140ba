/// A propeller and a motor with closed forms, and a light model to hang them on.
#pragma once

#include <cmath>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/flight/flight.h"
#include "propwright/rotor/map.h"
#include "propwright/rubber/rubber.h"

namespace propwright::support {

/// Loads over the advance angle beta = atan2(V, 0.7 Omega R), for any speed:
///   CT* = t a cos(beta) - s,   CQ* = 0.7 (t a sin(beta)/eta_i + i a^2 sin(beta) + p),
///   CP* = p cos(beta) + s sin(beta),   with a = beta_0 - beta.
/// Every watt is accounted for: Q Omega = T V + profile + slipstream, the slipstream taking
/// (1/eta_i - 1) times the part of T V from t, and i a^2 sin(beta) cos(beta). With i = p = s = 0
/// the efficiency is eta_i everywhere, and a propeller without torque has no thrust; with eta_i = 1
/// no part of the losses is ever negative.
struct StandIn {
  double diameter_m = 0.38;
  double loading = 0.14;          ///< t
  double zero_thrust_rad = 0.68;  ///< beta_0
  double ideal_efficiency = 0.8;  ///< eta_i
  double slipstream = 0;          ///< i, below t/2 so that the torque rises with the revs
  double section_drag = 0;        ///< p
  double standing_drag = 0;       ///< s
  double density_kg_m3 = 1.2;

  /// Map with nodes so close (0.2 degree) that its cubics miss the closed form by 1e-9 only.
  rotor::Map map() const {
    const double radius = diameter_m / 2;
    std::vector<double> beta;
    for (int i = 45; i <= 450; ++i) beta.push_back(0.2 * i * base::degree_rad);
    beta.back() = base::pi / 2;
    std::vector<std::vector<rotor::Loads>> loads(3);
    for (int s = 0; s < 3; ++s) {
      const double speed = std::pow(1.25, s - 1);
      for (const double b : beta) {
        const double w = speed / std::sin(b);
        const double force = 0.5 * density_kg_m3 * w * w * base::pi * radius * radius;
        loads[s].push_back({force * thrust(b), force * radius * torque(b), force * w * profile(b)});
      }
    }
    return rotor::Map::from_loads(beta, 1.0, 1.25, loads, {density_kg_m3, 1.8e-5}, radius);
  }

  double thrust(double beta) const {
    return loading * (zero_thrust_rad - beta) * std::cos(beta) - standing_drag;
  }
  double torque(double beta) const {
    const double below = zero_thrust_rad - beta;
    const double driven = loading * below / ideal_efficiency + slipstream * below * below;
    return 0.7 * (driven * std::sin(beta) + section_drag);
  }
  double profile(double beta) const {
    return section_drag * std::cos(beta) + standing_drag * std::sin(beta);
  }
};

/// Strip whose torque does not depend on the turns until they are gone.
inline rubber::Batch flat_batch(double energy_J_per_kg = 12000) {
  rubber::Batch batch;
  batch.unwinding = base::MonotoneCurve::through({0, 1}, {1, 1}).value();
  batch.winding = batch.unwinding;
  batch.turns_constant = 10.6;
  batch.density_kg_m3 = 930;
  batch.energy_J_per_kg = energy_J_per_kg;
  // From e m = 2 pi N_break k A^1.5 with N_break = kappa L/sqrt(A) and m = rho A L.
  batch.torque_constant_Pa =
      energy_J_per_kg * batch.density_kg_m3 / (2 * base::pi * batch.turns_constant);
  batch.returned_over_stored = 1;
  return batch;
}

/// Section that gives `torque_Nm` all along with a flat batch.
inline double flat_section_m2(const rubber::Batch& batch, double torque_Nm) {
  return std::pow(torque_Nm / batch.torque_constant_Pa, 2.0 / 3.0);
}

inline rubber::Motor motor_of(const rubber::Batch& batch, double section_m2, double mass_kg) {
  return rubber::make_motor(batch, section_m2, rubber::loop_length_m(batch, mass_kg, section_m2),
                            mass_kg, 0, batch.test_temperature_K)
      .value();
}

/// A 3 g model on 1.4 g of default strip, wound to 0.9, no relaxation, straight, under a roof out
/// of reach. Launched with 0.75 of its breaking turns.
inline flight::Setup light_model(const StandIn& propeller = {}) {
  flight::Setup setup;
  setup.airframe.mass_kg = 0.003;
  setup.airframe.wing_area_m2 = 0.06;
  setup.airframe.trim_cl = 0.8;
  setup.airframe.drag = {.profile_cd_min = 0.05,
                         .profile_curvature = 0.02,
                         .profile_cl_at_min = 0.4,
                         .reference_speed_m_s = 1.2,
                         .induced_factor = 0.08,
                         .extra_cd = 0.01};
  setup.propeller = propeller.map();
  setup.motor = motor_of(rubber::default_batch().value(), 4.8e-6, 0.0014);
  setup.hall.roof_m = 1000;
  setup.launch.wound_turns = 0.9 * setup.motor.breaking_turns;
  setup.launch.turns = 0.75 * setup.motor.breaking_turns;
  setup.density_kg_m3 = propeller.density_kg_m3;
  return setup;
}

inline double weight_N(const flight::Setup& setup) {
  return base::gravity_m_s2 *
         (setup.airframe.mass_kg + setup.motor.mass_kg + setup.motor.spacer_mass_kg);
}

}  // namespace propwright::support
