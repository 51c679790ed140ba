#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "random_setup.h"

namespace propwright::flight {
namespace {

using base::gravity_m_s2;
using support::weight_N;

// The solver settles the path angle to 1e-12 and the torque to 1e-13 of its scale.
constexpr double residual = 1e-9;

/// No climb is taken steeper than 60 degrees; there the drag is what closes the balance.
bool held(const Equilibrium& e) {
  return e.path_angle_rad > 59.99 * base::degree_rad;
}

RC_GTEST_PROP(Equilibrium, ForcesAndTorqueBalance, ()) {
  const support::StandIn propeller = random_propeller();
  const flight::Setup setup = random_setup(propeller);
  const double torque = rubber::torque_Nm(setup.motor, *setup.launch.turns);
  const auto e = equilibrium(setup, torque);
  RC_PRE(e.has_value() && !held(*e));
  const double weight = weight_N(setup);
  const double sine = std::sin(e->path_angle_rad), cosine = std::cos(e->path_angle_rad);
  RC_ASSERT(std::abs(e->thrust_N - e->drag_N - weight * sine) < residual * weight);
  const double v = e->speed_m_s;
  const double turn = setup.airframe.circle_radius_m > 0
                          ? v * v * cosine / (gravity_m_s2 * setup.airframe.circle_radius_m)
                          : 0.0;
  // L cos(mu) = W cos(gamma) with tan(mu) = V^2 cos(gamma)/(g r_c).
  RC_ASSERT(std::abs(e->lift_N / std::sqrt(1 + turn * turn) - weight * cosine) < residual * weight);
  const double pressure_area = 0.5 * setup.density_kg_m3 * v * v * setup.airframe.wing_area_m2;
  RC_ASSERT(std::abs(e->lift_N - pressure_area * setup.airframe.trim_cl) < residual * weight);
  RC_ASSERT(std::abs(e->drag_N - pressure_area * setup.airframe.drag.cd(setup.airframe.trim_cl,
                                                                        v)) < residual * weight);
  RC_ASSERT(std::abs(e->climb_m_s - v * sine) < residual * v);
  const rotor::Loads loads = setup.propeller.at(v, e->rev_per_s).loads;
  const double shaft = torque * (1 - setup.friction_fraction);
  RC_ASSERT(std::abs(loads.torque_Nm - shaft) < residual * shaft);
  RC_ASSERT(std::abs(loads.thrust_N - e->thrust_N) < residual * weight);
}

TEST(Equilibrium, HeldClimbIsSixtyDegreesAndCountsSpareThrustAsDrag) {
  support::StandIn strong;
  strong.loading = 0.5;
  const flight::Setup setup = support::light_model(strong);
  const auto e = equilibrium(setup, 8e-3);
  ASSERT_TRUE(e);
  ASSERT_TRUE(held(*e));
  EXPECT_GT(e->thrust_N, weight_N(setup));
  EXPECT_NEAR(e->drag_N, e->thrust_N - weight_N(setup) * std::sin(e->path_angle_rad), 1e-12);
}

TEST(Equilibrium, MoreTorqueClimbsFaster) {
  const flight::Setup setup = support::light_model();
  double before = -1e9;
  for (const double torque : {0.0, 2e-4, 5e-4, 8e-4, 1.2e-3, 1.6e-3}) {
    const auto e = equilibrium(setup, torque);
    ASSERT_TRUE(e);
    EXPECT_GT(e->climb_m_s, before);
    before = e->climb_m_s;
  }
}

TEST(Equilibrium, TighterCircleFliesFasterAndSinksFaster) {
  flight::Setup setup = support::light_model();
  const auto straight = equilibrium(setup, 0);
  setup.airframe.circle_radius_m = 4;
  const auto circling = equilibrium(setup, 0);
  ASSERT_TRUE(straight && circling);
  EXPECT_GT(circling->speed_m_s, straight->speed_m_s);
  EXPECT_LT(circling->climb_m_s, straight->climb_m_s);
}

TEST(Equilibrium, CircleTooTightForTheLiftIsAProblemNamingTheField) {
  flight::Setup setup = support::light_model();
  setup.airframe.circle_radius_m = 0.1;  // V^2/g is 0.15 m
  const auto e = equilibrium(setup, 5e-4);
  ASSERT_FALSE(e);
  EXPECT_EQ(e.error().front().kind, base::Kind::no_solution);
  EXPECT_EQ(e.error().front().field, "model.circle_radius");
  const auto flight = fly(setup);
  ASSERT_FALSE(flight);
  EXPECT_EQ(flight.error().front().field, "model.circle_radius");
}

TEST(Equilibrium, TorqueBeyondThePropellerIsAProblemSayingWhatToDo) {
  const flight::Setup setup = support::light_model();
  const auto e = equilibrium(setup, 1.0);
  ASSERT_FALSE(e);
  EXPECT_EQ(e.error().front().kind, base::Kind::no_solution);
  EXPECT_NE(e.error().front().message.find("cannot absorb"), std::string::npos);
  EXPECT_FALSE(e.error().front().remedy.empty());
}

}  // namespace
}  // namespace propwright::flight
