// The bench's default tables: every row can be used as it stands.
#include <gtest/gtest.h>

#include "propwright/base/table.h"
#include "propwright/bench/tube.h"
#include "propwright/data/data.h"
#include "propwright/spar/reduce.h"

namespace propwright::bench {
namespace {

base::Table default_table(const char* name, const std::vector<base::ColumnRule>& rules) {
  return base::Table::read(data::file(name), rules, name, true).value();
}

TEST(BenchDefaults, EveryPaperRollsWithEveryGlueOnEveryWire) {
  const auto papers = default_table("papers.csv", {{.name = "areal_mass_kg_m2", .low = 1e-3},
                                                   {.name = "thickness_m", .low = 1e-6}});
  const auto glues = default_table("glues.csv", {{.name = "solids_share", .low = 0.01, .high = 1},
                                                 {.name = "density_kg_m3", .low = 500}});
  const auto wires = default_table("wire.csv", {{.name = "diameter_m"}});
  ASSERT_EQ(papers.rows(), 4u);
  ASSERT_EQ(glues.rows(), 3u);
  for (std::size_t p = 0; p < papers.rows(); ++p) {
    // Three digits of the thickness: half of the last is 5e-3 at worst.
    EXPECT_NEAR(papers.column("areal_mass_kg_m2")[p] / papers.column("thickness_m")[p] / 450, 1,
                5e-3);
    EXPECT_FALSE(papers.text(p, "source").empty());
    for (std::size_t g = 0; g < glues.rows(); ++g) {
      for (const double wire_m : wires.column("diameter_m")) {
        const auto f = tube_figures({.mandrel_diameter_m = wire_m,
                                     .paper_thickness_m = papers.column("thickness_m")[p],
                                     .paper_areal_mass_kg_m2 = papers.column("areal_mass_kg_m2")[p],
                                     .glue_areal_mass_kg_m2 = 5e-3,
                                     .glue_density_kg_m3 = glues.column("density_kg_m3")[g],
                                     .length_m = 12e-3});
        ASSERT_TRUE(f.has_value()) << base::to_line(f.error().front());
        EXPECT_GT(f->mass_kg.value, 0);
      }
    }
  }
}

// The program reckons with constants of module `spar`; the table tells users where they are from.
TEST(BenchDefaults, BalsaOfTheTableIsThatOfTheProgram) {
  const auto balsa = default_table("balsa.csv", {{.name = "value"}});
  const auto value = [&](const std::string& property) {
    for (std::size_t i = 0; i < balsa.rows(); ++i) {
      if (balsa.text(i, "property") == property) return balsa.column("value")[i];
    }
    return 0.0;
  };
  EXPECT_DOUBLE_EQ(value("modulus_per_density"), spar::usual_specific_modulus_J_kg);
  EXPECT_DOUBLE_EQ(value("bending_modulus_at_density_160") / 160,
                   spar::usual_specific_modulus_J_kg);
  EXPECT_DOUBLE_EQ(value("density_natural_least"), spar::least_density_kg_m3);
  EXPECT_DOUBLE_EQ(value("density_natural_greatest"), spar::most_density_kg_m3);
}

TEST(BenchDefaults, WiresIncludeAMandrelForThinRoots) {
  const auto wires = default_table("wire.csv", {{.name = "diameter_m"}});
  const auto choice =
      choose_mandrel({.width_m = 0.5e-3, .depth_m = 0.5e-3}, wires.column("diameter_m")).value();
  ASSERT_TRUE(choice.fits.has_value());
  // Circle 0.707 and 0.030 mm: 0.032 in (0.8128 mm) is the next wire.
  EXPECT_EQ(wires.text(choice.fits->index, "size"), "0.032 in");
}

}  // namespace
}  // namespace propwright::bench
