// Batches from a bench test: a test written out from a known motor gives the batch back, and what
// can be wrong with a test is said.
#include <fmt/format.h>
#include <gmock/gmock.h>

#include "propwright/rubber/rubber.h"

namespace propwright::rubber {
namespace {

using ::testing::HasSubstr;

constexpr TestMotor good{.section_m2 = 2e-6, .length_m = 0.25, .mass_kg = 0.465e-3};

/// A bench test of the default strip, read at its nodes, so that both curves are the same.
std::string test_of_default_strip() {
  const auto batch = default_batch().value();
  const auto motor = make_motor(batch, good.section_m2, good.length_m, 0, 0, 293.15).value();
  std::string csv = "# bench test\nturns,torque_winding_Nm,torque_unwinding_Nm\n";
  for (const double x : batch.unwinding.x()) {
    const double turns = x * motor.breaking_turns;
    csv +=
        fmt::format("{},{},{}\n", turns, winding_torque_Nm(motor, turns), torque_Nm(motor, turns));
  }
  return csv;
}

const char* const header = "turns,torque_winding_Nm,torque_unwinding_Nm\n";

TEST(BatchFromTest, GivesTheBatchBackThatMadeTheTest) {
  const auto wanted = default_batch().value();
  const auto batch = batch_from_test(test_of_default_strip(), good, "test.csv").value();
  EXPECT_TRUE(batch.measured);
  // The text carries the shortest digits that read back exactly: rounding only.
  EXPECT_NEAR(batch.turns_constant / wanted.turns_constant, 1, 1e-12);
  EXPECT_NEAR(batch.density_kg_m3 / 930, 1, 1e-12);
  EXPECT_NEAR(batch.energy_J_per_kg / wanted.energy_J_per_kg, 1, 1e-12);
  EXPECT_NEAR(batch.torque_constant_Pa / wanted.torque_constant_Pa, 1, 1e-12);
  EXPECT_NEAR(batch.returned_over_stored, wanted.returned_over_stored, 1e-12);
  for (const double x : {0.05, 0.3, 0.7, 0.91}) {
    EXPECT_NEAR(batch.unwinding.value(x), wanted.unwinding.value(x), 1e-12);
    EXPECT_NEAR(batch.winding.value(x), wanted.winding.value(x), 1e-12);
  }
}

TEST(BatchFromTest, StraightLineTestGivesHalfOfPeakTorqueTimesAngle) {
  // Q rises straight to 0.002 N m at 1000 turns: energy = pi 1000 0.002 J, over the mass.
  const std::string csv =
      std::string(header) + "0,0,0\n250,0.0008,0.0005\n500,0.0015,0.001\n1000,0.002,0.002\n";
  const auto batch = batch_from_test(csv, good, "line.csv").value();
  EXPECT_NEAR(batch.energy_J_per_kg * good.mass_kg, 3.14159265358979 * 2, 1e-12);
  EXPECT_NEAR(batch.torque_constant_Pa * 2e-6 * 1.4142135623730951e-3, 0.002, 1e-16);
}

TEST(BatchFromTest, MissingRowAtZeroTurnsIsAddedAndNoted) {
  const std::string csv = std::string(header) +
                          "100,0.0003,0.0002\n250,0.0008,0.0005\n500,0.0015,0.001\n"
                          "1000,0.002,0.002\n";
  const auto batch = batch_from_test(csv, good, "line.csv").value();
  EXPECT_EQ(batch.unwinding.value(0), 0);
  EXPECT_THAT(batch.notes, ::testing::Contains(HasSubstr("zero turns")));
}

TEST(BatchFromTest, GivenBreakingTurnsStretchTheCurveAndHoldTheEnd) {
  const std::string csv =
      std::string(header) + "0,0,0\n250,0.0008,0.0005\n500,0.0015,0.001\n1000,0.002,0.002\n";
  const auto batch = batch_from_test(csv, good, "line.csv", 1250).value();
  EXPECT_EQ(batch.unwinding.value(0.9), 1);
  EXPECT_NEAR(batch.turns_constant, 1250 * 1.4142135623730951e-3 / 0.25, 1e-12);
  EXPECT_THAT(batch.notes, ::testing::Contains(HasSubstr("80 % of breaking turns")));
  const auto below = batch_from_test(csv, good, "line.csv", 900);
  ASSERT_FALSE(below);
  EXPECT_EQ(below.error()[0].field, "breaking_turns");
}

TEST(BatchFromTest, TurnsThatFallBackAreNamedByLine) {
  const std::string csv =
      std::string(header) + "0,0,0\n250,0.0015,0.001\n200,0.003,0.002\n1000,0.004,0.004\n";
  const auto batch = batch_from_test(csv, good, "order.csv");
  ASSERT_FALSE(batch);
  ASSERT_EQ(batch.error().size(), 1U);
  EXPECT_EQ(batch.error()[0].file, "order.csv");
  EXPECT_EQ(batch.error()[0].line, 4);
  EXPECT_EQ(batch.error()[0].field, "turns");
}

TEST(BatchFromTest, UnwindingAboveWindingIsAllowedAsNoiseOnly) {
  const std::string noise =
      std::string(header) + "0,0,0\n250,0.0005,0.00052\n500,0.001,0.001\n1000,0.002,0.002\n";
  const auto batch = batch_from_test(noise, good, "noise.csv");
  ASSERT_TRUE(batch);
  EXPECT_LE(batch->unwinding.value(0.25), batch->winding.value(0.25));
  const std::string exchanged =
      std::string(header) + "0,0,0\n250,0.0005,0.00055\n500,0.001,0.001\n1000,0.002,0.002\n";
  const auto bad = batch_from_test(exchanged, good, "exchanged.csv");
  ASSERT_FALSE(bad);
  EXPECT_EQ(bad.error()[0].line, 3);
  EXPECT_EQ(bad.error()[0].field, "torque_unwinding_Nm");
}

TEST(BatchFromTest, ThreeRowsAreTooFew) {
  const auto batch = batch_from_test(
      std::string(header) + "0,0,0\n500,0.003,0.002\n1000,0.004,0.004\n", good, "f");
  ASSERT_FALSE(batch);
  EXPECT_EQ(batch.error()[0].value, "3 rows");
}

TEST(BatchFromTest, StripLengthGivenForLoopLengthShowsAsTooLight) {
  TestMotor motor = good;
  motor.length_m = 0.5;
  const auto batch = batch_from_test(test_of_default_strip(), motor, "f");
  ASSERT_FALSE(batch);
  EXPECT_THAT(batch.error()[0].value, HasSubstr("465 kg/m3"));
  EXPECT_THAT(batch.error()[0].remedy, HasSubstr("loop and not of the strip"));
}

TEST(BatchFromTest, SectionOfOneStrandShowsAsTooHeavy) {
  TestMotor motor = good;
  motor.section_m2 = 1e-6;
  const auto batch = batch_from_test(test_of_default_strip(), motor, "f");
  ASSERT_FALSE(batch);
  EXPECT_THAT(batch.error()[0].remedy, HasSubstr("all strands"));
}

TEST(BatchFromTest, CrankTurnsShowInTheTurnsConstant) {
  const std::string csv =
      std::string(header) + "0,0,0\n25,0.0015,0.001\n50,0.003,0.002\n100,0.004,0.004\n";
  const auto batch = batch_from_test(csv, good, "crank.csv");
  ASSERT_FALSE(batch);
  EXPECT_EQ(batch.error()[0].field, "turns");
  EXPECT_THAT(batch.error()[0].remedy, HasSubstr("crank"));
}

TEST(BatchFromTest, MillinewtonMetresShowInTheEnergy) {
  const std::string csv = std::string(header) + "0,0,0\n250,1.5,1\n500,3,2\n1000,4,4\n";
  const auto batch = batch_from_test(csv, good, "milli.csv");
  ASSERT_FALSE(batch);
  EXPECT_THAT(batch.error()[0].remedy, HasSubstr("N m"));
}

TEST(BatchFromTest, TextThatIsNoNumberAndMissingColumnsAreReported) {
  EXPECT_FALSE(batch_from_test("turns,torque_winding_Nm\n0,0\n", good, "f"));
  const auto batch =
      batch_from_test(std::string(header) + "0,0,0\n10,x,0\n20,0,0\n30,0,0\n", good, "f");
  ASSERT_FALSE(batch);
  EXPECT_EQ(batch.error()[0].line, 3);
}

TEST(BatchFromTest, NoTorqueAtTheEndIsAProblem) {
  const auto batch = batch_from_test(
      std::string(header) + "0,0,0\n10,0.001,0\n20,0.002,0\n30,0.003,0\n", good, "f");
  ASSERT_FALSE(batch);
  EXPECT_EQ(batch.error()[0].line, 5);
}

}  // namespace
}  // namespace propwright::rubber
