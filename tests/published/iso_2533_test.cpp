// ISO 2533:1975 standard atmosphere and its Sutherland viscosity. The tables were computed once,
// outside this program, from the standard's defining constants; the sources stand in the files.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "propwright/air/air.h"
#include "propwright/base/table.h"

namespace propwright::air {
namespace {

base::Table read_table(const std::string& name, const std::vector<base::ColumnRule>& columns) {
  std::ifstream file(PROPWRIGHT_TEST_DATA_DIR "/" + name);
  std::stringstream text;
  text << file.rdbuf();
  auto table = base::Table::read(text.str(), columns, name, true);
  EXPECT_TRUE(table) << base::to_line(table.error().front());
  return table.value_or(base::Table());
}

TEST(Iso2533, TroposphereIsThatOfTheTableToItsLastDigit) {
  const base::Table table = read_table("standard_atmosphere.csv",
                                       {{"H_m"}, {"T_K"}, {"p_Pa"}, {"rho_kg_m3"}, {"mu_Pa_s"}});
  ASSERT_GE(table.rows(), 10u);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const StandardAtmosphere air = standard_atmosphere(table.column("H_m")[row]);
    // Half a unit of each column's last printed digit: 0.001 K (one altitude is whole metres, so
    // its temperature has four decimals), 0.01 Pa, 1e-6 kg/m3, 1e-11 Pa s.
    EXPECT_NEAR(air.temperature_K, table.column("T_K")[row], 0.00051);
    EXPECT_NEAR(air.pressure_Pa, table.column("p_Pa")[row], 0.0051);
    EXPECT_NEAR(air.density_kg_m3, table.column("rho_kg_m3")[row], 0.51e-6);
    EXPECT_NEAR(sutherland_viscosity_Pa_s(air.temperature_K), table.column("mu_Pa_s")[row],
                0.51e-11);
  }
}

TEST(Iso2533, SeaLevelIsAsDefined) {
  const StandardAtmosphere air = standard_atmosphere(0);
  EXPECT_EQ(air.temperature_K, 288.15);
  EXPECT_EQ(air.pressure_Pa, 101325.0);
  EXPECT_NEAR(air.density_kg_m3, 1.225, 0.5e-6);  // defined as 1.225 kg/m3; R has 8 digits
}

TEST(Iso2533, TropopauseHasThePublishedPressure) {
  // 216.65 K and 226.32 hPa at 11 km: ISO 2533 table 1 (from memory), printed to 0.01 hPa.
  const StandardAtmosphere air = standard_atmosphere(11000);
  EXPECT_NEAR(air.temperature_K, 216.65, 1e-9);
  EXPECT_NEAR(air.pressure_Pa, 22632, 0.5);
}

TEST(Iso2533, SutherlandViscosityIsThatOfTheTableToItsLastDigit) {
  const base::Table table = read_table("air_viscosity.csv", {{"t_C"}, {"mu_isa_Pa_s"}});
  ASSERT_GE(table.rows(), 10u);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    EXPECT_NEAR(sutherland_viscosity_Pa_s(table.column("t_C")[row] + 273.15),
                table.column("mu_isa_Pa_s")[row], 0.51e-11);
  }
}

TEST(Iso2533, DryCipmAirIsDenserByTheGasComposition) {
  // The standard's R stands for a lighter mixture: 28.96442 g/mol over Z = 1 against CIPM-2007's
  // 28.96546 g/mol and Z = 0.999592 at 15 degC. Their quotient is 1 + 3.6e-5 + 4.1e-4.
  const double ratio = cipm_density_kg_m3(288.15, 101325, 0) / standard_atmosphere(0).density_kg_m3;
  EXPECT_NEAR(ratio - 1, 4.3e-4, 0.1e-4);
}

}  // namespace
}  // namespace propwright::air
