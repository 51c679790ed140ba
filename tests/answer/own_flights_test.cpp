// Flights that are not of the job, and readings that tell nothing, are left out and told.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "jobs.h"
#include "propwright/answer/flights_answer.h"

namespace propwright::answer {
namespace {

using testing::HasSubstr;

Json own_job(const std::string& file) {
  return {{"job", support::example_text(file)},
          {"attachments", {{"rubber_test_csv", support::example_text("box7-bench-test.csv")}}}};
}

Json flown_question(const std::string& csv) {
  return {{"csv", csv},
          {"jobs", {own_job("lantern46.toml"), own_job("flights/lantern46-b.toml")}},
          {"next", false}};
}

Json answered(const base::Expected<Json>& answer) {
  if (answer) return *answer;
  ADD_FAILURE() << base::to_line(answer.error().front());
  return Json::object();
}

std::string log_ending(const std::string& last) {
  std::string log =
      "model,propeller,duration_s,turns_wound,turns_at_launch,temperature_K,mean_rev_per_s,mean_"
      "rev_"
      "time_s\n";
  for (int i = 0; i < 4; ++i) {
    log += fmt::format("Lantern 46,L46-{},{},1820,1640,292,,\n", i % 2 == 0 ? 'A' : 'B', 455 + i);
  }
  return log + last;
}

TEST(OwnFlights, ThoseOfAnotherModelAreLeftOutOfLearningAndVerdict) {
  const std::string log = log_ending("Heavy Owl,L46-A,310,1820,1640,292,,\n");
  const Json learned = answered(learn_document(flown_question(log)));
  EXPECT_EQ(learned["flights"]["used"], 4);
  ASSERT_EQ(learned["flights"]["left_out"].size(), 1);
  EXPECT_EQ(learned["flights"]["left_out"][0]["reason"], "flown with another model: Heavy Owl");
  Json question = flown_question(log);
  question.erase("next");
  const Json verdict = answered(verdict_document(question));
  EXPECT_EQ(verdict["shares"][4]["left_out"], "flown with another model: Heavy Owl");
  question = flown_question(log_ending(""));
  question.erase("next");
  const Json alone = answered(verdict_document(question));
  EXPECT_EQ(verdict["propellers"], alone["propellers"]);
  // Without jobs no model is the right one: they are compared together, and it is said.
  EXPECT_THAT(answered(verdict_document({{"csv", log}}))["notes"].dump(),
              HasSubstr("several models (Heavy Owl, Lantern 46)"));
}

TEST(OwnFlights, TurnsBeyondTheMotorAreLeftOutOrTold) {
  const Json learned = answered(learn_document(flown_question(
      log_ending("Lantern 46,L46-A,460,9999,9999,292,,\nLantern 46,L46-A,460,2060,1640,292,,\n"))));
  ASSERT_EQ(learned["flights"]["left_out"].size(), 1);
  EXPECT_THAT(learned["flights"]["left_out"][0]["reason"].get<std::string>(),
              HasSubstr("more turns than its motor takes: 9999"));
  EXPECT_THAT(learned["notes"].dump(), HasSubstr("(flight 6: 2060 of "));
}

TEST(OwnFlights, TapsWithoutTheirTimeTeachNothingAndItIsSaid) {
  const std::string tap = "Lantern 46,L46-A,455,1820,1640,292,2.6,";
  const Json without = answered(learn_document(flown_question(log_ending(tap + "\n"))));
  const Json none = answered(
      learn_document(flown_question(log_ending("Lantern 46,L46-A,455,1820,1640,292,,\n"))));
  const Json timed = answered(learn_document(flown_question(log_ending(tap + "10\n"))));
  EXPECT_EQ(without["parameters"], none["parameters"]);
  EXPECT_NE(timed["parameters"], none["parameters"]);
  EXPECT_THAT(without["notes"].dump(), HasSubstr("One flight tells revolutions but not when"));
  EXPECT_THAT(timed["notes"].dump(), testing::Not(HasSubstr("tells revolutions")));
}

TEST(OwnFlights, TheNextFlightScattersBesideTheDoubtOfTheMean) {
  const Json learned = answered(learn_document(flown_question(log_ending(""))));
  const double scatter = learned["scatter"]["duration"].get<double>();
  ASSERT_EQ(learned["changes"].size(), 2);
  for (const Json& change : learned["changes"]) {
    const double after = change["after_s"].get<double>();
    EXPECT_NEAR(change["flight_sigma_s"].get<double>(),
                std::hypot(change["after_sigma_s"].get<double>(), scatter * after), 1e-9);
  }
}

TEST(OwnFlights, TheTableTellsWhoseItIs) {
  const Json learned = answered(learn_document(flown_question(log_ending(""))));
  const Json& table = learned["learned"][1]["table"];
  EXPECT_EQ(table["model"], "Lantern 46");
  EXPECT_EQ(table["rubber"], "box 7");
  EXPECT_EQ(table["propeller"], "L46-B");
}

}  // namespace
}  // namespace propwright::answer
