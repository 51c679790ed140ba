// The default tables can be read, their numbers are in a believable range, and the columns that
// were computed from one another still agree.
#include <gtest/gtest.h>

#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/base/table.h"
#include "propwright/data/data.h"

namespace propwright::data {
namespace {

base::Table read(const std::string& name, const std::vector<base::ColumnRule>& rules) {
  auto table = base::Table::read(file(name), rules, name, true);
  if (!table) {
    std::string lines;
    for (const auto& problem : table.error()) lines += base::to_line(problem) + "\n";
    throw std::runtime_error(lines);
  }
  return *table;
}

void expect_text_in_every_row(const base::Table& table, const std::string& column) {
  for (std::size_t row = 0; row < table.rows(); ++row) {
    EXPECT_FALSE(table.text(row, column).empty()) << column << ", line " << table.line(row);
  }
}

double value_of(const base::Table& table, const std::string& key_column, const std::string& key) {
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.text(row, key_column) == key) return table.column("value")[row];
  }
  throw std::runtime_error("no row named " + key);
}

TEST(Wire, MassAndStiffnessFollowFromTheDiameter) {
  const auto wire = read("wire.csv", {{.name = "diameter_m", .low = 1e-4, .high = 1e-3},
                                      {.name = "mass_kg_per_m", .low = 1e-5, .high = 1e-1},
                                      {.name = "bending_EI_Nm2", .low = 1e-6, .high = 1e-1},
                                      {.name = "torsion_GJ_Nm2", .low = 1e-6, .high = 1e-1}});
  // Steel as the file's source line states it. The table has six digits, so half of the last digit
  // is 5e-6 at worst.
  constexpr double E_Pa = 207e9, G_Pa = 79.3e9, density_kg_m3 = 7850, tolerance = 6e-6;
  for (std::size_t row = 0; row < wire.rows(); ++row) {
    const double d_m = wire.column("diameter_m")[row];
    const double I_m4 = std::numbers::pi * d_m * d_m * d_m * d_m / 64;
    const double A_m2 = std::numbers::pi * d_m * d_m / 4;
    EXPECT_NEAR(wire.column("mass_kg_per_m")[row] / (density_kg_m3 * A_m2), 1, tolerance);
    EXPECT_NEAR(wire.column("bending_EI_Nm2")[row] / (E_Pa * I_m4), 1, tolerance);
    EXPECT_NEAR(wire.column("torsion_GJ_Nm2")[row] / (G_Pa * 2 * I_m4), 1, tolerance);
  }
}

TEST(Films, ThicknessIsMassPerAreaOverPolyesterDensity) {
  const auto films = read("films.csv", {{.name = "areal_mass_kg_m2", .low = 2e-4, .high = 0.05},
                                        {.name = "thickness_m", .low = 0, .high = 1e-5}});
  expect_text_in_every_row(films, "source");
  int computed = 0;
  for (std::size_t row = 0; row < films.rows(); ++row) {
    const double thickness_m = films.column("thickness_m")[row];
    if (thickness_m == 0) continue;  // not known
    ++computed;
    // Four digits in the table: half of the last is 5e-4 at worst.
    EXPECT_NEAR(films.column("areal_mass_kg_m2")[row] / (1390 * thickness_m), 1, 5e-4);
  }
  EXPECT_EQ(computed, 6);
}

TEST(Balsa, ModulusPerDensityGoesThroughTheHandbookPoint) {
  const auto balsa = read("balsa.csv", {{.name = "value"}});
  expect_text_in_every_row(balsa, "unit");
  expect_text_in_every_row(balsa, "source");
  // 3.4 GPa at 160 kg/m3; both are written in full, so only rounding is left.
  EXPECT_NEAR(value_of(balsa, "property", "modulus_per_density") * 160 /
                  value_of(balsa, "property", "bending_modulus_at_density_160"),
              1, 1e-12);
}

TEST(RubberFacts, ValueLiesBetweenLowAndHigh) {
  const auto facts =
      read("rubber_facts.csv", {{.name = "value"}, {.name = "low"}, {.name = "high"}});
  expect_text_in_every_row(facts, "source");
  for (std::size_t row = 0; row < facts.rows(); ++row) {
    EXPECT_LE(facts.column("low")[row], facts.column("value")[row]) << facts.text(row, "quantity");
    EXPECT_GE(facts.column("high")[row], facts.column("value")[row]) << facts.text(row, "quantity");
  }
}

TEST(RubberFacts, ComputedRowsFollowFromTheOthers) {
  const auto facts = read("rubber_facts.csv", {{.name = "value"}});
  const double kappa = value_of(facts, "quantity", "turns_kappa_N_sqrtA_over_L");
  const double energy_J_kg = value_of(facts, "quantity", "energy_unwinding_modern_strip");
  const double density_kg_m3 = value_of(facts, "quantity", "density_raw_natural_rubber");
  // Written with three digits: half of the last is 3e-3.
  EXPECT_NEAR(value_of(facts, "quantity", "mean_torque_coefficient") * 2 * std::numbers::pi *
                  kappa / (energy_J_kg * density_kg_m3),
              1, 3e-3);
}

TEST(Classes, LimitsAreThoseOfModelsOfThisSize) {
  const auto classes = read("classes.csv", {{.name = "largest_span_m", .low = 0, .high = 1},
                                            {.name = "largest_chord_m", .low = 0, .high = 0.3},
                                            {.name = "largest_tail_span_m", .low = 0, .high = 1},
                                            {.name = "least_mass_kg", .low = 0, .high = 0.02},
                                            {.name = "largest_rubber_kg", .low = 0, .high = 0.01},
                                            {.name = "largest_propeller_m", .low = 0, .high = 1}});
  for (const char* column : {"class", "edition", "status", "source"}) {
    expect_text_in_every_row(classes, column);
  }
}

TEST(Classes, F1DOfToday) {
  // FAI Sporting Code Section 4 Volume F1, F1D from 2015: span 550 mm, 1.4 g, 0.4 g of rubber.
  const auto classes =
      read("classes.csv",
           {{.name = "largest_span_m"}, {.name = "least_mass_kg"}, {.name = "largest_rubber_kg"}});
  ASSERT_EQ(classes.text(0, "class"), "F1D");
  ASSERT_EQ(classes.text(0, "edition"), "FAI from 2015-01-01");
  EXPECT_DOUBLE_EQ(classes.column("largest_span_m")[0], 0.55);
  EXPECT_DOUBLE_EQ(classes.column("least_mass_kg")[0], 0.0014);
  EXPECT_DOUBLE_EQ(classes.column("largest_rubber_kg")[0], 0.0004);
}

}  // namespace
}  // namespace propwright::data
