// The energy ledger against sums made from the history alone.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "random_setup.h"

namespace propwright::flight {
namespace {

using base::pi;

double parts(const Energy& e) {
  return e.not_wound + e.backed_off + e.left_in_motor + e.motor_loss + e.shaft_friction +
         e.induced + e.profile + e.airframe + e.height + e.kinetic + e.ceiling + e.residual;
}

/// Trapezoid over the history of a power, over time. Skips the jump at a touch and at the motor's
/// end, where no time passes.
template <class Power>
double over_time(const Flight& flight, Power power) {
  double sum = 0;
  for (std::size_t i = 1; i < flight.history.size(); ++i) {
    const Instant& a = flight.history[i - 1];
    const Instant& b = flight.history[i];
    sum += (b.time_s - a.time_s) * (power(a) + power(b)) / 2;
  }
  return sum;
}

double work_of_motor(const Flight& flight) {
  double sum = 0;
  for (std::size_t i = 1; i < flight.history.size(); ++i) {
    const Instant& a = flight.history[i - 1];
    const Instant& b = flight.history[i];
    sum += 2 * pi * (a.turns - b.turns) * (a.torque_Nm + b.torque_Nm) / 2;
  }
  return sum;
}

flight::Setup draggy_light_model() {
  support::StandIn propeller;
  propeller.section_drag = 0.002;
  propeller.standing_drag = 0.01;
  flight::Setup setup = support::light_model(propeller);
  setup.launch.relaxation_per_s = 1e-4;
  setup.airframe.circle_radius_m = 6;
  return setup;
}

TEST(Ledger, MotorWorkIsTheSumOfTorqueOverTheHistory) {
  const auto flight = fly(draggy_light_model());
  ASSERT_TRUE(flight);
  const Energy& e = flight->energy;
  const double flown = e.at_break - e.not_wound - e.backed_off - e.left_in_motor - e.motor_loss;
  // Some 150 instants of a torque that falls with bends: the trapezoid's error is about
  // (turns step)^2 Q''/12, 1e-3 of the mean at the bends and less elsewhere.
  EXPECT_NEAR(work_of_motor(*flight) / flown, 1, 1e-3);
  EXPECT_NEAR(e.residual / e.at_break, 0, 1e-6);
}

TEST(Ledger, EnergyOfTheMotorIsTheIntegralOfItsTorque) {
  const flight::Setup setup = draggy_light_model();
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  const auto work = [&](double from, double to) {  // midpoint rule, 20000 panels: 1e-7
    const int panels = 20000;
    const double h = (from - to) / panels;
    double sum = 0;
    for (int i = 0; i < panels; ++i) {
      sum += 2 * pi * h * rubber::torque_Nm(setup.motor, to + (i + 0.5) * h);
    }
    return sum;
  };
  const Energy& e = flight->energy;
  const double wound = setup.launch.wound_turns, launched = flight->turns_at_launch;
  EXPECT_NEAR(e.at_break / work(setup.motor.breaking_turns, 0), 1, 1e-6);
  EXPECT_NEAR(e.not_wound / work(setup.motor.breaking_turns, wound), 1, 1e-6);
  EXPECT_NEAR(e.backed_off / work(wound, launched), 1, 1e-6);
  EXPECT_NEAR(e.left_in_motor, work(flight->turns_left, 0), 1e-6 * e.at_break);
}

TEST(Ledger, SlipstreamIsWhatTheShaftGaveLessThrustAndSectionDrag) {
  const flight::Setup setup = draggy_light_model();
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  const auto profile = [&](const Instant& i) {
    return setup.propeller.at(i.speed_m_s, i.rev_per_s).loads.profile_power_W;
  };
  const double induced = over_time(*flight, [&](const Instant& i) {
    return (1 - setup.friction_fraction) * i.torque_Nm * 2 * pi * i.rev_per_s -
           i.thrust_N * i.speed_m_s - profile(i);
  });
  // The trapezoid's 1e-3, on powers about four times the slipstream's.
  EXPECT_NEAR(flight->energy.induced / induced, 1, 0.01);
  EXPECT_NEAR(flight->energy.profile / over_time(*flight, profile), 1, 2e-3);
  const double drag = over_time(*flight, [&](const Instant& i) {
    const Airframe& a = setup.airframe;
    return 0.5 * setup.density_kg_m3 * std::pow(i.speed_m_s, 3) * a.wing_area_m2 *
           a.drag.cd(a.trim_cl, i.speed_m_s);
  });
  EXPECT_NEAR(flight->energy.airframe / drag, 1, 1e-4);  // speed hardly changes
}

TEST(Ledger, HeightIsTheLaunchHeightGivenBack) {
  const flight::Setup setup = draggy_light_model();
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  EXPECT_NEAR(flight->energy.height, -support::weight_N(setup) * setup.launch.height_m, 1e-9);
}

TEST(Ledger, CeilingIsTouchesTimesWeightTimesLoss) {
  flight::Setup setup = draggy_light_model();
  setup.hall.roof_m = 8;
  setup.hall.touch_loss_m = 0.7;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  EXPECT_GT(flight->touches, 3);
  EXPECT_NEAR(flight->energy.ceiling, flight->touches * support::weight_N(setup) * 0.7, 1e-12);
}

RC_GTEST_PROP(Ledger, ClosesWithoutNegativeLosses, ()) {
  const support::StandIn propeller = random_propeller();
  flight::Setup setup = random_setup(propeller);
  if (*rc::gen::arbitrary<bool>()) setup.hall.roof_m = setup.launch.height_m + between(2, 10);
  const auto flight = fly(setup);
  RC_PRE(flight.has_value());
  const Energy& e = flight->energy;
  RC_ASSERT(std::abs(parts(e) - e.at_break) < 1e-6 * e.at_break);
  RC_ASSERT(std::abs(e.residual) < 1e-6 * e.at_break);
  for (const double part : {e.not_wound, e.backed_off, e.left_in_motor, e.motor_loss,
                            e.shaft_friction, e.profile, e.airframe, e.ceiling}) {
    RC_ASSERT(part >= 0);
  }
  RC_ASSERT(e.induced >= -1e-9 * e.at_break);
}

RC_GTEST_PROP(History, RunsFromLaunchToTheEndInOrder, ()) {
  const support::StandIn propeller = random_propeller();
  const flight::Setup setup = random_setup(propeller);
  const auto flight = fly(setup);
  RC_PRE(flight.has_value());
  const auto& history = flight->history;
  RC_ASSERT(history.size() >= 2U);
  RC_ASSERT(history.front().time_s == 0);
  RC_ASSERT(history.front().height_m == setup.launch.height_m);
  RC_ASSERT(history.front().turns == *setup.launch.turns);
  RC_ASSERT(history.back().time_s == flight->duration_s);
  RC_ASSERT(std::abs(history.back().height_m) < 1e-6);
  for (std::size_t i = 1; i < history.size(); ++i) {
    RC_ASSERT(history[i].time_s >= history[i - 1].time_s);
    RC_ASSERT(history[i].turns <= history[i - 1].turns);
    RC_ASSERT(history[i].height_m <= flight->top_height_m);
  }
}

}  // namespace
}  // namespace propwright::flight
