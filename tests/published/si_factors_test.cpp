// Conversion factors of NIST SP 811 (Thompson, Taylor 2008), Appendix B, re-derived for the table
// from the inch, the pound and standard gravity; see the source line in the file.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>

#include "propwright/base/constants.h"
#include "propwright/base/table.h"
#include "propwright/units/units.h"

namespace propwright::units {
namespace {

using D = Dimension;

struct Route {
  Dimension dimension;
  std::string unit;      ///< as our parser reads the table's first column
  double si_per_target;  ///< SI numbers of the table's second column
};

TEST(SiFactors, EveryFactorOfTheTableIsReached) {
  std::ifstream file(PROPWRIGHT_TEST_DATA_DIR "/unit_conversions.csv");
  std::stringstream text;
  text << file.rdbuf();
  const auto table = base::Table::read(text.str(), {}, "unit_conversions.csv", true);
  ASSERT_TRUE(table);
  const std::map<std::string, Route> routes = {
      {"lb/ft3", {D::density, "lb/ft3", 1}},
      {"ozf in", {D::torque, "ozf in", 1}},
      {"gf cm", {D::torque, "gf cm", 1}},
      {"gf", {D::force, "gf", 1}},
      {"ft lbf/lb", {D::energy_per_mass, "ft lbf/lb", 1}},
      {"psi", {D::modulus, "psi", 1}},
      {"in", {D::length, "in", 1}},
      {"ft", {D::length, "ft", 1}},
      {"oz", {D::mass, "oz", 1}},
      {"lb", {D::mass, "lb", 1}},
      {"mg per 100 in2", {D::areal_density, "mg/100 in2", 1e-6}},
      {"g/in", {D::line_density, "g/in", 1}},
      {"in2", {D::area, "in2", 1}},
      {"rpm", {D::rotation, "rpm", 1 / (2 * base::pi)}},
  };
  std::size_t reached = 0;
  for (std::size_t row = 0; row < table->rows(); ++row) {
    const auto route = routes.find(table->text(row, "from"));
    if (route == routes.end()) continue;
    ++reached;
    const auto read = parse("1 " + route->second.unit, route->second.dimension);
    ASSERT_TRUE(read) << route->first;
    const double factor = table->column("factor")[row] * route->second.si_per_target;
    // Factors are printed to 13 digits at least, save the 9 digits of ft lbf/lb, exact there.
    EXPECT_NEAR(*read / factor, 1.0, 1e-13) << route->first;
  }
  EXPECT_EQ(reached, routes.size());
}

TEST(SiFactors, FahrenheitRunsThroughItsFixedPoints) {
  // (F - 32)/1.8 degC: exact at these points; the unit's offset is rounded once.
  EXPECT_NEAR(*parse("32 degF", D::temperature), 273.15, 1e-13);
  EXPECT_NEAR(*parse("212 degF", D::temperature), 373.15, 1e-13);
}

}  // namespace
}  // namespace propwright::units
