// Laminar friction of a flat plate on both sides: H. Blasius, Z. Math. Phys. 56 (1908), with the
// trailing-edge term 2.67 Re^-7/8 on each side of Stewartson (1969), Messiter (1970), Jobe and
// Burggraf (1974); constants from memory. Tabulated in flat_plate_laminar_friction.csv.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/data/data.h"
#include "propwright/section/section.h"
#include "test_data.h"

namespace propwright::section {
namespace {

double friction(double re) {
  return 2 * (1.328 / std::sqrt(re) + 2.67 * std::pow(re, -0.875));
}

TEST(LaminarPlate, FormulaIsThatOfTheTable) {
  const auto table = test::published_table(
      "flat_plate_laminar_friction.csv",
      {"Re", "cd_blasius_2x1.328_Re^-0.5", "cd_with_triple_deck_2x2.67_Re^-0.875"});
  for (std::size_t i = 0; i < table.rows(); ++i) {
    EXPECT_NEAR(friction(table.column("Re")[i]),
                table.column("cd_with_triple_deck_2x2.67_Re^-0.875")[i], 0.51e-5);  // five digits
  }
}

// The friction part of our computed flat plate, 2 % thick, along the flow. Thickness speeds the
// flow up a little: a few per cent above, never below.
TEST(LaminarPlate, FrictionOfTheComputedPlateIsTheFormulas) {
  const auto table =
      test::table_of(data::file("polars/thin_arc_ns2d.csv"),
                     {"re", "camber", "alpha_deg", "cd", "cd_friction"}, "thin_arc_ns2d.csv");
  int found = 0;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    if (table.column("camber")[i] > 0 || table.column("alpha_deg")[i] != 0) continue;
    ++found;
    const double re = table.column("re")[i];
    EXPECT_NEAR(table.column("cd_friction")[i] / friction(re), 1.015, 0.02) << re;
  }
  EXPECT_EQ(found, 6);
}

// The whole drag adds the pressure on the 2 % thickness: 4 to 6 % over the friction formula up to
// Re 12,000. At 20,000 the table's drag is uncertain by 6 % (flag D).
TEST(LaminarPlate, DragOfTheFamilyAtZeroAngleIsFourToSixPerCentAbove) {
  const Polar plate = Family::thin_arc().at_camber(0);
  for (const double re : {1000.0, 1500.0, 2000.0, 3000.0, 4000.0, 5500.0, 7000.0, 12000.0}) {
    const double ratio = plate.at(0, std::log(re)).cd / friction(re);
    EXPECT_GT(ratio, 1.035) << re;
    EXPECT_LT(ratio, 1.065) << re;
  }
  EXPECT_NEAR(plate.at(0, std::log(20000.0)).cd / friction(20000), 1.05, 0.06);
}

}  // namespace
}  // namespace propwright::section
