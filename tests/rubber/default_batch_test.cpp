// The default strip: its curve against the facts it was fitted to. Source of the facts:
// indoor-construction mailing-list archive, msgs 0612/1700 and 0612/1707 (2006); the ratio of
// returned to stored energy, 0.65 to 0.67: a modelling article on rubber motors.
#include <gmock/gmock.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rubber/rubber.h"

namespace propwright::rubber {
namespace {

double energy_left(double x) {
  const auto batch = default_batch().value();
  return batch.unwinding.integral(0, x) / batch.unwinding.integral(0, 1);
}

double q(double x) {
  return default_batch().value().unwinding.value(x);
}

// The archive rounds the energy lost to 5 %; 0.005 is the fit's own aim, ten times tighter.
TEST(DefaultBatch, BackingOffTenPercentCostsThirtyPercentOfEnergy) {
  EXPECT_NEAR(energy_left(0.90), 0.70, 0.005);
}

TEST(DefaultBatch, BackingOffFifteenPercentCostsFortyPercentOfEnergy) {
  EXPECT_NEAR(energy_left(0.85), 0.60, 0.005);
}

TEST(DefaultBatch, BackingOffTwentyPercentCostsFortyFivePercentOfEnergy) {
  EXPECT_NEAR(energy_left(0.80), 0.55, 0.005);
}

TEST(DefaultBatch, TorqueAt23PercentOverTorqueAt54PercentIs070) {
  EXPECT_NEAR(q(0.23) / q(0.54), 0.70, 0.01);  // read to two digits
}

TEST(DefaultBatch, AboutAQuarterOfTheEnergyIsLeftAt47Percent) {
  // The archive gives 0.25 at 0.47 by calculation and at 0.53 to 0.55 in practice.
  EXPECT_GT(energy_left(0.47), 0.24);
  EXPECT_LT(energy_left(0.47), 0.27);
}

TEST(DefaultBatch, FifteenPercentBackOffLeavesAThirdOfTheTorque) {
  // 0.9 to 0.30 ozf in from 94 % of breaking turns, read to one digit.
  EXPECT_GT(q(0.79) / q(0.94), 0.30);
  EXPECT_LT(q(0.79) / q(0.94), 0.38);
}

TEST(DefaultBatch, ReturnedOverStoredIs066) {
  const auto batch = default_batch().value();
  // Nodes are rounded to four digits.
  EXPECT_NEAR(batch.returned_over_stored, 0.66, 5e-4);
  EXPECT_NEAR(batch.returned_over_stored,
              batch.unwinding.integral(0, 1) / batch.winding.integral(0, 1), 1e-15);
}

TEST(DefaultBatch, CurveRunsFromZeroToOneAndNeverFalls) {
  const auto batch = default_batch().value();
  EXPECT_EQ(batch.unwinding.value(0), 0);
  EXPECT_EQ(batch.unwinding.value(1), 1);
  EXPECT_EQ(batch.winding.value(0), 0);
  EXPECT_EQ(batch.winding.value(1), 1);
  for (int i = 0; i < 2000; ++i) {
    const double x = i / 2000.0, next = (i + 1) / 2000.0;
    EXPECT_LT(batch.unwinding.value(x), batch.unwinding.value(next)) << x;
    EXPECT_LT(batch.winding.value(x), batch.winding.value(next)) << x;
    EXPECT_LE(batch.unwinding.value(x), batch.winding.value(x)) << x;
  }
}

TEST(DefaultBatch, PlateauSlopesGentlyAndFallsFastAtTheEnd) {
  const auto curve = default_batch().value().unwinding;
  for (double x = 0.10; x < 0.75; x += 0.01) EXPECT_LT(curve.slope(x), 0.35) << x;
  EXPECT_GT(curve.slope(0.0), 1.5);
  EXPECT_LT(curve.slope(0.0), 4.0);
  EXPECT_GT(curve.slope(0.92), 3.0);
}

TEST(DefaultBatch, SaysItIsAGuess) {
  const auto batch = default_batch().value();
  EXPECT_FALSE(batch.measured);
  EXPECT_THAT(batch.notes, ::testing::ElementsAre(::testing::HasSubstr("guess")));
}

TEST(DefaultBatch, TorqueConstantClosesTheEnergyBalance) {
  const auto batch = default_batch(11000, 9.5, 960).value();
  EXPECT_NEAR(batch.torque_constant_Pa * 2 * base::pi * 9.5 * batch.unwinding.integral(0, 1) /
                  (11000.0 * 960.0),
              1, 1e-14);  // rounding of a few products
}

TEST(DefaultBatch, EveryArgumentOutOfRangeIsNamed) {
  const auto batch = default_batch(20000, 2, std::nan(""));
  ASSERT_FALSE(batch);
  ASSERT_EQ(batch.error().size(), 3U);
  EXPECT_EQ(batch.error()[0].field, "energy_J_per_kg");
  EXPECT_EQ(batch.error()[1].field, "turns_constant");
  EXPECT_EQ(batch.error()[2].field, "density_kg_m3");
  EXPECT_EQ(batch.error()[0].allowed, "6000 to 16000");
}

}  // namespace
}  // namespace propwright::rubber
