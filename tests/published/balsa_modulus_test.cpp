// Balsa's modulus against density: USDA Wood Handbook FPL-GTR-190 (2010), read second hand, and two
// more points (balsa_density_modulus.csv). They bound what is asked about, and no more: single
// sheets lie 30 % and more off the line. And two spars told of in a builders' archive (common
// practice).
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/spar/reduce.h"
#include "test_data.h"

namespace propwright::spar {
namespace {

Spar spar_of(double root_m, double tip_m, double length_m, double density_kg_m3) {
  const Section root{Shape::square, root_m, root_m, 0}, tip{Shape::square, tip_m, tip_m, 0};
  Spar spar{"1", taper(root, {}, tip, length_m), 0, 0};
  spar.mass_kg = density_kg_m3 * volume_m3(spar.taper);
  return spar;
}

TEST(BalsaModulus, NoPublishedWoodIsCalledIntoQuestionAndTwiceTheHandbookIs) {
  const auto t = test::published_table("balsa_density_modulus.csv",
                                       {"density_kg_m3", "E_GPa_wood_handbook_line",
                                        "E_GPa_database_card_line", "E_GPa_cell_wall_line"});
  const Rig rig{.load_kg = 0.27e-3, .load_at_m = 0.15, .read_at_m = 0.15};
  const auto questions = [&](double density, double modulus_Pa) {
    const Spar spar = spar_of(1.6e-3, 0.9e-3, 0.178, density);
    const double reading = reading_m({spar.taper, spar.mass_kg, Bending::depth}, rig,
                                     modulus_Pa * std::pow(1.6e-3, 4) / 12)
                               .value();
    return reduce(spar, {{reading}, {reading}, {}}, rig).value().questions.size();
  };
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const double density = t.column("density_kg_m3")[i];
    for (const char* line :
         {"E_GPa_wood_handbook_line", "E_GPa_database_card_line", "E_GPa_cell_wall_line"}) {
      const double modulus = 1e9 * t.column(line)[i];
      EXPECT_EQ(questions(density, modulus), 0u);
      EXPECT_EQ(questions(density, 1.3 * modulus), 0u);
      EXPECT_EQ(questions(density, 0.7 * modulus), 0u);
    }
    EXPECT_GT(questions(density, 2e9 * t.column("E_GPa_wood_handbook_line")[i]), 0u);
    EXPECT_GT(questions(density, 0.4e9 * t.column("E_GPa_wood_handbook_line")[i]), 0u);
  }
}

TEST(SparsOfTheArchive, AnF1DSparFrom80To35ThouOfFourAndAHalfPoundWood) {
  const double inch = 0.0254, pound_per_foot3 = 16.018463374;
  const Spar spar = spar_of(0.080 * inch, 0.035 * inch, 0.200, 4.5 * pound_per_foot3);
  // Worked out by hand from the handbook's line, c = 21.25 MJ/kg: EI_root 2176 N mm2, 32.3 mg, and
  // 27.5 mm by 1/(3k). Four and three digits.
  EXPECT_NEAR(spar.mass_kg, 32.3e-6, 0.1e-6);
  const double ei_root = usual_specific_modulus_J_kg * 4.5 * pound_per_foot3 *
                         second_moments(spar.taper.stations.front().section).i_0_m4;
  EXPECT_NEAR(ei_root, 2176e-6, 1e-6);
  const double load_N = 1e-3 * base::gravity_m_s2;
  EXPECT_NEAR(load_N * unit_flexibility_m3(spar.taper, Bending::depth, 0.2, 0.2) / ei_root, 27.5e-3,
              0.1e-3);
}

TEST(SparsOfTheArchive, HalfAnInchAtSixInchesUnderPoint27GramMeansTwoAndAHalfTenThousandths) {
  // An F1L half spar's published goal; the goal's weight was only believed. EI about 2.5e-4 N m2
  // if uniform, by PL3/(3 delta): two digits, half a one is 0.05e-4; and the bend's own
  // foreshortening, which that formula lacks, 0.02e-4.
  const Section s{Shape::square, 1.1e-3, 1.1e-3, 0};
  const Beam beam{taper(s, {}, s, 0.184), 28e-6, Bending::uniform};
  Rig rig{.load_kg = 0.27e-3, .load_at_m = 0.1524, .read_at_m = 0.1524};
  rig.zero = Zero::unloaded_spar;
  EXPECT_NEAR(ei_root_Nm2(beam, rig, 0.0127).value(), 2.5e-4, 0.07e-4);
}

}  // namespace
}  // namespace propwright::spar
