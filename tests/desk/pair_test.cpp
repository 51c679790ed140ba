#include <gtest/gtest.h>

#include <cmath>

#include "program.h"

namespace propwright::desk::test {
namespace {

const std::string job = "examples/lantern46.toml ";
const std::string built = "examples/bench/as-built-lantern46.toml ";

TEST(Pair, LedgerAndCrossTermsAddUpToTheSecondsLost) {
  const Outcome pair = run("pair " + job + built + "--json");
  ASSERT_EQ(pair.status, 0) << pair.out << pair.err;
  const auto json = pair.json();
  const double lost =
      json.at("duration_perfect_s").get<double>() - json.at("duration_s").get<double>();
  EXPECT_NEAR(json.at("ledger_sum_s").get<double>() + json.at("cross_s").get<double>(), lost, 1e-6);
  const auto flaws = json.at("ledger");
  EXPECT_GE(flaws.size(), 9U);  // angle, twist, length, camber twice; mass; imbalance
  for (const auto& flaw : flaws) EXPECT_FALSE(flaw.at("advice").get<std::string>().empty());
}

TEST(Pair, DesignFliesAsPredictSays) {
  const auto pair = run("pair " + job + built + "--json").json();
  const auto predicted = run("predict " + job + "--samples 50 --json").json();
  EXPECT_NEAR(pair.at("duration_perfect_s").get<double>(), predicted.at("duration_s").get<double>(),
              1e-6);
}

TEST(Pair, TellsTheToleranceCardBeforeAnythingIsBuilt) {
  const Outcome card = run("pair " + job + "--tolerances --json");
  ASSERT_EQ(card.status, 0) << card.err;
  const auto tolerances = card.json().at("tolerances");
  EXPECT_GE(tolerances.size(), 5U);
}

TEST(Pair, NothingBuiltAndNoCardAskedForIsWrongUsage) {
  EXPECT_EQ(run("pair " + job).status, 2);
}

TEST(Pair, EveryWrongReadingIsNamed) {
  const Folder folder;
  const std::string file = folder.file("built.toml",
                                       "[[blade]]\nlength = \"2 m\"\nmas = \"1 g\"\n"
                                       "[[blade]]\ncamber = 0.06\n");
  const Outcome pair = run("pair " + job + "'" + file + "' --json");
  EXPECT_EQ(pair.status, 3);
  const auto answer = pair.json();
  EXPECT_EQ(answer.at("problems").size(), 3U);
}

}  // namespace
}  // namespace propwright::desk::test
