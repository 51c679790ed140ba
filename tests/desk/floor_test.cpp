// Rubber's tables and the winding card from the command line.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

TEST(RubberTables, TheExampleAnswersEveryTableWithoutAProblem) {
  const Outcome rubber = run("rubber examples/floor/box7.toml --json");
  ASSERT_EQ(rubber.status, 0) << rubber.out << rubber.err;
  const auto json = rubber.json();
  EXPECT_TRUE(json.at("problems").empty());
  for (const char* table :
       {"batch", "breaking", "history", "strip", "partial", "meter", "winder"}) {
    ASSERT_TRUE(json.at(table).is_object()) << table;
  }
  EXPECT_EQ(json.at("breaking").at("broke"), 4);
  EXPECT_EQ(json.at("winder").at("motor_turns"), 1700.0);
  // One torque in three units; factors from the definitions of gram-force and ounce-force.
  const auto row = json.at("meter").at("readings").at(1);
  EXPECT_NEAR(row.at("torque_oz_in").get<double>(), 0.3, 1e-12);
  EXPECT_NEAR(row.at("torque_g_cm").get<double>(), 0.3 * 28.349523125 * 2.54, 1e-9);
}

TEST(RubberTables, TheExampleReadsAsText) {
  const Outcome rubber = run("rubber examples/floor/box7.toml");
  ASSERT_EQ(rubber.status, 0) << rubber.err;
  for (const char* words : {"about 5 in 100 motors", "Broken in", "mg per 10 cm of loop",
                            "The full motor", "One division is", "of the crank"}) {
    EXPECT_THAT(rubber.out, HasSubstr(words));
  }
}

TEST(RubberTables, AWrongTableLeavesTheOthersAnswered) {
  const Folder folder;
  const std::string path = folder.file(
      "r.toml", "[winder]\nratio = \"15\"\nwinder_turns = \"85\"\n[strip]\nwidth = \"2 kg\"\n");
  const Outcome rubber = run("rubber '" + path + "' --json");
  EXPECT_EQ(rubber.status, 3);
  EXPECT_EQ(rubber.json().at("winder").at("motor_turns"), 1275.0);
  EXPECT_TRUE(rubber.json().at("strip").is_null());
  problem_of(rubber, "strip.width");
}

TEST(RubberTables, ATestThatIsMissingIsNamed) {
  const Folder folder;
  const std::string path = folder.file("r.toml", "[[batch.tests]]\nfile = \"none.csv\"\n");
  const Outcome rubber = run("rubber '" + path + "' --json");
  EXPECT_EQ(rubber.status, 5);
  problem_of(rubber, "batch.tests[1].file");
  EXPECT_EQ(run("rubber '" + path + "' --length '1 m'").status, 2);
}

TEST(Rubber, MeasuresOfATestAreAskedFor) {
  const Folder folder;
  const std::string path = folder.file("t.csv", "turns\n1\n");
  const Outcome rubber = run("rubber '" + path + "' --json");
  EXPECT_EQ(rubber.status, 2);
  problem_of(rubber, "--section");
}

TEST(Wind, ColderHallAndHigherRoofAreToldApart) {
  const Outcome wind = run(
      "wind examples/lantern46.toml --temperature '16 degC' --roof '9 m' --winder-ratio 10 --json");
  ASSERT_EQ(wind.status, 0) << wind.out << wind.err;
  const auto json = wind.json();
  ASSERT_EQ(json.at("changes").size(), 3);
  EXPECT_EQ(json.at("changes").at(0).at("what"), "temperature");
  EXPECT_LT(json.at("changes").at(0).at("back_off_change_turns").get<double>(), 0);
  EXPECT_LT(json.at("changes").at(0).at("energy_change").get<double>(), 0);
  EXPECT_LT(json.at("changes").at(1).at("back_off_change_turns").get<double>(), 0);
  EXPECT_EQ(json.at("changes").at(2).at("what"), "all");
  EXPECT_NEAR(json.at("card").at("winder_turns").get<double>() * 10,
              json.at("today").at("wind_turns").get<double>(), 1e-9);
}

TEST(Wind, CardIsPrintedAndOptionsGoBeforeTheFile) {
  const Folder folder;
  const std::string card = (folder.path() / "card.pdf").string();
  const Outcome wind =
      run("wind examples/lantern46.toml examples/floor/box7.toml --risk '2 %' -o '" + card +
          "' --json");
  ASSERT_EQ(wind.status, 0) << wind.out << wind.err;
  EXPECT_EQ(wind.json().at("card").at("risk"), 0.02);
  EXPECT_EQ(wind.json().at("card").at("meter_unit"), "division");
  EXPECT_THAT(read(card), testing::StartsWith("%PDF"));
}

TEST(Wind, WrongReadingOfTheDayNamesTheOption) {
  const Outcome wind = run("wind examples/lantern46.toml --roof '900 m' --json");
  EXPECT_EQ(wind.status, 3);
  problem_of(wind, "--roof");
}

}  // namespace
}  // namespace propwright::desk::test
