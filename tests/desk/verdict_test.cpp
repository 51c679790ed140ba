// Learning from a log and the verdict, from the command line.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

const std::string log_file = "examples/flights/lantern46-two-propellers.csv ";
const std::string both_jobs =
    "--job examples/lantern46.toml --job examples/flights/lantern46-b.toml ";

TEST(Learn, UsesTheFlightsThatCount) {
  const Outcome learn = run("learn " + log_file + both_jobs + "--no-next --json");
  ASSERT_EQ(learn.status, 0) << learn.out << learn.err;
  const auto json = learn.json();
  EXPECT_EQ(json.at("flights").at("used"), 38);
  EXPECT_EQ(json.at("changes").size(), 2);
  EXPECT_TRUE(json.at("next").empty());
}

TEST(Learn, ReadsAsText) {
  const Outcome learn = run("learn " + log_file + both_jobs);
  ASSERT_EQ(learn.status, 0) << learn.err;
  for (const char* words : {"Learned from 38 of 40 flights", "drag of the model", "change to L46-A",
                            "Flights that do not fit", "hung up: in the net", "Taken as given"}) {
    EXPECT_THAT(learn.out, HasSubstr(words));
  }
}

TEST(Learn, KeepsWhatItLearnedInTheJobAndPredictionsUseIt) {
  const Folder folder;
  const std::string remark = "# my own remark\n";
  const std::string job = folder.file(
      "lantern46.toml", remark + read(PROPWRIGHT_SOURCE_DIR "/examples/lantern46.toml"));
  folder.file("box7-bench-test.csv", read(PROPWRIGHT_SOURCE_DIR "/examples/box7-bench-test.csv"));
  const auto predicted = [&] {
    const Outcome predict = run("predict '" + job + "' --samples 50 --json");
    EXPECT_EQ(predict.status, 0) << predict.out;
    return predict.json();
  };
  const double sheet_s = predicted().at("duration_s").get<double>();
  for (int i = 0; i < 2; ++i) {  // the second time the table is there already
    const Outcome learn = run("learn " + log_file + "--job '" + job + "' --no-next --keep --json");
    ASSERT_EQ(learn.status, 0) << learn.out << learn.err;
    const double learned_s = learn.json().at("changes")[0].at("after_s").get<double>();
    const auto now = predicted();
    EXPECT_GT(std::abs(learned_s - sheet_s), 3);
    EXPECT_NEAR(now.at("duration_s").get<double>(), learned_s, 1);
    EXPECT_THAT(now.at("warnings").dump() + now.dump(), HasSubstr("flights, 20"));
  }
  const std::string text = read(job);
  EXPECT_EQ(text.find(remark), 0U);
  EXPECT_EQ(text.find("[learned]"), text.rfind("[learned]"));
  EXPECT_THAT(text, HasSubstr("airframe_drag_doubt = 0."));
  // The directions are those of the last time, no second set beside the first.
  std::size_t directions = 0;
  for (auto at = text.find("[[learned.direction]]"); at != std::string::npos;
       at = text.find("[[learned.direction]]", at + 1)) {
    ++directions;
  }
  EXPECT_GE(directions, 3U);
  EXPECT_LE(directions, 10U);
}

TEST(Learn, WithoutAJobIsWrongUsageAndAForeignLogHasNoSolution) {
  EXPECT_EQ(run("learn " + log_file).status, 2);
  const Outcome foreign = run("learn " + log_file + "--job examples/heron55.toml --json");
  EXPECT_EQ(foreign.status, 4);
  EXPECT_THAT(foreign.json().at("problems").at(0).at("message").get<std::string>(),
              HasSubstr("no job with this propeller"));
}

TEST(VerdictCommand, TheExampleIsClearAndSaysSo) {
  const Outcome verdict = run("verdict " + log_file + both_jobs);
  ASSERT_EQ(verdict.status, 0) << verdict.err;
  for (const char* words : {"B is better", "B gains", "as learned from these flights",
                            "about 16 flights of each", "Student's t with 4 degrees"}) {
    EXPECT_THAT(verdict.out, HasSubstr(words));
  }
}

TEST(VerdictCommand, KeysForScriptsAreThere) {
  const Folder folder;
  const std::string path = folder.file(
      "f.csv", "propeller,duration_s\nP14,700\nP12,690\nP12,720\nP14,705\nP14,680\nP12,700\n");
  const Outcome verdict = run("verdict '" + path + "' --json");
  ASSERT_EQ(verdict.status, 0) << verdict.out;
  const auto json = verdict.json();
  EXPECT_EQ(json.at("decision"), "cannot_tell_yet");
  EXPECT_TRUE(json.at("more_flights").is_number_integer() || json.at("more_flights").is_null());
  double odds = 0;
  for (const auto& p : json.at("propellers")) {
    odds += p.at("probability_best").get<double>();
    for (const char* key : {"name", "flights", "gain_s", "interval_s"}) {
      EXPECT_TRUE(p.contains(key)) << key;
    }
  }
  EXPECT_NEAR(odds, 1, 1e-4);
}

TEST(VerdictCommand, EveryBeliefAndThresholdCanBeGiven) {
  const Outcome verdict =
      run("verdict " + log_file +
          "--tail-freedom 8 --own-scatter --scatter-median '3 %' --scatter-spread 0.5 "
          "--level-sigma '5 %' --sure '90 %' --sure-without-one '80 %' --margin '2 %' "
          "--least-flights 4 --planned 0.7 --most-flights 50 --reference-duration '7 min' --json");
  ASSERT_EQ(verdict.status, 0) << verdict.out << verdict.err;
  const auto json = verdict.json();
  EXPECT_EQ(json.at("beliefs").at("tail_freedom"), 8.0);
  EXPECT_EQ(json.at("beliefs").at("shared_scatter"), false);
  EXPECT_EQ(json.at("thresholds").at("least_flights"), 4);
  EXPECT_EQ(json.at("thresholds").at("margin"), 0.02);
  EXPECT_EQ(json.at("reference").at("duration_s"), 420.0);
  const Outcome normal = run("verdict " + log_file + "--normal --flat-scatter --json");
  EXPECT_EQ(normal.json().at("beliefs").at("normal"), true);
  EXPECT_EQ(normal.json().at("beliefs").at("flat_scatter"), true);
}

TEST(VerdictCommand, SheetIsPrinted) {
  const Folder folder;
  const std::string sheet = (folder.path() / "fair.pdf").string();
  const Outcome verdict = run("verdict " + log_file + both_jobs +
                              "--mass 'L46-A=1.02 g' --mass 'L46-B=1.06 g' --each 6 "
                              "--date 2026-11-26 -o '" +
                              sheet + "' --json");
  ASSERT_EQ(verdict.status, 0) << verdict.out << verdict.err;
  EXPECT_THAT(read(sheet), testing::StartsWith("%PDF"));
  EXPECT_NEAR(verdict.json().at("propellers").at(0).at("ballast_kg").get<double>(), 40e-6, 1e-12);
}

TEST(VerdictCommand, BadInputNamesOptionColumnAndFile) {
  const Outcome wrong =
      run("verdict " + log_file + "--sure 2 --tail-freedom 0.1 --mass 'L46-A=1.02' --json");
  EXPECT_EQ(wrong.status, 3);
  problem_of(wrong, "--sure");
  problem_of(wrong, "--tail-freedom");
  EXPECT_EQ(run("verdict " + log_file + "--mass 1.02 --json").status, 3);
  const Folder folder;
  const std::string path = folder.file("f.csv", "propeller,duration_s\nP,7 min\n");
  const Outcome text = run("verdict '" + path + "' --json");
  EXPECT_EQ(text.status, 3);
  const auto problem = problem_of(text, "duration_s");
  EXPECT_EQ(problem.at("file"), path);
  EXPECT_EQ(problem.at("line"), 2);
  EXPECT_EQ(run("verdict none.csv").status, 5);
  EXPECT_EQ(run("verdict " + log_file + "--job none.toml").status, 5);
}

}  // namespace
}  // namespace propwright::desk::test
