#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "program.h"

namespace propwright::desk::test {
namespace {

const std::string lantern = "examples/lantern46.toml ";
const std::string built = "examples/bench/as-built-lantern46.toml ";

TEST(Pair, LedgerAndCrossTermsAddUpToTheSecondsLost) {
  const Outcome pair = run("pair " + lantern + built + "--json");
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
  const auto pair = run("pair " + lantern + built + "--json").json();
  const auto predicted = run("predict " + lantern + "--samples 50 --json").json();
  EXPECT_NEAR(pair.at("duration_perfect_s").get<double>(), predicted.at("duration_s").get<double>(),
              1e-6);
}

TEST(Pair, TellsTheToleranceCardBeforeAnythingIsBuilt) {
  const Outcome card = run("pair " + lantern + "--tolerances --json");
  ASSERT_EQ(card.status, 0) << card.err;
  const auto tolerances = card.json().at("tolerances");
  EXPECT_GE(tolerances.size(), 5U);
}

TEST(Pair, NothingBuiltAndNoCardAskedForIsWrongUsage) {
  EXPECT_EQ(run("pair " + lantern).status, 2);
}

/// The file of two blades, B as designed, A with these lines.
std::string of_blade_a(const Folder& folder, const std::string& lines) {
  return "'" +
         folder.file("built.toml", "[[blade]]\n" + lines + "\n[[blade]]\ncamber = \"6 %\"\n") + "'";
}

double torsion_of_a(const Outcome& pair) {
  const auto answer = pair.json();
  return answer.at("blades")[0].at("difference").at("torsion_relative").get<double>();
}

// Half the turn under the same weight is twice the stiffness, whatever the design's.
TEST(Pair, ATwistTestIsSetOverTheDesigns) {
  const Folder folder;
  const std::string test =
      "twist_test = { mass = \"1 g\", arm = \"20 mm\", radius = \"150 mm\", angle = ";
  const double soft =
      torsion_of_a(run("pair " + lantern + of_blade_a(folder, test + "\"8 deg\" }") + " --json"));
  const double stiff =
      torsion_of_a(run("pair " + lantern + of_blade_a(folder, test + "\"4 deg\" }") + " --json"));
  EXPECT_NEAR((1 + stiff) / (1 + soft), 2, 1e-9);
  // The job's spar begins 8 mm from the shaft: that is where the clamp holds it.
  const double by_length = torsion_of_a(
      run("pair " + lantern +
          of_blade_a(folder,
                     "twist_test = { mass = \"1 g\", arm = \"20 mm\", length = \"142 mm\", "
                     "angle = \"4 deg\" }") +
          " --json"));
  EXPECT_NEAR(by_length, stiff, 1e-9);
}

// 110 kg/m3 balsa by 21.25 MJ/kg and the job's root of 2.3 mm square: the design's own spar.
TEST(Pair, TheDesignsOwnSparIsTheDesign) {
  const Folder folder;
  const double ei = 110 * 21.25e6 * std::pow(2.3e-3, 4) / 12;
  const std::string spar = fmt::format("spar_flapwise = \"{:.17g} N m2\"", ei);
  const Outcome same = run("pair " + lantern + of_blade_a(folder, spar) + " --json");
  ASSERT_EQ(same.status, 0) << same.out << same.err;
  const auto alike = same.json();
  EXPECT_NEAR(alike.at("blades")[0].at("difference").at("flapwise_relative").get<double>(), 0,
              1e-9);
  // A spar twice as stiff stiffens the blade by less: edges and film are as designed.
  const auto stiff =
      run("pair " + lantern +
          of_blade_a(folder, fmt::format("spar_flapwise = \"{} N m2\"", 2 * ei)) + " --json")
          .json();
  const double more = stiff.at("blades")[0].at("difference").at("flapwise_relative").get<double>();
  EXPECT_GT(more, 0.1);
  EXPECT_LT(more, 1.0);
}

TEST(Pair, OneStiffnessToldTwiceOrHalfATestIsRefused) {
  const Folder folder;
  const auto fields = [&](const std::string& lines) {
    const Outcome pair = run("pair " + lantern + of_blade_a(folder, lines) + " --json");
    EXPECT_EQ(pair.status, 3);
    const auto answer = pair.json();
    return answer.at("problems")[0].at("field").get<std::string>();
  };
  EXPECT_EQ(fields("flapwise_stiffness = \"90 %\"\nspar_flapwise = \"5 N mm2\""),
            "blade[1].spar_flapwise");
  EXPECT_EQ(fields("twist_test = { mass = \"1 g\", arm = \"20 mm\", angle = \"4 deg\" }"),
            "blade[1].twist_test.radius");
}

TEST(Pair, EveryWrongReadingIsNamed) {
  const Folder folder;
  const std::string file = folder.file("built.toml",
                                       "[[blade]]\nlength = \"2 m\"\nmas = \"1 g\"\n"
                                       "[[blade]]\ncamber = 0.06\n");
  const Outcome pair = run("pair " + lantern + "'" + file + "' --json");
  EXPECT_EQ(pair.status, 3);
  const auto answer = pair.json();
  EXPECT_EQ(answer.at("problems").size(), 3U);
  EXPECT_EQ(problem_of(pair, "blade[1].length")["line"], 2);
  EXPECT_EQ(problem_of(pair, "blade[1].mas")["line"], 3);
  EXPECT_EQ(problem_of(pair, "blade[2].camber")["line"], 5);
}

}  // namespace
}  // namespace propwright::desk::test
