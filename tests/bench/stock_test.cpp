#include "propwright/bench/stock.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "bench_test_tools.h"
#include "propwright/base/constants.h"

namespace propwright::bench {
namespace {

using testing::HasSubstr;

constexpr double inch_m = 0.0254, lb_ft3_kg_m3 = 16.018463374;

Stock sheet_of(double density_kg_m3, double thickness_m = 0.8e-3) {
  Stock s{.id = "sheet", .kind = StockKind::sheet, .length_m = 0.9, .width_m = 0.075};
  s.thickness_m = thickness_m;
  s.mass_kg = density_kg_m3 * s.length_m * s.width_m * s.thickness_m;
  return s;
}

RC_GTEST_PROP(Stock, DensityIsMassOverVolumeForAnyNumberOfPieces, ()) {
  const auto share = [] { return *rc::gen::inRange(1, 1000) / 1000.0; };
  const int pieces = *rc::gen::inRange(1, 50);
  Stock s{.kind = StockKind::strip, .pieces = pieces};
  s.length_m = 0.1 + share();
  s.width_m = 0.001 + 0.01 * share();
  s.thickness_m = 0.0005 + 0.002 * share();
  s.mass_kg = 100 * pieces * s.length_m * s.width_m * s.thickness_m;
  const auto f = stock_figures(s, {});
  RC_ASSERT(f.has_value());
  RC_ASSERT(std::abs(f->density_kg_m3->value - 100) < 1e-9);
  RC_ASSERT(std::abs(f->linear_mass_kg_m->value - 100 * s.width_m * s.thickness_m) < 1e-12);
}

TEST(Stock, ThicknessRulesTheDoubtOfAThinSheet) {
  // 0.01 mm steps on 0.8 mm: 0.01/sqrt(12)/0.8 = 0.36 %; rule 0.5 mm on 75 mm: 0.19 %.
  const auto f = stock_figures(sheet_of(80), {}).value();
  const double thickness = 0.01 / std::sqrt(12.0) / 0.8, width = 0.5 / std::sqrt(12.0) / 75;
  const double length = 0.5 / std::sqrt(12.0) / 900, mass = std::sqrt(2 / 12.0) * 1e-6 / 4.32e-3;
  EXPECT_NEAR(f.density_kg_m3->sigma / 80,
              std::sqrt(thickness * thickness + width * width + length * length + mass * mass),
              1e-9);
}

TEST(Stock, StatedDoubtIsTheScatterOfReadings) {
  const Stock truth{.kind = StockKind::strip,
                    .mass_kg = 32e-6,
                    .length_m = 0.2,
                    .width_m = 1.5e-3,
                    .thickness_m = 1.4e-3};
  const Instruments instruments;
  Noise noise(11);
  Scatter scatter;
  for (int i = 0; i < 4000; ++i) {
    Stock s = truth;
    s.mass_kg = noise.read(truth.mass_kg, 1e-6) - noise.read(0, 1e-6);
    s.length_m = noise.read(truth.length_m, instruments.rule_resolution_m);
    s.width_m = noise.read(truth.width_m, instruments.micrometer_resolution_m);
    s.thickness_m = noise.read(truth.thickness_m, instruments.micrometer_resolution_m);
    scatter.add(stock_figures(s, instruments).value().density_kg_m3->value);
  }
  const Figure stated = *stock_figures(truth, instruments).value().density_kg_m3;
  // 4,000 draws know a sigma to 1/sqrt(8000) = 1.1 %; four times that.
  EXPECT_NEAR(scatter.sigma() / stated.sigma, 1, 0.045);
  EXPECT_NEAR(scatter.mean(), stated.value, 4 * stated.sigma / std::sqrt(4000.0));
}

TEST(Stock, WireHasTheDensityOfSteel) {
  // 0.014 in music wire, 0.77962 mg/mm at 7850 kg/m3 (data/wire.csv).
  const Stock wire{.kind = StockKind::wire,
                   .mass_kg = 0.077962e-3,
                   .length_m = 0.1,
                   .thickness_m = 0.014 * inch_m};
  const auto f = stock_figures(wire, {}).value();
  EXPECT_NEAR(f.density_kg_m3->value, 7850, 1);
  EXPECT_NEAR(f.linear_mass_kg_m->value, 7.7962e-4, 1e-12);
  EXPECT_FALSE(f.areal_mass_kg_m2.has_value());
  EXPECT_TRUE(f.questions.empty());
}

TEST(Stock, FilmThicknessComesFromItsArealMass) {
  // Film of 0.54 g/m2 at 1390 kg/m3: 0.388 micrometres (data/films.csv).
  const Stock film{.kind = StockKind::film, .mass_kg = 0.54e-3, .length_m = 2, .width_m = 0.5};
  const auto f = stock_figures(film, {}).value();
  EXPECT_NEAR(f.areal_mass_kg_m2->value, 0.54e-3, 1e-15);
  EXPECT_NEAR(f.film_thickness_m->value, 0.3885e-6, 5e-11);
  EXPECT_FALSE(f.density_kg_m3.has_value());
}

TEST(Stock, GlueHasSolidsAndMassPerLengthOrArea) {
  Stock glue{.kind = StockKind::glue, .mass_kg = 2e-6, .length_m = 0.1, .wet_mass_kg = 10e-6};
  const auto line = stock_figures(glue, {}).value();
  EXPECT_NEAR(line.solids_share->value, 0.2, 1e-12);
  EXPECT_NEAR(line.linear_mass_kg_m->value, 20e-6, 1e-18);
  glue.width_m = 0.01;
  EXPECT_NEAR(stock_figures(glue, {}).value().areal_mass_kg_m2->value, 2e-3, 1e-15);
}

TEST(Stock, OfADropOfGlueOnlyTheSolidsAreKnown) {
  const Stock drop{.kind = StockKind::glue, .mass_kg = 2e-6, .wet_mass_kg = 10e-6};
  const auto f = stock_figures(drop, {}).value();
  EXPECT_NEAR(f.solids_share->value, 0.2, 1e-12);
  EXPECT_FALSE(f.linear_mass_kg_m || f.areal_mass_kg_m2);
}

TEST(Stock, CoarseMassAndStrangeDensityAreAskedAbout) {
  Stock s = sheet_of(80);
  s.mass_kg *= 10;
  const auto heavy = stock_figures(s, {}).value();
  ASSERT_EQ(heavy.questions.size(), 1u);
  EXPECT_THAT(heavy.questions[0].message, HasSubstr("800 kg/m3"));
  Stock strip{.kind = StockKind::strip,
              .mass_kg = 3e-6,
              .length_m = 0.1,
              .width_m = 0.6e-3,
              .thickness_m = 0.6e-3};
  const auto coarse = stock_figures(strip, {}).value();
  ASSERT_EQ(coarse.questions.size(), 1u);
  EXPECT_THAT(coarse.questions[0].message, HasSubstr("several"));
}

TEST(Stock, EveryBadMemberIsNamedAtOnce) {
  Stock s = sheet_of(80);
  s.mass_kg = 0;
  s.width_m = -1;
  s.pieces = 0;
  s.thickness_m = NAN;
  const auto f = stock_figures(s, {});
  ASSERT_FALSE(f.has_value());
  std::vector<std::string> fields;
  for (const auto& p : f.error()) fields.push_back(p.field);
  EXPECT_THAT(fields, testing::UnorderedElementsAre("mass_kg", "width_m", "pieces", "thickness_m"));
}

TEST(DensityClass, HasTheBinsOfSparStockAndKnowsWhenItIsNearAnEdge) {
  const auto at = [](double lb_ft3, double sigma) {
    return density_class({lb_ft3 * lb_ft3_kg_m3, sigma * lb_ft3_kg_m3});
  };
  EXPECT_EQ(at(3.9, 0.05).words, "below 4 lb/ft3");
  EXPECT_EQ(at(4.1, 0.05).words, "4 to 4.3 lb/ft3");
  EXPECT_EQ(at(5.2, 0.05).words, "5 to 5.5 lb/ft3");
  EXPECT_EQ(at(20, 0.05).words, "above 18 lb/ft3");
  EXPECT_FALSE(at(4.75, 0.2).doubtful);
  EXPECT_TRUE(at(4.75, 0.3).doubtful);
  EXPECT_FALSE(at(3.0, 0.5).doubtful);
}

TEST(StripTest, CantileverIsFourPL3OverBT3DeflectionWhereItBendsLittle) {
  CantileverTest test{.load_kg = 1e-4, .length_m = 0.1, .width_m = 5e-3, .thickness_m = 1e-3};
  const double P = 1e-4 * base::gravity_m_s2;
  test.deflection_m = 4 * P * 1e-3 / (5e-3 * 1e-9 * 2e9);
  const auto m = cantilever_modulus(test, {}, std::nullopt).value();
  // Deflection of 0.39 % of the length; large deflection takes its square, 1.5e-5, times about 1.
  EXPECT_NEAR(m.E_Pa.value, 2e9, 3e-5 * 2e9);
}

TEST(StripTest, CantileverThatBendsFarFollowsTheElastica) {
  // Bisshopp and Drucker's problem: P L^2/EI = 1 sinks by 0.301721 of the length.
  const double L = 0.1, b = 5e-3, t = 1e-3, E = 2e9, EI = E * b * t * t * t / 12;
  CantileverTest test{
      .load_kg = EI / (L * L) / base::gravity_m_s2, .length_m = L, .width_m = b, .thickness_m = t};
  test.deflection_m = 0.301721 * L;
  // Six digits of the table on a slope of about 1.3: 3e-6.
  EXPECT_NEAR(cantilever_modulus(test, {}, std::nullopt).value().E_Pa.value / E, 1, 5e-6);
}

TEST(StripTest, BucklingIsEulersLoad) {
  const double L = 0.3, b = 10e-3, t = 0.8e-3, E = 2.5e9;
  const double force = base::pi * base::pi * E * b * t * t * t / 12 / (L * L);
  const BucklingTest test{
      .load_kg = force / base::gravity_m_s2, .length_m = L, .width_m = b, .thickness_m = t};
  const auto m = buckling_modulus(test, {}, Figure{118, 1}).value();
  EXPECT_NEAR(m.E_Pa.value, E, 1);
  EXPECT_NEAR(m.over_line->value, E / (21.25e6 * 118), 1e-9);
  // Thickness to 0.01 mm in 0.8: 3 x 0.361 % dominates.
  EXPECT_NEAR(m.E_Pa.sigma / E, 0.0183, 0.0005);
  EXPECT_TRUE(m.questions.empty());
}

TEST(StripTest, ImpossibleStiffnessIsAskedAbout) {
  const BucklingTest test{.load_kg = 0.1, .length_m = 0.3, .width_m = 10e-3, .thickness_m = 0.8e-3};
  const auto m = buckling_modulus(test, {}, Figure{80, 1}).value();
  ASSERT_EQ(m.questions.size(), 1u);
  EXPECT_THAT(m.questions[0].message, HasSubstr("too stiff"));
}

TEST(StripTest, BadMembersAreNamed) {
  const auto m = cantilever_modulus(
      {.load_kg = 1e-3, .length_m = 0.1, .deflection_m = 0.2, .width_m = 5e-3, .thickness_m = 0.02},
      {}, std::nullopt);
  ASSERT_FALSE(m.has_value());
  ASSERT_EQ(m.error().size(), 2u);
  EXPECT_EQ(m.error()[0].field, "thickness_m");
  EXPECT_EQ(m.error()[1].field, "deflection_m");
}

std::vector<Shelved> small_shelf() {
  const auto shelved = [](double lb_ft3, Grain grain, double thickness_m) {
    Shelved s{.stock = sheet_of(lb_ft3 * lb_ft3_kg_m3, thickness_m),
              .density_kg_m3 = {lb_ft3 * lb_ft3_kg_m3, 0.5}};
    s.stock.grain = grain;
    return s;
  };
  return {shelved(4.8, Grain::a, 2.1e-3), shelved(4.8, Grain::a, 2.1e-3),
          shelved(4.8, Grain::c, 0.7e-3), shelved(8.0, Grain::c, 0.7e-3),
          shelved(5.0, Grain::a, 0.6e-3)};
}

const PartWish& wish_for(const std::vector<PartWish>& wishes, const std::string& part) {
  for (const PartWish& w : wishes) {
    if (w.part == part) return w;
  }
  throw std::runtime_error("no wish for " + part);
}

TEST(PickList, SparTakesTheSheetThatTestedStiffer) {
  auto shelf = small_shelf();
  shelf[0].E_Pa = Figure{1.6e9, 0.05e9};
  shelf[1].E_Pa = Figure{2.1e9, 0.05e9};
  const auto wishes = usual_wishes();
  const auto lists = pick_list(shelf, {wish_for(wishes, "propeller spar")}).value();
  ASSERT_EQ(lists.size(), 1u);
  ASSERT_EQ(lists[0].candidates.size(), 2u);
  EXPECT_EQ(lists[0].candidates[0].index, 1u);
  EXPECT_TRUE(lists[0].candidates[0].merit_measured);
  EXPECT_NEAR(lists[0].candidates[0].merit.value / lists[0].candidates[1].merit.value, 2.1 / 1.6,
              1e-12);
  ASSERT_EQ(lists[0].passed_over.size(), 3u);
  EXPECT_THAT(lists[0].passed_over[0].reason, HasSubstr("too thin"));
}

TEST(PickList, RibsTakeCGrainAndOutlinesAGrain) {
  const auto shelf = small_shelf();
  const auto wishes = usual_wishes();
  const auto lists =
      pick_list(shelf, {wish_for(wishes, "ribs"), wish_for(wishes, "propeller outline")}).value();
  EXPECT_EQ(lists[0].candidates.front().index, 2u);
  EXPECT_TRUE(lists[0].candidates.front().suits);
  EXPECT_EQ(lists[1].candidates.front().index, 4u);
  for (const auto& passed : lists[0].passed_over) {
    if (passed.index == 3) {
      EXPECT_THAT(passed.reason, HasSubstr("too heavy"));
    }
  }
}

RC_GTEST_PROP(PickList, EverySheetIsRankedOrPassedOverOnce, ()) {
  std::vector<Shelved> shelf;
  const int count = *rc::gen::inRange(0, 12);
  for (int i = 0; i < count; ++i) {
    Shelved s{.stock = sheet_of(80, *rc::gen::inRange(2, 30) * 1e-4),
              .density_kg_m3 = {1.0 * *rc::gen::inRange(50, 200), 1}};
    s.stock.grain = *rc::gen::element(Grain::a, Grain::b, Grain::c, Grain::unknown);
    shelf.push_back(s);
  }
  const auto lists = pick_list(shelf, usual_wishes()).value();
  RC_ASSERT(lists.size() == usual_wishes().size());
  for (const auto& list : lists) {
    RC_ASSERT(list.candidates.size() + list.passed_over.size() == shelf.size());
    for (std::size_t i = 1; i < list.candidates.size(); ++i) {
      RC_ASSERT(list.candidates[i - 1].penalty <= list.candidates[i].penalty);
    }
    for (const auto& c : list.candidates) RC_ASSERT(!c.reason.empty());
  }
}

TEST(PickList, FilmAndWireAreLeftOutAndBadWishesNamed) {
  auto shelf = small_shelf();
  shelf[0].stock.kind = StockKind::film;
  const auto lists = pick_list(shelf, {usual_wishes().front()}).value();
  EXPECT_EQ(lists[0].candidates.size() + lists[0].passed_over.size(), 4u);
  const auto bad = pick_list(shelf, {{.part = "rib"}});
  ASSERT_FALSE(bad.has_value());
  EXPECT_EQ(bad.error()[0].field, "wishes[0].least_density_kg_m3");
}

}  // namespace
}  // namespace propwright::bench
