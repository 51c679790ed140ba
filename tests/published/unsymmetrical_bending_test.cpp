// A rectangular cantilever loaded askew: displacements by resolution on the principal axes
// (standard strength of materials; unsymmetrical_bending.csv).
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/spar/reduce.h"
#include "test_data.h"

namespace propwright::spar {
namespace {

/// The table's spar on a rig whose load is 1e-4 of the table's: small deflections, as it assumes.
constexpr double part = 1e-4;

TEST(UnsymmetricalBending, ThreeReadingsGiveTheDisplacementOfEveryTurn) {
  const auto t = test::published_table("unsymmetrical_bending.csv", {"beta_deg", "along_load_mm"});
  ASSERT_EQ(t.rows(), 8u);
  const auto along_m = [&](double beta_deg) {
    for (std::size_t i = 0; i < t.rows(); ++i) {
      if (t.column("beta_deg")[i] == beta_deg) return part * 1e-3 * t.column("along_load_mm")[i];
    }
    throw std::runtime_error("no such row");
  };
  const Section section{Shape::rectangular, 1e-3, 2e-3, 0};
  const Spar spar{"1", taper(section, {}, section, 0.150), 1e-18, 0};
  Rig rig{.load_kg = part * 0.010, .load_at_m = 0.150, .read_at_m = 0.150};
  rig.gravity_m_s2 = 1;
  const auto m = reduce(spar, {{along_m(0)}, {along_m(90)}, {along_m(45)}}, rig);
  ASSERT_TRUE(m.has_value());
  // The table's digits: half of 1e-6 mm, of 5.6 mm or more.
  EXPECT_NEAR(m->at_0.modulus_Pa.value / 3.0e9, 1, 2e-7);
  EXPECT_NEAR(m->axes.soft_axis_deg, 90, 1e-5);
  EXPECT_NEAR(m->axes.ei_stiff_Nm2 / (3e9 * 8e-12 / 12), 1, 5e-7);
  EXPECT_NEAR(m->axes.ei_soft_Nm2 / (3e9 * 2e-12 / 12), 1, 5e-7);
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const double ei = turned(*m, t.column("beta_deg")[i]).ei_Nm2;
    EXPECT_NEAR(1e3 * 0.010 * std::pow(0.150, 3) / (3 * ei), t.column("along_load_mm")[i], 1e-6);
  }
}

TEST(UnsymmetricalBending, StiffnessAsATensorWouldBeWrong) {
  // 45 degrees between EI 2.0 and 0.5 N m2: the compliances average to EI 0.8, not to 1.25.
  const auto t = test::published_table("unsymmetrical_bending.csv", {"beta_deg", "along_load_mm"});
  for (std::size_t i = 0; i < t.rows(); ++i) {
    if (t.column("beta_deg")[i] != 45) continue;
    const double ei = 1e3 * 0.010 * std::pow(0.150, 3) / (3 * t.column("along_load_mm")[i]);
    EXPECT_NEAR(ei, 0.8e-3, 1e-9);
  }
}

}  // namespace
}  // namespace propwright::spar
