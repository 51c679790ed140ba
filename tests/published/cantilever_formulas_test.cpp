// Small deflection of cantilevers: the standard results (Roark's Formulas for Stress and Strain;
// Timoshenko, Strength of Materials; both from memory), and the closed forms of linear tapers
// (tapered_cantilever.csv).
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/spar/deflection.h"
#include "test_data.h"

namespace propwright::spar {
namespace {

/// So stiff that the deflection is 4e-6 of the length at most: large-deflection terms are of its
/// square, a few 1e-12.
constexpr double stiff = 1e6;
constexpr double small_terms = 1e-11;

Rig unit_rig(double load_at, double read_at) {
  Rig rig{.load_kg = 1, .load_at_m = load_at, .read_at_m = read_at};
  rig.gravity_m_s2 = 1;
  return rig;
}

Taper unit_taper(double width_tip, double depth_tip) {
  return taper({Shape::rectangular, 0.01, 0.01, 0}, {},
               {Shape::rectangular, 0.01 * width_tip, 0.01 * depth_tip, 0}, 1);
}

TEST(Cantilever, EndLoadTipIsPL3Over3EI) {
  const Beam beam{unit_taper(1, 1), 0, Bending::depth};
  EXPECT_NEAR(reading_m(beam, unit_rig(1, 1), stiff).value() * stiff * 3, 1, small_terms);
  EXPECT_NEAR(bent_spar(beam, unit_rig(1, 1), stiff, true).value().back().angle_rad * stiff * 2, 1,
              small_terms);
}

TEST(Cantilever, LoadAtAReadAtTheTipIsPA2Times3LMinusAOver6EI) {
  const Beam beam{unit_taper(1, 1), 0, Bending::depth};
  for (const double a : {0.2, 0.5, 0.85}) {
    const double expected = a * a * (3 - a) / 6;
    EXPECT_NEAR(reading_m(beam, unit_rig(a, 1), stiff).value() * stiff / expected, 1, small_terms);
    // Maxwell: the same read at a under a load at the tip.
    EXPECT_NEAR(reading_m(beam, unit_rig(1, a), stiff).value() * stiff / expected, 1, small_terms);
  }
}

TEST(Cantilever, OwnWeightTipIsWL4Over8EIAndItsSlopeWL3Over6EI) {
  const Beam beam{unit_taper(1, 1), 1, Bending::depth};
  const BentPoint tip = bent_spar(beam, unit_rig(1, 1), stiff, false).value().back();
  EXPECT_NEAR(tip.y_m * stiff * 8, 1, small_terms);
  EXPECT_NEAR(tip.angle_rad * stiff * 6, 1, small_terms);
}

TEST(TaperedCantilever, TipLoadOnWidthDepthAndSquareTapers) {
  const auto t = test::published_table(
      "tapered_cantilever.csv",
      {"n", "k_tip_over_root", "tip_defl_over_PL3_EIroot", "tip_slope_over_PL2_EIroot"});
  int used = 0;
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const double n = t.column("n")[i], k = t.column("k_tip_over_root")[i];
    if (n == 2) continue;  // two caps with a gap between them: no section of ours
    const Taper shape = unit_taper(n == 3 ? 1 : k, n == 1 ? 1 : k);
    const Beam beam{shape, 0, Bending::depth};
    const double deflection = reading_m(beam, unit_rig(1, 1), stiff).value() * stiff;
    const double slope =
        bent_spar(beam, unit_rig(1, 1), stiff, true).value().back().angle_rad * stiff;
    // The table's nine digits after the point; panels good for as many; and a slope
    // that is 20 times larger than the load at k = 0.1.
    EXPECT_NEAR(deflection / t.column("tip_defl_over_PL3_EIroot")[i], 1, 1e-8) << n << " " << k;
    EXPECT_NEAR(slope / t.column("tip_slope_over_PL2_EIroot")[i], 1, 5e-8) << n << " " << k;
    EXPECT_NEAR(
        unit_flexibility_m3(shape, Bending::depth, 1, 1) / t.column("tip_defl_over_PL3_EIroot")[i],
        1, 1e-8);
    ++used;
  }
  EXPECT_EQ(used, 36);
}

TEST(TaperedCantilever, SquareTaperIsOneOverThreeK) {
  for (const double k : {0.9, 0.5, 0.25}) {
    EXPECT_NEAR(unit_flexibility_m3(unit_taper(k, k), Bending::depth, 1, 1) * 3 * k, 1, 1e-9);
  }
}

}  // namespace
}  // namespace propwright::spar
