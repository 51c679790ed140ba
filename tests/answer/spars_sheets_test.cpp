/// The batch of spars on paper: what the answer becomes.
#include "propwright/answer/spars_sheets.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

Json spar_of(const std::string& id, const std::string& shape, const std::string& up,
             const std::string& side) {
  Json state{{"root_width", "59.5 thou"},
             {"tip_width", "31 thou"},
             {"mass", "27.1 mg"},
             {"reading_0", Json::array({up})},
             {"reading_90", Json::array({side})}};
  return {{"id", id}, {"shape", shape}, {"length", "7.25 in"}, {"states", Json::array({state})}};
}

/// Two alike, two that differ by a tenth, one not measured. Invented.
Json request(const std::string& shape = "square") {
  return {{"rig",
           {{"name", "Rig 2"},
            {"load", "0.270 g"},
            {"load_at", "6 in"},
            {"read_at", "6 in"},
            {"resolution", "1 thou"},
            {"repeatability", "2 thou"},
            {"clamp", "hardwood jaws"}}},
          {"units", "inch"},
          {"spars",
           {spar_of("1", shape, "400 thou", "410 thou"),
            spar_of("2", shape, "401 thou", "411 thou"),
            spar_of("3", shape, "352 thou", "412 thou"),
            spar_of("4", shape, "392 thou", "413 thou"),
            {{"id", "5"}, {"length", "7.25 in"}}}}};
}

sheet::BenchSheets sheets_of(const Json& asked, const SparPrintWishes& wishes = {}) {
  return spars_sheets(spars_answer(read_spars(asked)), wishes);
}

const sheet::BenchSpar& spar_named(const sheet::BenchSheets& sheets, const std::string& id) {
  for (const sheet::BenchSpar& spar : sheets.spars->spars) {
    if (spar.id == id) return spar;
  }
  throw std::out_of_range(id);
}

TEST(SparsSheets, TellEachSparAsMeasured) {
  const sheet::BenchSheets sheets = sheets_of(request(), {.batch = "7"});
  ASSERT_EQ(sheets.spars->spars.size(), 5u);
  EXPECT_EQ(sheets.batch, "7");
  const sheet::BenchSpar& first = spar_named(sheets, "1");
  // As typed, through inches and back.
  EXPECT_NEAR(*first.reading_0_m, 400 * 25.4e-6, 1e-12);
  EXPECT_NEAR(*first.root_width_m, 59.5 * 25.4e-6, 1e-12);
  EXPECT_EQ(first.with, "2");
  EXPECT_EQ(first.verdict, "matched");
  EXPECT_GT(*first.ei_0_Nm2, *first.ei_90_Nm2);
  EXPECT_GT(first.ei_0_sigma_Nm2, 0);
  const sheet::BenchSpar& last = spar_named(sheets, "5");
  EXPECT_FALSE(last.reading_0_m || last.ei_0_Nm2);
  EXPECT_THAT(last.verdict, IsEmpty());
  EXPECT_THAT(sheets.spars->sentence, HasSubstr("5 spars, 4 read both ways: 1 pair matched"));
}

TEST(SparsSheets, TellPairsAndWhatToSand) {
  const SparsAnswer answer = spars_answer(read_spars(request()));
  const sheet::BenchSheets sheets = spars_sheets(answer, {});
  ASSERT_EQ(sheets.spars->pairs.size(), answer.pairs.size());
  EXPECT_TRUE(sheets.spars->pairs[0].matched);
  ASSERT_EQ(sheets.spars->sanding.size(), answer.sanding.size());
  ASSERT_FALSE(answer.sanding.empty());
  const sheet::SandingAdvice& advice = sheets.spars->sanding[0];
  EXPECT_EQ(advice.id, "3");
  EXPECT_EQ(advice.off_each_0_m, answer.sanding[0].cut.remove_0_per_face_m);
  EXPECT_GT(advice.off_each_0_m, 0);
  EXPECT_LT(*advice.target_0_least_m, *advice.target_0_most_m);
  EXPECT_THAT(advice.where, HasSubstr("to the tip"));
}

// A spar mounted with its mark to the trailing edge stands in the scatter with its two EI swapped.
TEST(SparsSheets, ShowATurnedSparAsMounted) {
  Json asked = request();
  asked["spars"] = Json::array({spar_of("1", "square", "360 thou", "440 thou"),
                                spar_of("2", "square", "440 thou", "360 thou")});
  const sheet::BenchSheets sheets = sheets_of(asked);
  const sheet::BenchSpar& turned = spar_named(sheets, "2");
  ASSERT_TRUE(turned.turned && turned.mounted_0_Nm2 && turned.mounted_90_Nm2);
  EXPECT_NEAR(*turned.mounted_0_Nm2 / *turned.ei_90_Nm2, 1, 1e-9);
  EXPECT_NEAR(*turned.mounted_90_Nm2 / *turned.ei_0_Nm2, 1, 1e-9);
  ASSERT_EQ(sheets.spars->pairs.size(), 1u);
  EXPECT_NEAR(sheets.spars->pairs[0].turn_b_rad, base::pi / 2, 1e-12);
}

// The card's curve is the spar's own shape, so it ends at what the spar read.
TEST(SparsSheets, DrawTheCurveToTheReading) {
  for (const char* zero : {"straight", "unloaded"}) {
    Json asked = request();
    asked["rig"]["zero"] = zero;
    const sheet::BenchSheets sheets = sheets_of(asked);
    ASSERT_EQ(sheets.cards.size(), 1u);
    const sheet::DeflectionCard& card = sheets.cards[0];
    ASSERT_FALSE(card.curve_m.empty());
    // The softest reads 401 thou; the points of the curve stand a few millimetres apart.
    EXPECT_NEAR(card.curve_m.back().second, 401 * 25.4e-6, 0.4e-3);
    EXPECT_THAT(card.curve_words, HasSubstr("spar 2, 401 thou"));
    EXPECT_GT(card.deepest_m, 413 * 25.4e-6);
    EXPECT_EQ(card.zero_is_straight, std::string(zero) == "straight");
  }
}

TEST(SparsSheets, GiveABlockForRoundSparsOnly) {
  EXPECT_THAT(sheets_of(request("square")).blocks, IsEmpty());
  const sheet::BenchSheets round = sheets_of(request("round"));
  ASSERT_EQ(round.blocks.size(), 1u);
  EXPECT_NEAR(round.blocks[0].stations.front().size_m, 59.5 * 25.4e-6, 1e-9);
  EXPECT_NEAR(round.blocks[0].stations.back().along_m, 7.25 * 0.0254, 1e-9);
  ASSERT_EQ(round.gauges.size(), 1u);
  // EI goes with the fourth power: 5 % of EI is 1.25 % of the size.
  const auto& root = round.gauges[0].stations.front();
  EXPECT_NEAR((root.most_m - root.least_m) / (root.most_m + root.least_m), 0.0125, 1e-6);
}

TEST(SparsSheets, TakeTheSizesThatAreWished) {
  const auto wishes = read_spar_print_wishes(Json{
      {"batch", "8"}, {"wanted", {{"root", "63 thou"}, {"tip", "28 thou"}, {"length", "7.5 in"}}}});
  ASSERT_TRUE(wishes.has_value());
  const sheet::BenchSheets sheets = sheets_of(request(), *wishes);
  ASSERT_EQ(sheets.blocks.size(), 1u);
  EXPECT_NEAR(sheets.blocks[0].stations.back().size_m, 28 * 25.4e-6, 1e-12);
  EXPECT_NEAR(sheets.gauges[0].stations[5].along_m, 7.5 * 0.0254, 1e-12);
}

std::vector<std::string> fields_of(const Json& wishes) {
  const auto read = read_spar_print_wishes(wishes);
  std::vector<std::string> fields;
  if (!read) {
    for (const base::Problem& problem : read.error()) fields.push_back(problem.field);
  }
  return fields;
}

TEST(SparPrintWishes, TellAllThatIsWrong) {
  EXPECT_THAT(fields_of(Json::object()), IsEmpty());
  EXPECT_THAT(fields_of({{"wanted", {{"root", "63"}, {"length", "9 m"}}}}),
              UnorderedElementsAre("print.wanted.root", "print.wanted.length", "print.wanted.tip"));
  EXPECT_THAT(fields_of({{"papers", 1}}), ElementsAre("print.papers"));
}

TEST(SparsSheets, CanBePrinted) {
  for (const char* shape : {"square", "round", "rounded square"}) {
    SparPrintWishes wishes{.batch = "7"};
    sheet::PacketOptions options;
    options.date = "2026-11-25";
    const auto pdf = sheet::bench_pdf(sheets_of(request(shape), wishes), options);
    ASSERT_TRUE(pdf.has_value()) << shape;
    EXPECT_THAT(pdf->pages, testing::Contains("bench sheet")) << shape;
  }
}

}  // namespace
}  // namespace propwright::answer
