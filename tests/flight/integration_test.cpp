// The integration against one written here: fixed steps of the classical Runge-Kutta method, the
// steady state solved anew at every stage instead of read from a table.
#include <gtest/gtest.h>

#include <cmath>

#include "stand_in.h"

namespace propwright::flight {
namespace {

struct TimeAndHeight {
  double time_s = 0, height_m = 0;
};

class PlainIntegration {
 public:
  explicit PlainIntegration(const flight::Setup& setup) : setup_(setup) {}

  /// From launch until no turns are left or, before that, the floor. The height is that of the
  /// energy, less the speed's share.
  TimeAndHeight fly(int steps) const {
    const double launched = *setup_.launch.turns;
    const double h = launched / steps;
    const double start_speed = state(launched, 0)->speed_m_s;
    TimeAndHeight y{0, setup_.launch.height_m};
    TimeAndHeight before = y;
    double height = y.height_m;
    for (int i = 0; i < steps; ++i) {
      const double turns = launched - i * h;
      before = {y.time_s, height};
      const auto k1 = rate(turns, y.time_s);
      const auto k2 = rate(turns - h / 2, y.time_s + h / 2 * k1.time_s);
      const auto k3 = rate(turns - h / 2, y.time_s + h / 2 * k2.time_s);
      const auto k4 = rate(turns - h, y.time_s + h * k3.time_s);
      y.time_s += h / 6 * (k1.time_s + 2 * k2.time_s + 2 * k3.time_s + k4.time_s);
      y.height_m += h / 6 * (k1.height_m + 2 * k2.height_m + 2 * k3.height_m + k4.height_m);
      const double speed = state(turns - h, y.time_s)->speed_m_s;
      height = y.height_m - (speed * speed - start_speed * start_speed) / (2 * 9.80665);
      if (height <= 0) {
        const double share = before.height_m / (before.height_m - height);
        return {before.time_s + share * (y.time_s - before.time_s), 0};
      }
    }
    return {y.time_s, height};
  }

 private:
  base::Expected<Equilibrium> state(double turns, double time) const {
    const double relaxed =
        rubber::torque_Nm(setup_.motor, turns) *
        std::exp(-setup_.launch.relaxation_per_s * (setup_.launch.wait_s + time));
    return equilibrium(setup_, relaxed);
  }
  /// Per turn used.
  TimeAndHeight rate(double turns, double time) const {
    const auto e = state(turns, time);
    return {1 / e->rev_per_s, e->climb_m_s / e->rev_per_s};
  }
  const flight::Setup& setup_;
};

flight::Setup draggy_model() {
  support::StandIn propeller;
  propeller.section_drag = 0.002;
  propeller.standing_drag = 0.01;
  flight::Setup setup = support::light_model(propeller);
  setup.airframe.circle_radius_m = 6;
  setup.launch.relaxation_per_s = 2e-4;
  return setup;
}

// 1e-5 relative: a hundredth of a second on a long flight, far below any doubt of the inputs. The
// comparison's own error is fourth order between the knots of the motor's curve and second order at
// the knots, 1e-7 with 8000 steps (checked by halving).
constexpr double wanted_accuracy = 1e-5;

TEST(Integration, PoweredPartAgreesWithFineRungeKutta) {
  const flight::Setup setup = draggy_model();
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  ASSERT_EQ(flight->turns_left, 0) << "meant to run out of turns in the air";
  const TimeAndHeight end = PlainIntegration(setup).fly(8000);
  const TimeAndHeight halved = PlainIntegration(setup).fly(4000);
  EXPECT_NEAR(halved.time_s / end.time_s, 1, 1e-6);
  const Instant& motor_out = flight->history[flight->history.size() - 3];
  ASSERT_NEAR(motor_out.turns, 0, 1e-6);
  EXPECT_NEAR(motor_out.time_s / end.time_s, 1, wanted_accuracy);
  EXPECT_NEAR(motor_out.height_m / end.height_m, 1, wanted_accuracy);
}

TEST(Integration, LandingUnderPowerAgreesWithFineRungeKutta) {
  flight::Setup setup = draggy_model();
  const rubber::Batch batch = rubber::default_batch().value();
  setup.motor = support::motor_of(batch, 3.0e-6, 0.0014);
  setup.launch.wound_turns = 0.9 * setup.motor.breaking_turns;
  setup.launch.turns = 0.8 * setup.motor.breaking_turns;
  const auto flight = fly(setup);
  ASSERT_TRUE(flight);
  ASSERT_GT(flight->turns_left, 1) << "meant to land with turns left";
  const TimeAndHeight end = PlainIntegration(setup).fly(8000);
  EXPECT_NEAR(flight->duration_s / end.time_s, 1, wanted_accuracy);
}

}  // namespace
}  // namespace propwright::flight
