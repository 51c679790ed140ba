// The default strip against what builders posted of theirs. Sources: data/rubber_facts.csv and
// data/rubber_turns_data.csv, each row with its own: indoor-construction mailing-list archive
// 2005-2019 (message numbers there), Langley Memoir on Mechanical Flight (1911).
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include "propwright/base/constants.h"
#include "propwright/base/table.h"
#include "propwright/rubber/rubber.h"

namespace propwright::rubber {
namespace {

constexpr double inch_m = 0.0254;

/// A table, all its columns asked for by name.
base::Table read(const std::string& path, const std::vector<base::ColumnRule>& rules) {
  std::ifstream stream(path);
  std::stringstream text;
  text << stream.rdbuf();
  return base::Table::read(text.str(), rules, path, true).value();
}

/// The value of one fact.
double fact(const std::string& quantity) {
  const auto table =
      read(std::string(PROPWRIGHT_SOURCE_DIR) + "/data/rubber_facts.csv", {{.name = "value"}});
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.text(row, "quantity") == quantity) return table.column("value")[row];
  }
  ADD_FAILURE() << "no fact " << quantity;
  return std::nan("");
}

double energy_left(double x) {
  const auto curve = default_batch()->unwinding;
  return curve.integral(0, x) / curve.integral(0, 1);
}

// The formula N = 10.64 L/sqrt(S) and its posted check: 0.083 x 0.042 in, two strands: 127.4 turns
// per inch, 17 in of loop gives 2166. Posted to four digits, hence half a digit of the last.
TEST(RubberArchive, TurnsFormulaGives127Point4TurnsPerInchAnd2166For17Inches) {
  const auto batch = default_batch(12000, fact("turns_kappa_N_sqrtA_over_L")).value();
  const double section_m2 = 2 * 0.083 * 0.042 * inch_m * inch_m;
  EXPECT_NEAR(breaking_turns(batch, section_m2, inch_m), 127.4, 0.05);
  EXPECT_NEAR(breaking_turns(batch, section_m2, 17 * inch_m), 2166, 0.5);
}

// The default 10.6 is the posted 10.64 in two and a half digits, within practice (9 to 13).
TEST(RubberArchive, DefaultTurnsConstantIsThePostedOne) {
  EXPECT_NEAR(default_batch()->turns_constant, fact("turns_kappa_N_sqrtA_over_L"), 0.05);
}

TEST(RubberArchive, BackingOffCostsThePostedEnergy) {
  // Posted in steps of 5 %; the default's aim is 0.5 %.
  EXPECT_NEAR(1 - energy_left(0.90), fact("backoff_10pct_energy_lost"), 0.005);
  EXPECT_NEAR(1 - energy_left(0.85), fact("backoff_15pct_energy_lost"), 0.005);
  EXPECT_NEAR(1 - energy_left(0.80), fact("backoff_20pct_energy_lost"), 0.005);
}

TEST(RubberArchive, PlateauFallsAsPosted) {
  const auto curve = default_batch()->unwinding;
  // Posted to two digits.
  EXPECT_NEAR(curve.value(0.23) / curve.value(0.54), fact("torque_ratio_23pct_to_54pct_turns"),
              0.01);
  // Posted from 0.30 ozf in, one digit after rounding: 0.30 to 0.35 over 0.9 is 0.30 to 0.38.
  EXPECT_NEAR(curve.value(0.79) / curve.value(0.94), fact("torque_after_15pct_backoff_over_peak"),
              0.04);
  // 0.47 by calculation, 0.53 to 0.55 in practice: between the two a quarter of the energy passes.
  EXPECT_NEAR(energy_left(fact("turns_fraction_where_25pct_energy_left")), 0.25, 0.02);
}

// Posted motors: N = kappa L/sqrt(A) with A = m/(rho L) is N = kappa sqrt(rho) sqrt(L^3/m). The
// posted constant 44 in^-1.5 g^0.5 (range 42 to 45 of the motors) is our kappa 11.27 at 930 kg/m3;
// the two published constants differ by 6 %, and no batch is named, so 6 % is the data's own
// spread.
TEST(RubberArchive, PostedTurnsAreWithinSixPercentExceptTheMiniStick) {
  const double density = fact("density_raw_natural_rubber");
  const double kappa = fact("turns_constant_SI") / std::sqrt(density);
  const auto batch = default_batch(12000, kappa, density).value();
  const auto table =
      read(std::string(PROPWRIGHT_TEST_DATA_DIR) + "/rubber_turns_data.csv",
           {{.name = "loop_length_m"}, {.name = "mass_kg"}, {.name = "turns_wound"}});
  ASSERT_EQ(table.rows(), 9U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const double length = table.column("loop_length_m")[row];
    const double section = table.column("mass_kg")[row] / (density * length);
    const double ratio = table.column("turns_wound")[row] / breaking_turns(batch, section, length);
    if (table.text(row, "case") == "Mini-stick record flight") {
      EXPECT_GT(ratio, 1.2);  // a record batch and loop, outside the formula
    } else {
      EXPECT_NEAR(ratio, 1, 0.06) << table.text(row, "case");
    }
  }
}

// The constant 10.6 is the lower of the two: every posted motor was wound beyond it.
TEST(RubberArchive, DefaultTurnsConstantIsOnTheSafeSideOfPostedMotors) {
  const auto batch = default_batch().value();
  const auto table =
      read(std::string(PROPWRIGHT_TEST_DATA_DIR) + "/rubber_turns_data.csv",
           {{.name = "loop_length_m"}, {.name = "mass_kg"}, {.name = "turns_wound"}});
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const double length = table.column("loop_length_m")[row];
    const double section = table.column("mass_kg")[row] / (batch.density_kg_m3 * length);
    EXPECT_GE(table.column("turns_wound")[row] / breaking_turns(batch, section, length), 1.0)
        << table.text(row, "case");
  }
}

// Mean torque e rho A^1.5/(2 pi kappa) = 1.67e5 A^1.5, computed from e 12 kJ/kg, rho 930, kappa
// 10.64: three digits given.
TEST(RubberArchive, MeanTorqueCoefficientIs167Thousand) {
  const auto batch = default_batch(12000, 10.64, 930).value();
  const auto motor = make_motor(batch, 2e-6, 0.25, 0, 0, 293.15).value();
  const double mean_Nm =
      energy_J(motor, motor.breaking_turns, 0) / (2 * base::pi * motor.breaking_turns);
  EXPECT_NEAR(mean_Nm / std::pow(2e-6, 1.5), fact("mean_torque_coefficient"), 500);
}

// 0.612 g wound to 2860 turns: mean torque e m/(2 pi N) = 4.09e-4 N m (three digits given).
TEST(RubberArchive, MeanTorqueOfThe32MinuteMotorIs0Point409MilliNewtonMetre) {
  const double mass = 0.612e-3, length = 14 * inch_m;
  const double section = mass / (930 * length);
  const double kappa = 2860 * std::sqrt(section) / length;
  const auto batch = default_batch(12000, kappa, 930).value();
  const auto motor = make_motor(batch, section, length, mass, 0, 293.15).value();
  EXPECT_NEAR(motor.breaking_turns, 2860, 1e-9);
  EXPECT_NEAR(energy_J(motor, motor.breaking_turns, 0) / (2 * base::pi * 2860), 4.09e-4, 0.005e-4);
}

// Energy: modern strip 3000 to 4800 ft lbf/lb, commonly 4000 to 4700; 4000 ft lbf/lb is the
// default.
TEST(RubberArchive, DefaultEnergyIsFourThousandFootPoundsPerPound) {
  const double foot_pounds_per_pound = 0.3048 * base::gravity_m_s2;                 // J/kg
  EXPECT_NEAR(default_batch()->energy_J_per_kg / foot_pounds_per_pound, 4000, 20);  // 2 digits
  EXPECT_NEAR(default_batch()->energy_J_per_kg, fact("energy_unwinding_modern_strip"), 1);
}

// The rubber of 1889 gave a ninth of modern strip (Langley Memoir 1911: 450 ft lbf/lb): a batch
// test of such rubber must be read, so only its ratio to the default is checked here.
TEST(RubberArchive, ModernStripGivesNineTimesTheRubberOf1889) {
  const double old_J_per_kg = fact("energy_twisted_1889_rubber");
  EXPECT_NEAR(default_batch()->energy_J_per_kg / old_J_per_kg, 9, 0.5);
  const TestMotor motor{.section_m2 = 2e-6, .length_m = 0.25, .mass_kg = 0.465e-3};
  const std::string csv =
      "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n250,1e-4,5e-5\n500,1.5e-4,1e-4\n"
      "1000,2e-4,2e-4\n";
  const auto batch = batch_from_test(csv, motor, "old.csv");
  ASSERT_TRUE(batch);
  EXPECT_NEAR(batch->energy_J_per_kg / old_J_per_kg, 1, 0.02);  // torque given to one digit
}

TEST(RubberArchive, ReturnedOverStoredEnergyIsThePosted) {
  EXPECT_NEAR(default_batch()->returned_over_stored, fact("energy_returned_over_stored"), 0.001);
}

TEST(RubberArchive, TenDegreesChangeTheEnergyByThePostedCoefficient) {
  const auto batch = default_batch().value();
  EXPECT_EQ(batch.temperature_coefficient_per_K, fact("temperature_effect_on_energy"));
  const auto cool = make_motor(batch, 2e-6, 0.25, 0, 0, 288.15).value();
  const auto warm = make_motor(batch, 2e-6, 0.25, 0, 0, 301.15).value();
  // 15 to 28 degC: 0.76 to 0.86 % a degree of the energy between.
  const double per_degree =
      (energy_J(warm, cool.breaking_turns, 0) - energy_J(cool, cool.breaking_turns, 0)) / 13 /
      energy_J(cool, cool.breaking_turns, 0);
  EXPECT_GT(per_degree, 0.0076);
  EXPECT_LT(per_degree, 0.0086);
}

}  // namespace
}  // namespace propwright::rubber
