// Picard, Davis, Glaeser, Fujii, Metrologia 45 (2008) 149-155: revised formula for the density of
// moist air (CIPM-2007). The table was computed once, outside this program, from the published
// equation; its source line stands in the file.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "propwright/air/air.h"
#include "propwright/base/table.h"

namespace propwright::air {
namespace {

base::Table moist_air_table() {
  std::ifstream file(PROPWRIGHT_TEST_DATA_DIR "/moist_air_density.csv");
  std::stringstream text;
  text << file.rdbuf();
  auto table = base::Table::read(text.str(),
                                 {{"p_Pa"}, {"t_C"}, {"rh"}, {"rho_kg_m3"}, {"rho_approx_kg_m3"}},
                                 "moist_air_density.csv", true);
  EXPECT_TRUE(table) << base::to_line(table.error().front());
  return table.value_or(base::Table());
}

double density(const base::Table& table, std::size_t row) {
  return cipm_density_kg_m3(table.column("t_C")[row] + 273.15, table.column("p_Pa")[row],
                            table.column("rh")[row]);
}

TEST(Cipm2007, DensityIsThatOfTheTableToItsLastDigit) {
  const base::Table table = moist_air_table();
  ASSERT_GE(table.rows(), 50u);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    // Printed to 1e-6 kg/m3: half of that is rounding, the rest is for the sum's own rounding.
    EXPECT_NEAR(density(table, row), table.column("rho_kg_m3")[row], 0.51e-6)
        << "line " << table.line(row);
  }
}

TEST(Cipm2007, ApproximationOfOimlR111IsNearWithinItsStatedRange) {
  // OIML R 111-1:2004, E.3, gives (0.34848 p - 0.009 h exp(0.061 t)) / (273.15 + t) with a relative
  // uncertainty of 2e-4 for 900-1100 hPa, 10-30 degC and less than 80 % (from memory). It was
  // fitted to the 1981/91 equation; argon's revised share raised CIPM-2007 by 7e-5 (the paper).
  const base::Table table = moist_air_table();
  int compared = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const double t_C = table.column("t_C")[row];
    if (t_C < 10 || t_C > 30 || table.column("rh")[row] >= 0.8) continue;
    ++compared;
    EXPECT_NEAR(density(table, row) / table.column("rho_approx_kg_m3")[row], 1.0, 2.7e-4)
        << "line " << table.line(row);
  }
  EXPECT_GE(compared, 20);
}

}  // namespace
}  // namespace propwright::air
