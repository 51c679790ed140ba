// Rubber's tables and the winding card from the command line.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>

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
  const auto problem = problem_of(rubber, "strip.width");
  EXPECT_EQ(problem["file"], path);
  EXPECT_EQ(problem["line"], 5);
}

TEST(RubberTables, ProblemsNameTheLineTheyAreIn) {
  const Folder folder;
  const std::string csv =
      folder.file("t.csv", "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n100,much,0.001\n");
  const std::string path = folder.file("r.toml",
                                       "# rubber\n"
                                       "[breaking]\n"
                                       "width = \"2 mm\"\n"
                                       "length = \"370 mm\"\n"
                                       "[[breaking.winds]]\n"
                                       "turns = \"1900\"\n"
                                       "[[breaking.winds]]\n"
                                       "broke = false\n"
                                       "turns = \"many\"\n"
                                       "[[breaking.winds]]\n"
                                       "broke = true\n"
                                       "[[batch.tests]]\n"
                                       "file = \"t.csv\"\n"
                                       "section = \"3.16 mm2\"\n"
                                       "length = \"250 mm\"\n"
                                       "mass = \"742 mg\"\n");
  const Outcome rubber = run("rubber '" + path + "' --json");
  EXPECT_EQ(rubber.status, 3);
  EXPECT_EQ(problem_of(rubber, "breaking.winds[2].turns")["line"], 9);
  EXPECT_EQ(problem_of(rubber, "breaking.winds[3].turns")["line"],
            10);  // of its row: it is missing
  const auto in_rows = problem_of(rubber, "torque_winding_Nm");
  EXPECT_EQ(in_rows["file"], csv);
  EXPECT_EQ(in_rows["line"], 3);
}

TEST(WindTables, ProblemsNameTheLineOfTheFileOfTables) {
  const Folder folder;
  const std::string path =
      folder.file("floor.toml", "# today\n[today]\ntemperature = \"16 degC\"\nroof = \"9 kg\"\n");
  const Outcome wind = run("wind examples/lantern46.toml '" + path + "' --json");
  EXPECT_EQ(wind.status, 3);
  const auto problem = problem_of(wind, "today.roof");
  EXPECT_EQ(problem["file"], path);
  EXPECT_EQ(problem["line"], 4);
  const Outcome given = run("wind examples/lantern46.toml '" + path + "' --roof '9 s' --json");
  EXPECT_TRUE(problem_of(given, "--roof")["line"].is_null());
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

std::string words_of_pdf(const std::filesystem::path& pdf) {
  const std::string text = pdf.string() + ".txt";
  EXPECT_EQ(std::system(("pdftotext -layout '" + pdf.string() + "' '" + text + "'").c_str()), 0);
  return read(text);
}

// A builder's trial: the headline of the printed card said 90 turns of the crank where 895 of the
// motor are the limit, and hook-up had three torques.
TEST(Wind, PaperScreenAndTableHaveOneCardInWholeTurnsOfTheCrank) {
  const Folder folder;
  for (const char* ratio : {"1", "10", "15"}) {
    const auto card = folder.path() / (std::string("card") + ratio + ".pdf");
    const Outcome wind = run(std::string("wind examples/lantern46.toml --temperature '16 degC' ") +
                             "--winder-ratio " + ratio + " --json -o '" + card.string() + "'");
    ASSERT_EQ(wind.status, 0) << wind.out << wind.err;
    const auto json = wind.json();
    const auto& told = json.at("card");
    const double of_crank = std::stod(ratio);
    for (const auto& step : told.at("steps")) {
      const double counted = step.at("winder_turns").get<double>();
      EXPECT_EQ(counted, std::floor(counted)) << step;
      EXPECT_NEAR(step.at("turns").get<double>(), counted * of_crank, 1e-9) << step;
    }
    const auto& stop = told.at("steps").at(3);
    const auto& hook = told.at("steps").at(4);
    EXPECT_LE(stop.at("turns"), json.at("planned").at("wind_turns"));
    EXPECT_EQ(stop.at("turns"), json.at("today").at("wind_turns"));
    EXPECT_EQ(hook.at("turns"), json.at("today").at("launch_turns"));
    EXPECT_EQ(
        told.at("winder_turns").get<double>() - told.at("back_off_winder_turns").get<double>(),
        hook.at("winder_turns").get<double>());
    const std::string torque = fmt::format("{:.2f} mN·m", 1e3 * hook.at("torque_Nm").get<double>());
    const std::string words = words_of_pdf(card);
    EXPECT_THAT(
        json.at("sentences").at(1).get<std::string>(),
        HasSubstr(fmt::format("{:.2f}\u00a0mN·m", 1e3 * hook.at("torque_Nm").get<double>())));
    // Headline, sentence and table: the same torque, not one of each.
    std::size_t times = 0;
    const std::string number = torque.substr(0, torque.find(' '));
    for (auto at = words.find(number); at != std::string::npos; at = words.find(number, at + 1)) {
      ++times;
    }
    EXPECT_GE(times, 3) << torque << words;
    EXPECT_THAT(words, HasSubstr(fmt::format("{:.0f}", stop.at("winder_turns").get<double>())));
    EXPECT_THAT(words, HasSubstr(fmt::format("stop {:.0f}", stop.at("turns").get<double>())));
    EXPECT_THAT(words, HasSubstr(fmt::format("hook up {:.0f}", hook.at("turns").get<double>())));
  }
}

TEST(Wind, DifferenceFromTheSheetIsToldBeforeTheCrankRounds) {
  const Outcome wind = run("wind examples/lantern46.toml --winder-ratio 10 --json");
  ASSERT_EQ(wind.status, 0) << wind.err;
  const auto json = wind.json();
  // The same day: whole turns of the crank let out more than planned, and nobody is told a reason.
  EXPECT_GT(json.at("today").at("back_off_turns").get<double>(),
            json.at("planned").at("back_off_turns").get<double>());
  EXPECT_NEAR(json.at("card").at("back_off_aim_turns").get<double>(),
              json.at("planned").at("back_off_turns").get<double>(), 1e-6);
  EXPECT_THAT(json.at("sentences").at(0).get<std::string>(),
              testing::Not(HasSubstr("on the sheet 2")));
}

TEST(Wind, InchesReadInchesOfMercuryAndFahrenheit) {
  const Outcome wind =
      run("wind examples/sparrow16.toml --temperature '50 degF' --pressure '29.5 inHg' --json");
  ASSERT_EQ(wind.status, 0) << wind.out << wind.err;
  const auto json = wind.json();
  EXPECT_EQ(json.at("changes").at(1).at("to"), "29.50\u00a0inHg");
  EXPECT_THAT(json.at("changes").at(1).at("from").get<std::string>(), HasSubstr("inHg"));
  EXPECT_THAT(json.at("notes").dump(), HasSubstr("50\u00a0°F"));
  EXPECT_THAT(wind.out, testing::Not(HasSubstr("degC")));
}

TEST(Meter, ReadingsPastTheHeaviestWeightAreSaidToBe) {
  const Folder folder;
  const std::string meter =
      "[meter]\narm = \"20 mm\"\nstep = \"0.5\"\nreadings = [83, 91]\n"
      "[[meter.weights]]\nmass = \"2 g\"\nreading = \"19\"\n"
      "[[meter.weights]]\nmass = \"6 g\"\nreading = \"51\"\n"
      "[[meter.weights]]\nmass = \"10 g\"\nreading = \"83\"\n";
  const std::string path = folder.file("meter.toml", meter);
  const auto told = run("rubber '" + path + "' --json").json().at("meter");
  EXPECT_EQ(told.at("greatest_reading"), 83.0);
  EXPECT_EQ(told.at("readings").at(0).at("beyond"), false);
  EXPECT_EQ(told.at("readings").at(1).at("beyond"), true);
  EXPECT_THAT(told.at("notes").dump(), HasSubstr("heaviest weight hung, 83"));
  // 3 divisions without torque: 8 divisions a gram and 19 at two grams.
  EXPECT_THAT(told.at("sentences").at(0).get<std::string>(), HasSubstr("it reads 3.00"));
  const std::string wire =
      folder.file("wind.toml",
                  "[meter]\narm = \"20 mm\"\n[[meter.weights]]\nmass = \"1 g\"\nreading = \"8\"\n"
                  "[[meter.weights]]\nmass = \"2 g\"\nreading = \"16\"\n"
                  "[[meter.weights]]\nmass = \"3 g\"\nreading = \"24\"\n");
  const Outcome wind = run("wind examples/lantern46.toml '" + wire + "'");
  ASSERT_EQ(wind.status, 0) << wind.err;
  EXPECT_THAT(wind.out, HasSubstr("* Readings beyond the heaviest weight hung, 24"));
}

// One motor broke at 973, 968 and 985 turns on three pages: two thicknesses for one strip.
TEST(RubberTables, OneStripHasOneSizeEverywhere) {
  const Folder folder;
  const auto told = run("rubber '" +
                        folder.file("strip.toml",
                                    "[breaking]\nwidth = \"1.3 mm\"\nlength = \"150 mm\"\n"
                                    "[history]\nwidth = \"1.3 mm\"\nfresh_length = \"150 mm\"\n"
                                    "[strip]\nwidth = \"1.3 mm\"\nloop_length = \"150 mm\"\n") +
                        "' --json")
                        .json();
  const double turns = 10.6 * 0.15 / std::sqrt(2 * 1.3e-3 * 1.04e-3);
  EXPECT_NEAR(told.at("history").at("breaking_turns").get<double>(), turns, 1e-6);
  EXPECT_NEAR(told.at("strip").at("breaking_turns").get<double>(), turns, 1e-6);
  EXPECT_NEAR(told.at("breaking").at("median_turns").get<double>(), turns, 1e-6);
  EXPECT_NEAR(told.at("strip").at("density_kg_m3").get<double>(), 930, 1e-9);
}

TEST(RubberTables, WhatABatchMeasuredStandsForItsMotors) {
  const Folder folder;
  folder.file("t.csv",
              "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n300,0.0009,0.0006\n"
              "600,0.0012,0.0008\n800,0.0016,0.0012\n900,0.0026,0.0026\n");
  const auto told =
      run("rubber '" +
          folder.file("batch.toml",
                      "[[batch.tests]]\nfile = \"t.csv\"\nwidth = \"1.3 mm\"\n"
                      "thickness = \"1.00 mm\"\nlength = \"150 mm\"\nmass = \"0.374 g\"\n"
                      "[history]\nwidth = \"1.3 mm\"\nfresh_length = \"150 mm\"\n"
                      "[strip]\nwidth = \"2 mm\"\n") +
          "' --json")
          .json();
  EXPECT_NEAR(told.at("batch").at("strip_thickness_m").get<double>(), 1e-3, 1e-12);
  // The motor that was tested, so its own breaking turns.
  EXPECT_NEAR(told.at("history").at("breaking_turns").get<double>(), 900, 1e-6);
  EXPECT_NEAR(told.at("strip").at("strip_thickness_m").get<double>(), 1e-3, 1e-12);
  EXPECT_NEAR(told.at("strip").at("density_kg_m3").get<double>(),
              0.374e-3 / (2 * 1.3e-3 * 1e-3 * 0.15), 1e-6);
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

TEST(Wind, PaperScreenAndTableSayWhereTheTurnsComeFrom) {
  const Folder folder;
  const auto card = folder.path() / "card.pdf";
  const std::string line =
      "wind examples/lantern46.toml examples/floor/box7.toml --risk '10 %' -o '" + card.string() +
      "'";
  const Outcome wind = run(line + " --json");
  ASSERT_EQ(wind.status, 0) << wind.out << wind.err;
  const std::string words = wind.json().at("card").at("stop_words").get<std::string>();
  EXPECT_THAT(words, testing::StartsWith("Wound to where 1 in 10 motors breaks: 4 of this batch "
                                         "broke, 1 held; the true chance may be "));
  EXPECT_THAT(run(line).out, HasSubstr(words));
  // The paper breaks its lines where it likes.
  EXPECT_THAT(words_of_pdf(card), HasSubstr("1 in 10 motors breaks"));
}

TEST(Wind, AChanceAskedForCountsHoweverFewBroke) {
  const Folder folder;
  const std::string table =
      folder.file("one.toml",
                  "[breaking]\nneeds_breaks = 3\nwidth = \"2.05 mm\"\nthickness = \"1.04 mm\"\n"
                  "length = \"368 mm\"\n[[breaking.winds]]\nturns = \"1905\"\n");
  const std::string line = "wind examples/lantern46.toml '" + table + "' --json";
  const auto few = run(line).json(), asked = run(line + " --risk '1 %'").json();
  EXPECT_TRUE(few.at("card").at("risk").is_null());
  EXPECT_EQ(asked.at("card").at("risk"), 0.01);
  EXPECT_LT(asked.at("card").at("winder_turns"), few.at("card").at("winder_turns"));
  EXPECT_THAT(asked.at("sentences").at(0).get<std::string>(),
              testing::StartsWith("In air and hall as on the sheet: back off "));
  EXPECT_THAT(few.at("sentences").at(0).get<std::string>(),
              testing::StartsWith("As on the sheet: back off "));
}

// Half motors that broke, of which the file tells the size once.
TEST(Wind, WindsWithoutASizeHaveThatOfTheirTable) {
  const Folder folder;
  const auto turns_with = [&](const std::string& table, const std::string& row) {
    std::string text = "[breaking]\n" + table;
    for (const char* turns : {"952", "974", "995"}) {
      text += "[[breaking.winds]]\nturns = \"" + std::string(turns) + "\"\n" + row;
    }
    const std::string path = folder.file("breaks.toml", text);
    const Outcome wind = run("wind examples/lantern46.toml '" + path + "' --json");
    EXPECT_EQ(wind.status, 0) << wind.out << wind.err;
    return wind.json().at("today").at("wind_turns").get<double>();
  };
  const std::string size = "width = \"2.05 mm\"\nthickness = \"1.04 mm\"\nlength = \"184 mm\"\n";
  EXPECT_EQ(turns_with(size, ""), turns_with("", size));
}

TEST(Wind, WrongReadingOfTheDayNamesTheOption) {
  const Outcome wind = run("wind examples/lantern46.toml --roof '900 m' --json");
  EXPECT_EQ(wind.status, 3);
  problem_of(wind, "--roof");
}

}  // namespace
}  // namespace propwright::desk::test
