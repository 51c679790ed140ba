// Several motors of a batch, and two batches compared.
#include "propwright/rubber/batch_tests.h"

#include <gmock/gmock.h>

#include <cmath>

namespace propwright::rubber {
namespace {

std::vector<Batch> batches(const std::vector<double>& energies, double kappa = 10.6) {
  std::vector<Batch> all;
  for (const double energy : energies) all.push_back(default_batch(energy, kappa).value());
  return all;
}

TEST(BatchOfTests, OneMotorIsItsOwnMeanAndItsScatterIsNotKnown) {
  const auto batch = batch_of_tests(batches({12000})).value();
  // Sums over the same nodes: rounding only.
  EXPECT_NEAR(batch.mean.torque_constant_Pa / default_batch().value().torque_constant_Pa, 1, 1e-12);
  EXPECT_NEAR(batch.mean.unwinding.value(0.87), default_batch().value().unwinding.value(0.87),
              1e-12);
  EXPECT_EQ(batch.energy_J_per_kg.scatter, 0);
  EXPECT_THAT(batch.notes, ::testing::Contains(::testing::HasSubstr("One motor only")));
}

TEST(BatchOfTests, MotorsThatDifferInEnergyScatterInTorqueByAsMuchAllAlong) {
  const auto batch = batch_of_tests(batches({11000, 12000, 13000})).value();
  EXPECT_NEAR(batch.energy_J_per_kg.mean, 12000, 1e-9);
  EXPECT_NEAR(batch.energy_J_per_kg.scatter, 1000, 1e-9);
  // t for 2 degrees of freedom and 90 % both sides: 2.919986 (tables; six digits).
  EXPECT_NEAR(batch.energy_J_per_kg.high - 12000, 2.919986 * 1000 / std::sqrt(3.0), 1e-2);
  for (const CurvePoint& point : batch.curve) {
    EXPECT_NEAR(point.q_scatter, point.q / 12, 1e-12);
    EXPECT_GE(point.q_winding, point.q - 1e-12);
  }
  EXPECT_NEAR(batch.curve.back().q, 1, 1e-12);
}

TEST(BatchOfTests, MeanMotorReturnsTheMeanEnergy) {
  const auto batch = batch_of_tests(batches({11000, 12500})).value();
  const auto motor = make_motor(batch.mean, 3e-6, 0.3, 0, 0, 293.15).value();
  EXPECT_NEAR(energy_J(motor, motor.breaking_turns, 0) / motor.mass_kg, 11750, 1e-6);
}

TEST(BatchOfTests, EachMotorsOwnRowsStandToTheScaleOfTheMean) {
  const auto batch = batch_of_tests(batches({11000, 12000, 13000})).value();
  ASSERT_EQ(batch.motors.size(), 3);
  // The same shape, so each stands off the mean by its energy over theirs.
  EXPECT_NEAR(batch.motors[0].back().q, 11.0 / 12, 1e-12);
  EXPECT_NEAR(batch.motors[2].back().q, 13.0 / 12, 1e-12);
  EXPECT_NEAR(batch.motors[1][3].q_winding,
              default_batch().value().winding.value(batch.motors[1][3].x), 1e-12);
}

TEST(BatchOfTests, MeanAsOneTestIsReadBackAsTheMean) {
  auto tests = batches({11000, 12500}, 10.2);
  tests[1].turns_constant = 10.9;
  const Batch mean = batch_of_tests(tests).value().mean;
  const MeanTest test = mean_test(mean, 3.1e-6, 0.25);
  const Batch back = batch_from_test(test.csv, test.motor, "mean.csv").value();
  // Twelve digits are written.
  EXPECT_NEAR(back.energy_J_per_kg / mean.energy_J_per_kg, 1, 1e-9);
  EXPECT_NEAR(back.turns_constant / mean.turns_constant, 1, 1e-9);
  EXPECT_NEAR(back.density_kg_m3 / mean.density_kg_m3, 1, 1e-9);
  EXPECT_NEAR(back.winding.value(0.63), mean.winding.value(0.63), 1e-9);
  EXPECT_NEAR(back.unwinding.value(0.63), mean.unwinding.value(0.63), 1e-9);
}

TEST(BatchOfTests, TestOnAWarmerDayIsBroughtToTheFirstOnesTemperature) {
  auto tests = batches({12000, 12000});
  tests[1].test_temperature_K += 10;
  const auto batch = batch_of_tests(tests).value();
  // 0.81 % per degree: the warm one would have given 8.1 % less at the first one's temperature.
  EXPECT_NEAR(batch.energy_J_per_kg.mean, 12000 * (1 - 0.081 / 2), 1e-9);
}

TEST(CompareBatches, EqualBatchesShowNoDifferenceAndFarOnesDo) {
  const auto a = batch_of_tests(batches({11900, 12000, 12100})).value();
  const auto same = compare_batches(a, a);
  EXPECT_EQ(same[0].difference, Difference::not_seen);
  EXPECT_NEAR(same[0].ratio, 1, 1e-12);
  const auto b = batch_of_tests(batches({13000, 13100, 13200})).value();
  const auto better = compare_batches(a, b);
  EXPECT_EQ(better[0].name, "energy_J_per_kg");
  EXPECT_EQ(better[0].difference, Difference::clear);
  EXPECT_GT(better[0].low, 1);
  const auto c = batch_of_tests(batches({13000})).value();
  EXPECT_EQ(compare_batches(a, c)[0].difference, Difference::unknown);
}

// The same torque read on a warmer day is less rubber: it is brought to the temperature of the
// first.
TEST(CompareBatches, TestsOfAWarmerDayAreBroughtToTheFirst) {
  const auto a = batch_of_tests(batches({11900, 12000, 12100})).value();
  auto warm = batches({11900, 12000, 12100});
  for (Batch& test : warm) test.test_temperature_K += 10;
  const auto figures = compare_batches(a, batch_of_tests(warm).value());
  const double factor = 1 - 10 * a.mean.temperature_coefficient_per_K;
  EXPECT_LT(factor, 0.95);
  EXPECT_NEAR(figures[0].ratio, factor, 1e-12);
  EXPECT_NEAR(figures[1].ratio, 1, 1e-12) << "turns";
  EXPECT_NEAR(figures[2].ratio, factor, 1e-12);
  EXPECT_EQ(figures[0].difference, Difference::clear);
}

TEST(CompareBatches, IntervalIsWelchs) {
  // Equal relative scatter and number: freedom 2 (n - 1) = 4, t 2.131847 (tables).
  const auto a = batch_of_tests(batches({9900, 10000, 10100})).value();
  const auto b = batch_of_tests(batches({10890, 11000, 11110})).value();
  const auto energy = compare_batches(a, b)[0];
  EXPECT_NEAR(energy.high / energy.ratio - 1, 2.131847 * 0.01 * std::sqrt(2.0 / 3), 1e-7);
}

}  // namespace
}  // namespace propwright::rubber
