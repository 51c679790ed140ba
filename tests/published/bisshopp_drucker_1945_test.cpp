// Large deflection of cantilevers: Bisshopp and Drucker, Quart. Appl. Math. 3 (1945) 272-275, their
// closed form evaluated with elliptic integrals (elastica_tip_load.csv; the printed table was not
// seen), and the same cantilever under its own weight by an outside integration
// (elastica_uniform_load.csv).
#include <gtest/gtest.h>

#include "propwright/spar/deflection.h"
#include "test_data.h"

namespace propwright::spar {
namespace {

/// Length 1, EI 1: the load or the weight is the table's dimensionless number.
struct UnitCantilever {
  Beam beam;
  Rig rig;
};

UnitCantilever unit_cantilever(double load, double weight) {
  const Section s{Shape::square, 1e-2, 1e-2, 0};
  UnitCantilever c{{taper(s, {}, s, 1), weight, Bending::uniform}, {}};
  c.rig.load_kg = load, c.rig.load_at_m = 1, c.rig.read_at_m = 1, c.rig.gravity_m_s2 = 1;
  return c;
}

TEST(BisshoppDrucker1945, TipLoadDeflectionShorteningAndSlope) {
  const auto t = test::published_table(
      "elastica_tip_load.csv", {"PL2_over_EI", "tip_slope_rad", "delta_v_over_L", "x_tip_over_L"});
  ASSERT_EQ(t.rows(), 30u);
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const auto [beam, rig] = unit_cantilever(t.column("PL2_over_EI")[i], 0);
    // The order's limit is 1e-6 of the length; the table has eight digits and the panels do as
    // well: 2e-8.
    EXPECT_NEAR(reading_m(beam, rig, 1).value(), t.column("delta_v_over_L")[i], 2e-8);
    const BentPoint tip = bent_spar(beam, rig, 1, true).value().back();
    EXPECT_NEAR(tip.x_m, t.column("x_tip_over_L")[i], 2e-8);
    EXPECT_NEAR(tip.angle_rad, t.column("tip_slope_rad")[i], 5e-8);
  }
}

TEST(BisshoppDrucker1945, DeflectionGivesBackTheStiffness) {
  const auto t = test::published_table("elastica_tip_load.csv", {"PL2_over_EI", "delta_v_over_L"});
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const auto [beam, rig] = unit_cantilever(t.column("PL2_over_EI")[i], 0);
    // The eighth digit of a deflection of 0.03 is 2e-7 of it; at 0.87 the curve is so flat that it
    // is 2e-7 of the stiffness again.
    EXPECT_NEAR(ei_root_Nm2(beam, rig, t.column("delta_v_over_L")[i]).value(), 1, 3e-7);
  }
}

TEST(Elastica, CantileverUnderItsOwnWeight) {
  const auto t =
      test::published_table("elastica_uniform_load.csv",
                            {"wL3_over_EI", "tip_slope_rad", "delta_v_over_L", "x_tip_over_L"});
  ASSERT_EQ(t.rows(), 12u);
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const auto [beam, rig] = unit_cantilever(1, t.column("wL3_over_EI")[i]);
    const BentPoint tip = bent_spar(beam, rig, 1, false).value().back();
    // The table's eight digits.
    EXPECT_NEAR(tip.y_m, t.column("delta_v_over_L")[i], 2e-8);
    EXPECT_NEAR(tip.x_m, t.column("x_tip_over_L")[i], 2e-8);
    EXPECT_NEAR(tip.angle_rad, t.column("tip_slope_rad")[i], 1e-7);
  }
}

}  // namespace
}  // namespace propwright::spar
