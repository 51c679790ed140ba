// The nominal flight of the project's examples. Bounds of the tests are wide: the examples are
// there to be changed.
#include <gtest/gtest.h>

#include <cmath>

#include "jobs.h"
#include "propwright/base/constants.h"
#include "propwright/predict/predict.h"

namespace propwright::predict {
namespace {

class Example : public testing::TestWithParam<const char*> {
 protected:
  const brief::Job job = support::example(GetParam());
  const base::Expected<Nominal> nominal = predict(job, support::attachments(job));
  void SetUp() override { ASSERT_TRUE(nominal) << base::to_line(nominal.error().front()); }
};

TEST_P(Example, FliesFinitelyAndUnderTheBound) {
  const flight::Flight& flight = nominal->flight;
  ASSERT_TRUE(std::isfinite(flight.duration_s));
  EXPECT_GT(flight.duration_s, 60);  // official flights of these classes start at a minute
  EXPECT_LE(flight.duration_s, nominal->bound_s);
  for (const flight::Instant& i : flight.history) {
    ASSERT_TRUE(std::isfinite(i.time_s + i.height_m + i.rev_per_s + i.torque_Nm + i.speed_m_s +
                              i.climb_m_s + i.turns + i.thrust_N));
  }
}

TEST_P(Example, TopsOutTheMarginUnderTheRoofOrIsFullyWound) {
  if (!job.launch.margin_m) GTEST_SKIP() << "launched otherwise";
  const double wanted = job.hall.roof_height_m - *job.launch.margin_m;
  const flight::Flight& flight = nominal->flight;
  EXPECT_LT(flight.top_height_m, wanted + 0.001);  // launch control's millimetre
  if (flight.turns_at_launch < 0.999 * flight.turns_wound) {
    EXPECT_GT(flight.top_height_m, wanted - 0.001);
  }
}

TEST_P(Example, EnergyPartsAddUp) {
  const flight::Energy& e = nominal->flight.energy;
  const double parts = e.not_wound + e.backed_off + e.left_in_motor + e.motor_loss +
                       e.shaft_friction + e.induced + e.profile + e.airframe + e.height +
                       e.kinetic + e.ceiling + e.residual;
  EXPECT_NEAR(parts / e.at_break, 1, 1e-6);
  EXPECT_NEAR(e.residual / e.at_break, 0, 1e-6);
  EXPECT_GT(e.induced, 0);
  EXPECT_GT(e.profile, 0);
}

// An ideal actuator disc of the propeller's own diameter takes less power for the same thrust and
// speed at every instant: momentum theory, without swirl, drag or blades.
TEST_P(Example, ShaftPowerExceedsThatOfTheIdealDiscAllAlong) {
  const flight::Setup& setup = nominal->setup;
  const double area = base::pi * std::pow(setup.propeller.tip_radius_m(), 2);
  for (const flight::Instant& i : nominal->flight.history) {
    if (i.thrust_N <= 0) continue;
    const double loading =
        i.thrust_N / (0.5 * setup.density_kg_m3 * i.speed_m_s * i.speed_m_s * area);
    const double ideal_W = i.thrust_N * i.speed_m_s * (1 + std::sqrt(1 + loading)) / 2;
    const double shaft_W = (1 - setup.friction_fraction) * i.torque_Nm * 2 * base::pi * i.rev_per_s;
    EXPECT_GT(shaft_W, ideal_W) << i.time_s;
  }
}

TEST_P(Example, IsTheSameEveryTime) {
  const auto again = predict(job, support::attachments(job));
  ASSERT_TRUE(again);
  EXPECT_EQ(again->flight.duration_s, nominal->flight.duration_s);
  EXPECT_EQ(again->flight.turns_at_launch, nominal->flight.turns_at_launch);
}

INSTANTIATE_TEST_SUITE_P(Examples, Example, testing::Values("lantern46", "sparrow16", "heron55"),
                         [](const auto& example) { return std::string(example.param); });

TEST(Nominal, ProblemOfAJobComesThrough) {
  brief::Job job = support::example("lantern46");
  job.model.circle_radius_m = 0.05;
  const auto nominal = predict(job, support::attachments(job));
  ASSERT_FALSE(nominal);
  EXPECT_EQ(nominal.error().front().field, "model.circle_radius");
}

}  // namespace
}  // namespace propwright::predict
