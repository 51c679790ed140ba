// The bench against figures of a builders' mailing-list archive, 2005-2019, and of builders'
// articles. Builders' statements: good for size, not calibrated; the tolerances are their digits.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/bench/hub.h"
#include "propwright/bench/stock.h"
#include "propwright/bench/tube.h"
#include "propwright/bench/weighing.h"

namespace propwright::published {
namespace {

constexpr double inch_m = 0.0254, lb_ft3_kg_m3 = 16.018463374, mg = 1e-6;

// A sheet of 1/32 x 3 x 36 in that weighs 5.3 g is 6 lb/ft3 wood.
TEST(BenchArchive, SheetOf5Point3GramsIsSixPoundWood) {
  const bench::Stock sheet{.kind = bench::StockKind::sheet,
                           .mass_kg = 5.3e-3,
                           .length_m = 36 * inch_m,
                           .width_m = 3 * inch_m,
                           .thickness_m = inch_m / 32};
  const auto f = bench::stock_figures(sheet, {}).value();
  EXPECT_NEAR(f.density_kg_m3->value / lb_ft3_kg_m3, 6, 0.06);  // 5.3 to 0.05 g: 1 %
  EXPECT_EQ(f.density_class->words, "5.5 to 6 lb/ft3");         // 5.98, and its doubt says so:
  EXPECT_TRUE(f.density_class->doubtful);
}

// Motor-stick walls and ribs C grain, outlines and wing spars A grain, at about 80 kg/m3.
TEST(BenchArchive, PartsOfASmallModelPickTheCutsThatBuildersUse) {
  std::vector<bench::Shelved> shelf;
  for (const auto grain : {bench::Grain::a, bench::Grain::b, bench::Grain::c}) {
    for (const double thickness_m : {0.23e-3, 0.33e-3, 0.61e-3, 0.69e-3, 0.74e-3, 0.81e-3}) {
      bench::Shelved s{.density_kg_m3 = {80, 1}};
      s.stock.grain = grain;
      s.stock.length_m = 0.9;
      s.stock.thickness_m = thickness_m;
      shelf.push_back(s);
    }
  }
  struct Use {
    const char* part;
    bench::Grain grain;
    double thickness_m;
  };
  const Use uses[] = {{"motor stick wall", bench::Grain::c, 0.33e-3},
                      {"boom wall", bench::Grain::c, 0.23e-3},
                      {"ribs", bench::Grain::c, 0.69e-3},
                      {"propeller outline", bench::Grain::a, 0.61e-3},
                      {"stabiliser outline", bench::Grain::a, 0.74e-3},
                      {"wing spar", bench::Grain::a, 0.81e-3}};
  const auto lists = bench::pick_list(shelf, bench::usual_wishes()).value();
  int seen = 0;
  for (const auto& list : lists) {
    for (const Use& use : uses) {
      if (list.part != use.part) continue;
      ++seen;
      const bench::Stock& first = shelf[list.candidates.front().index].stock;
      EXPECT_EQ(first.grain, use.grain) << use.part;
      EXPECT_EQ(first.thickness_m, use.thickness_m) << use.part;
    }
  }
  EXPECT_EQ(seen, 6);
}

// Tubes of 4 or 5 wraps of tissue with just enough thin cement, bore 0.078 to 0.1 in, about 12 mm
// long, are light; "too many wraps gave near 50 mg each". Tissues weigh 5 to 12.5 g/m2 there; their
// thickness, 0.02 to 0.03 mm, and as much cement as paper are from memory.
TEST(BenchArchive, FiveWrapsOfTissueAreAFewMilligramsAndFiftyAreManyWraps) {
  bench::RolledTube tube{.mandrel_diameter_m = 0.078 * inch_m,
                         .paper_thickness_m = 0.03e-3,
                         .paper_areal_mass_kg_m2 = 12.5e-3,
                         .glue_areal_mass_kg_m2 = 12.5e-3,
                         .wraps = 5,
                         .length_m = 12e-3};
  EXPECT_GT(bench::tube_figures(tube).value().mass_kg.value, 5 * mg);
  EXPECT_LT(bench::tube_figures(tube).value().mass_kg.value, 15 * mg);
  EXPECT_GT(bench::wraps_for_mass(tube, 50 * mg).value().exact, 15);
}

// Three parts each read zero on a scale of 10 mg, the whole propeller read 110.
TEST(BenchArchive, PartsThatReadZeroOneByOneAreWeighedTogether) {
  bench::Instruments coarse;
  coarse.scale_resolution_kg = 10 * mg;
  const auto alone = bench::weigh_together({.reading_kg = 10 * mg}, coarse).value();
  EXPECT_GT(alone.share_sigma, 0.4);
  EXPECT_FALSE(alone.questions.empty());
  const auto together =
      bench::weigh_together({.parts = 3, .reading_kg = 110 * mg, .on_tare = true}, coarse).value();
  EXPECT_LT(together.share_sigma, 0.04);
}

// Thrust washer: friction 0.07, radius 0.5 mm and a pull of 0.5 N (an assumption there, too) take
// 1.5 to 3 % of a cruise torque of 0.6 to 1.2 N mm.
TEST(BenchArchive, WasherTakesAFewPercentOfTheTorque) {
  for (const double torque_Nm : {0.6e-3, 1.2e-3}) {
    const auto f = bench::hub_figures({.washer_radius_m = 0.5e-3},
                                      {.motor_pull_N = 0.5, .motor_torque_Nm = torque_Nm}, {})
                       .value();
    const double share = f.checks.back().amount.value / torque_Nm;
    EXPECT_GT(share, 0.0145);  // printed to half a percent
    EXPECT_LT(share, 0.0300);
  }
}

}  // namespace
}  // namespace propwright::published
