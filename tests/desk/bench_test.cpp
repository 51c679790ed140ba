#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

const std::string tube = "bench tube --paper '25 um' --paper-areal '12 g/m2' ";

TEST(Bench, TheExampleAnswersEveryTableWithoutAProblem) {
  const Outcome bench = run("bench examples/bench/lantern46.toml --json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  const auto json = bench.json();
  EXPECT_TRUE(json.at("problems").empty());
  for (const char* table : {"stock", "blades", "twist_test", "tube", "hub", "weighings", "ledger",
                            "shaking", "replacement"}) {
    ASSERT_TRUE(json.contains(table)) << table;
    EXPECT_TRUE(json.at(table).is_object()) << table;
  }
  EXPECT_EQ(json.at("blades").at("pair").at("verdict"), "re_set");
  EXPECT_LT(json.at("ledger").at("seconds_per_mg").get<double>(), 0);
  EXPECT_GT(json.at("replacement").at("targets").size(), 6);
}

TEST(Bench, TheExampleReadsAsText) {
  const Outcome bench = run("bench examples/bench/lantern46.toml");
  ASSERT_EQ(bench.status, 0) << bench.err;
  for (const char* words : {"Stock", "The pair: Turn B", "Twist test", "Rolled tube", "Hub",
                            "Weighings", "Weight ledger: ", "Shaking: ", "New blade"}) {
    EXPECT_THAT(bench.out, HasSubstr(words));
  }
}

TEST(Bench, ASubjectAnswersItsOwnTable) {
  const Outcome bench = run("bench ledger examples/bench/lantern46.toml --json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  EXPECT_EQ(bench.json().size(), 3);  // problems, units, ledger
}

TEST(Bench, OptionsFillInATable) {
  const Outcome whole = run(tube + "--mandrel '2 mm' --wraps 4 --length '12 mm' --json");
  ASSERT_EQ(whole.status, 0) << whole.out << whole.err;
  EXPECT_NEAR(whole.json().at("tube").at("bore_m").get<double>(), 0.002, 1e-12);
  const Outcome more = run(tube + "--mandrel '2 mm' --wraps 5 --json");
  EXPECT_GT(more.json().at("tube").at("mass_kg").get<double>(),
            whole.json().at("tube").at("mass_kg").get<double>());
}

TEST(Bench, OptionsGoBeforeTheFile) {
  const Outcome bench = run("bench tube examples/bench/lantern46.toml --wraps 6 --json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  EXPECT_EQ(bench.json().at("tube").at("wraps"), 6.0);
}

TEST(Bench, WeighsSeveralTogether) {
  const Outcome bench =
      run("bench weigh --reading '64 mg' --zero '1 mg' --count 18 --wanted '5 %' --json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  const auto part = bench.json().at("weighings").at("parts").at(0);
  EXPECT_NEAR(part.at("mass_kg").get<double>(), 63e-6 / 18, 1e-15);
  EXPECT_GE(part.at("count_wanted").get<int>(), 1);
}

TEST(Bench, TwistReadingsComeInPairs) {
  const std::string words = "bench twist --length '175 mm' --arm '20 mm' --mass '0.5 g' ";
  const Outcome bench = run(words + "--angle '10 deg' --mass '1 g' --angle '20 deg' --json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  EXPECT_EQ(bench.json().at("twist_test").at("readings").size(), 2);
  EXPECT_EQ(run(words).status, 3);
}

TEST(Bench, TheLedgerTakesPartsFromTheLine) {
  const Outcome bench =
      run("bench ledger --job examples/lantern46.toml --weighed 'Spars=150 mg' --json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  const auto row = bench.json().at("ledger").at("rows").at(0);
  EXPECT_EQ(row.at("part"), "Spars");
  EXPECT_GT(row.at("cost_s").get<double>(), 0);
  EXPECT_EQ(run("bench ledger --weighed 'Spars' --json").status, 3);
}

TEST(Bench, StockOfOnePiece) {
  const Outcome bench =
      run("bench stock --kind sheet --length '36 in' --width '3 in' --thickness '1/32 in' --mass "
          "'5.3 g' "
          "--json");
  ASSERT_EQ(bench.status, 0) << bench.out << bench.err;
  // 6 lb/ft3: a sheet of this size weighs 5.3 g (builders' archive, the check value of the trade).
  EXPECT_NEAR(bench.json().at("stock").at("items").at(0).at("density_kg_m3").get<double>(), 96.1,
              0.5);
}

TEST(Bench, AProblemOfAFileStandsWithItsLine) {
  const Folder folder;
  const std::string path =
      folder.file("b.toml", "[[stock]]\nkind = \"sheet\"\nlength = \"36 in\"\nmass = \"5.3 s\"\n");
  const Outcome bench = run("bench '" + path + "' --json");
  EXPECT_EQ(bench.status, 3);
  EXPECT_EQ(problem_of(bench, "stock[1].mass")["line"], 4);
}

TEST(Bench, AProblemStandsWithItsOption) {
  const Outcome bench = run(tube + "--mandrel 2 --json");
  EXPECT_EQ(bench.status, 3);
  problem_of(bench, "--mandrel");
}

TEST(Bench, WhatIsWrongWithOneTableLeavesTheOthers) {
  const Folder folder;
  const std::string file = folder.file("bench.toml",
                                       "[tube]\nmandrel = \"2\"\npaper = \"25 um\"\n"
                                       "paper_areal = \"12 g/m2\"\n[weighings]\ntogether = [{ part "
                                       "= \"rib\", count = 10, reading = \"31 mg\" }]\n");
  const Outcome json = run("bench '" + file + "' --json");
  EXPECT_EQ(json.status, 3);
  EXPECT_EQ(problem_of(json, "tube.mandrel").at("file"), file);
  EXPECT_TRUE(json.json().at("weighings").is_object());
  const Outcome text = run("bench '" + file + "'");
  EXPECT_EQ(text.status, 3);
  EXPECT_THAT(text.out, HasSubstr("Weighings"));
  EXPECT_THAT(text.err, HasSubstr("tube.mandrel"));
}

TEST(Bench, WrongUsage) {
  EXPECT_EQ(run("bench tubes").status, 2);
  EXPECT_EQ(run("bench tube").status, 2);
  EXPECT_EQ(run("bench hub --mandrel '2 mm'").status, 2);
  EXPECT_EQ(run("bench examples/bench/lantern46.toml --wraps 3").status, 2);
  EXPECT_EQ(run("bench no-such-file.toml").status, 5);
}

}  // namespace
}  // namespace propwright::desk::test
