// The energy-height duration equation t = e eta (m_r/m) (L/D)/(g V), V = sqrt(2 m g/(rho S CL)),
// and seven times computed with it. Source: data/duration_equation_check.csv, indoor-construction
// mailing-list archive, msgs 1505 and 18374 (2015): e = 4000 ft lbf/lb, eta = 0.5, S = 70 in2,
// CL = 0.65, L/D = 5, 2 g of rubber.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/flight/flight.h"
#include "published_table.h"
#include "stand_in.h"

namespace propwright::published {
namespace {

constexpr double energy_J_per_kg = 4000 * 2.98906692;
constexpr double wing_area_m2 = 70 * 0.0254 * 0.0254;
constexpr double rubber_kg = 0.002, lift = 0.65, lift_over_drag = 5, efficiency = 0.5;
constexpr double density = 1.225;

double equation_s(double airframe_kg) {
  const double mass = airframe_kg + rubber_kg;
  const double speed = std::sqrt(2 * mass * base::gravity_m_s2 / (density * wing_area_m2 * lift));
  return energy_J_per_kg * efficiency * (rubber_kg / mass) * lift_over_drag /
         (base::gravity_m_s2 * speed);
}

/// The same model in our flight: level all along on a motor of constant torque, with a propeller of
/// the stated efficiency at every state.
flight::Setup level_flight(double airframe_kg) {
  support::StandIn propeller;
  propeller.ideal_efficiency = efficiency;
  propeller.density_kg_m3 = density;
  flight::Setup setup = support::light_model(propeller);
  setup.airframe.mass_kg = airframe_kg;
  setup.airframe.wing_area_m2 = wing_area_m2;
  setup.airframe.trim_cl = lift;
  setup.airframe.drag = {.profile_cd_min = 0,
                         .profile_curvature = 0,
                         .profile_cl_at_min = 0,
                         .reference_speed_m_s = 1,
                         .induced_factor = 0,
                         .extra_cd = lift / lift_over_drag};
  setup.friction_fraction = 0;
  setup.motor.mass_kg = rubber_kg;
  double low = 1e-6, high = 0.01;
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2;
    const auto e = flight::equilibrium(setup, middle);
    (e && e->climb_m_s < 0 ? low : high) = middle;
  }
  const rubber::Batch batch = support::flat_batch(energy_J_per_kg);
  setup.motor = support::motor_of(batch, support::flat_section_m2(batch, low), rubber_kg);
  setup.launch.wound_turns = setup.motor.breaking_turns;
  setup.launch.turns = setup.motor.breaking_turns;
  return setup;
}

/// Time at which the last turn is gone.
double motor_time_s(const flight::Flight& flight) {
  for (const flight::Instant& i : flight.history) {
    if (i.turns < 1e-6) return i.time_s;
  }
  return flight.duration_s;
}

TEST(DurationEquation, SevenPublishedTimesWithinASecond) {
  const base::Table rows =
      table("duration_equation_check.csv", {"airframe_g", "t_published_s", "V_m_s"});
  ASSERT_EQ(rows.rows(), 7U);
  for (std::size_t i = 0; i < rows.rows(); ++i) {
    const double airframe_kg = 1e-3 * rows.column("airframe_g")[i];
    EXPECT_NEAR(equation_s(airframe_kg), rows.column("t_published_s")[i], 1) << airframe_kg;
  }
}

TEST(DurationEquation, OurLevelFlightAtConstantEfficiencyGivesThePublishedTimes) {
  const base::Table rows =
      table("duration_equation_check.csv", {"airframe_g", "t_published_s", "V_m_s"});
  for (std::size_t i = 0; i < rows.rows(); ++i) {
    const double airframe_kg = 1e-3 * rows.column("airframe_g")[i];
    const auto flight = fly(level_flight(airframe_kg));
    ASSERT_TRUE(flight);
    const double time = motor_time_s(*flight);
    EXPECT_NEAR(time, rows.column("t_published_s")[i], 1) << airframe_kg;
    // Against the formula itself only the rounding of the solvers is left, and the stand-in's 1e-9.
    EXPECT_NEAR(time / equation_s(airframe_kg), 1, 1e-7) << airframe_kg;
    // Printed to six digits.
    EXPECT_NEAR(flight->cruise_speed_m_s, rows.column("V_m_s")[i], 1e-5) << airframe_kg;
  }
}

}  // namespace
}  // namespace propwright::published
