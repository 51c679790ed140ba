// Flights whose whole course is known in closed form: a propeller of constant efficiency and a
// motor of constant torque.
#include <gtest/gtest.h>

#include <cmath>

#include "stand_in.h"

namespace propwright::flight {
namespace {

using base::gravity_m_s2;
using base::pi;
using support::weight_N;

/// A straight steady climb chosen first; the propeller's loading and the motor's torque follow.
struct ChosenClimb {
  double path_angle_rad = 0.15;
  double advance_rad = 0.55;
  support::StandIn propeller;
  flight::Setup setup;
  double speed_m_s = 0, rev_per_s = 0, motor_torque_Nm = 0;

  explicit ChosenClimb(double rubber_kg = 0.0014) {
    setup = support::light_model();
    setup.motor.mass_kg = rubber_kg;
    const double weight = weight_N(setup);
    const Airframe& a = setup.airframe;
    speed_m_s = std::sqrt(2 * weight * std::cos(path_angle_rad) /
                          (setup.density_kg_m3 * a.wing_area_m2 * a.trim_cl));
    const double drag = 0.5 * setup.density_kg_m3 * speed_m_s * speed_m_s * a.wing_area_m2 *
                        a.drag.cd(a.trim_cl, speed_m_s);
    const double thrust = drag + weight * std::sin(path_angle_rad);
    const double radius = propeller.diameter_m / 2;
    const double w = speed_m_s / std::sin(advance_rad);
    propeller.loading = thrust / (0.5 * setup.density_kg_m3 * w * w * pi * radius * radius) /
                        ((propeller.zero_thrust_rad - advance_rad) * std::cos(advance_rad));
    rev_per_s = speed_m_s / (std::tan(advance_rad) * 0.7 * radius) / (2 * pi);
    motor_torque_Nm = thrust * speed_m_s / propeller.ideal_efficiency / (2 * pi * rev_per_s) /
                      (1 - setup.friction_fraction);
    setup.propeller = propeller.map();
    const rubber::Batch batch = support::flat_batch();
    setup.motor =
        support::motor_of(batch, support::flat_section_m2(batch, motor_torque_Nm), rubber_kg);
    setup.launch.wound_turns = 0.9 * setup.motor.breaking_turns;
    setup.launch.turns = 0.2 * setup.motor.breaking_turns;
  }
};

// Tolerance 1e-8: the stand-in's map misses its own closed form by about 1e-9.
TEST(ConstantTorque, EquilibriumIsTheClimbChosen) {
  const ChosenClimb chosen;
  const auto e = equilibrium(chosen.setup, chosen.motor_torque_Nm);
  ASSERT_TRUE(e);
  EXPECT_NEAR(e->path_angle_rad, chosen.path_angle_rad, 1e-8);
  EXPECT_NEAR(e->speed_m_s / chosen.speed_m_s, 1, 1e-8);
  EXPECT_NEAR(e->rev_per_s / chosen.rev_per_s, 1, 1e-8);
}

TEST(ConstantTorque, ClimbIsTurnsOverRevsAndGlideHeightOverSink) {
  const ChosenClimb chosen;
  const auto flight = fly(chosen.setup);
  ASSERT_TRUE(flight);
  const double turns = *chosen.setup.launch.turns;
  const double climb_s = turns / chosen.rev_per_s;
  const double top_m =
      chosen.setup.launch.height_m + climb_s * chosen.speed_m_s * std::sin(chosen.path_angle_rad);
  EXPECT_NEAR(flight->top_time_s / climb_s, 1, 1e-7);
  EXPECT_NEAR(flight->top_height_m / top_m, 1, 1e-7);
  // Without thrust the path angle is that of the airframe alone; the change of speed is paid in
  // height.
  const Airframe& a = chosen.setup.airframe;
  double angle = 0, speed = 1;
  for (int i = 0; i < 60; ++i) {
    speed = std::sqrt(2 * weight_N(chosen.setup) * std::cos(angle) /
                      (chosen.setup.density_kg_m3 * a.wing_area_m2 * a.trim_cl));
    angle = std::atan(a.drag.cd(a.trim_cl, speed) / a.trim_cl);
  }
  const double paid_m = (speed * speed - chosen.speed_m_s * chosen.speed_m_s) / (2 * gravity_m_s2);
  const double glide_s = (top_m - paid_m) / (speed * std::sin(angle));
  EXPECT_NEAR(flight->duration_s / (climb_s + glide_s), 1, 1e-7);
  EXPECT_EQ(flight->turns_left, 0);
}

TEST(ConstantTorque, EnergyPartsAreTheClosedForms) {
  const ChosenClimb chosen;
  const auto flight = fly(chosen.setup);
  ASSERT_TRUE(flight);
  const Energy& e = flight->energy;
  const double all_J = 12000 * 0.0014;
  EXPECT_NEAR(e.at_break / all_J, 1, 1e-12);
  EXPECT_NEAR(e.not_wound / all_J, 0.1, 1e-12);
  EXPECT_NEAR(e.backed_off / all_J, 0.7, 1e-12);
  EXPECT_EQ(e.left_in_motor, 0);
  EXPECT_EQ(e.motor_loss, 0);
  EXPECT_NEAR(e.shaft_friction / all_J, 0.2 * 0.02, 1e-9);
  // Constant efficiency without section drag: the slipstream takes 1 - eta of what the shaft gives.
  EXPECT_EQ(e.profile, 0);
  EXPECT_NEAR(e.induced / all_J, 0.2 * 0.98 * (1 - 0.8), 1e-7);
}

TEST(ZeroTorque, ThrustlessPropellerGlidesAsTheAirframeAloneAtItsTrim) {
  flight::Setup setup = support::light_model();
  // Best glide is over all lift coefficients: trimmed there, the model sinks at the least rate.
  const BestGlide best =
      best_glide(setup.airframe, weight_N(setup) / gravity_m_s2, setup.density_kg_m3);
  setup.airframe.trim_cl = best.cl;
  const auto e = equilibrium(setup, 0);
  ASSERT_TRUE(e);
  EXPECT_NEAR(e->thrust_N / weight_N(setup), 0, 1e-8);
  EXPECT_NEAR(-e->climb_m_s / best.sink_m_s, 1, 1e-7);
  // Any other trim sinks faster.
  for (const double factor : {0.5, 0.8, 1.25}) {
    setup.airframe.trim_cl = factor * best.cl;
    EXPECT_GT(-equilibrium(setup, 0)->climb_m_s, best.sink_m_s) << factor;
  }
}

TEST(ZeroTorque, BestGlideOfConstantDragIsTheTextbookOptimum) {
  flight::Setup setup = support::light_model();
  // CD = cd0 + k CL^2 without the speed's law: least sink where CD = 4 cd0 (CL = sqrt(3 cd0/k)),
  // for shallow glides; the exact optimum differs by the cosine, a share of (CD/CL)^2/4 here below
  // 4e-4.
  setup.airframe.drag = {.profile_cd_min = 0,
                         .profile_curvature = 0,
                         .profile_cl_at_min = 0,
                         .reference_speed_m_s = 1,
                         .induced_factor = 0.01,
                         .extra_cd = 0.001};
  const double mass = weight_N(setup) / gravity_m_s2;
  const BestGlide best = best_glide(setup.airframe, mass, setup.density_kg_m3);
  const double cl = std::sqrt(3 * 0.001 / 0.01);
  const double speed =
      std::sqrt(2 * weight_N(setup) / (setup.density_kg_m3 * setup.airframe.wing_area_m2 * cl));
  EXPECT_NEAR(best.cl / cl, 1, 2e-3);
  EXPECT_NEAR(best.sink_m_s / (speed * 0.004 / cl), 1, 4e-4);
}

TEST(ZeroTorque, DurationIsLaunchHeightOverSink) {
  flight::Setup setup = support::light_model();
  // One turn of a motor too weak to matter: 1e-9 N m against 6e-4 N m of level flight.
  const rubber::Batch batch = support::flat_batch(1e-3);
  setup.motor = support::motor_of(batch, support::flat_section_m2(batch, 1e-9), 0.0014);
  setup.launch.wound_turns = 1;
  setup.launch.turns = 1;
  setup.freewheels = true;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  const auto glide = equilibrium(setup, 0);
  ASSERT_TRUE(glide);
  // 1e-5: the share of the torque in the first half second.
  EXPECT_NEAR(flight->duration_s / (setup.launch.height_m / -glide->climb_m_s), 1, 1e-5);
  EXPECT_EQ(flight->top_height_m, setup.launch.height_m);
}

}  // namespace
}  // namespace propwright::flight
