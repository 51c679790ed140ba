// What is asked of rubber: figures that cannot be are questioned at their field.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "jobs.h"
#include "propwright/answer/document.h"
#include "propwright/answer/floor.h"

namespace propwright::answer {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> fields_asked(const Json& answer) {
  std::vector<std::string> fields;
  for (const Json& problem : answer["problems"]) fields.push_back(problem["field"]);
  return fields;
}

Json scale(const std::vector<double>& readings) {
  Json weights = Json::array();
  for (std::size_t i = 0; i < readings.size(); ++i) {
    weights.push_back({{"mass", std::to_string(100 * (i + 1)) + " mg"}, {"reading", readings[i]}});
  }
  return {{"meter", {{"arm", "40 mm"}, {"unit", "mark"}, {"weights", weights}}}};
}

TEST(RubberDocument, AMisreadWeightIsNoScale) {
  const Json good = rubber_document(scale({10.1, 19.9, 30.2, 39.9}));
  EXPECT_TRUE(good["problems"].empty()) << good["problems"].dump();
  EXPECT_GT(good["meter"]["per_division_sigma_Nm"].get<double>(), 0);
  const Json bad = rubber_document(scale({10.1, 19.9, -30.2, 39.9}));
  EXPECT_THAT(fields_asked(bad), ElementsAre("meter.weights[3].reading"));
  EXPECT_THAT(bad["problems"][0]["message"].get<std::string>(), HasSubstr("do not rise"));
  EXPECT_TRUE(bad["meter"].is_null());
}

// A bound is told as a measure, not as the bare number it is checked as.
TEST(RubberDocument, ProblemsSayTheirUnits) {
  const Json answer =
      rubber_document({{"history",
                        {{"section", "3 mm2"},
                         {"fresh_length", "300 mm"},
                         {"winds", {{{"turns", 900}, {"rested_length", "8 in"}}}}}}});
  ASSERT_EQ(answer["problems"].size(), 1) << answer.dump(1);
  EXPECT_EQ(answer["problems"][0]["field"], "history.winds[1].rested_length");
  EXPECT_EQ(answer["problems"][0]["value"], "203.2 mm");
  EXPECT_EQ(answer["problems"][0]["allowed"], "285 mm to 375 mm");
}

TEST(RubberDocument, AWireSaysHowFarItMayBeTwisted) {
  const Json answer = rubber_document(
      {{"meter",
        {{"wire", {{"diameter", "0.4 mm"}, {"length", "80 mm"}, {"material", "music wire"}}}}}});
  const auto sentence = answer["meter"]["sentences"][0].get<std::string>();
  EXPECT_THAT(sentence, HasSubstr("it may stay bent"));
  EXPECT_GT(answer["meter"]["greatest_deg"].get<double>(), 90);
}

Json half_flight(const std::string& duration, const std::string& top) {
  return {{"partial",
           {{"share", 0.5},
            {"section", "4 mm2"},
            {"length", "300 mm"},
            {"mass", "1.2 g"},
            {"duration", duration},
            {"top_height", top},
            {"roof", "8.5 m"}}}};
}

TEST(RubberDocument, APartialFlightThatCannotBeIsQuestioned) {
  EXPECT_THAT(fields_asked(rubber_document(half_flight("3:10", "46 m"))),
              ElementsAre("partial.top_height"));
  EXPECT_THAT(fields_asked(rubber_document(half_flight("2 s", "4 m"))),
              ElementsAre("partial.duration"));
  EXPECT_TRUE(fields_asked(rubber_document(half_flight("3:10", "4 m"))).empty());
}

// Turns that flights taught the batch to take are turns it may be wound to at the chosen risk.
TEST(WindDocument, SafeTurnsAtARiskUseWhatFlightsTaught) {
  const auto wound_with = [](double factor) {
    auto job = job_json(support::example_text("lantern46.toml"), "job");
    EXPECT_TRUE(job);
    (*job)["learned"] = {{"rubber_turns", factor}};
    const auto card = wind_document(
        {{"job", *job},
         {"attachments", {{"rubber_test_csv", support::example_text("box7-bench-test.csv")}}},
         {"breaking", {{"risk", 0.05}}}});
    EXPECT_TRUE(card) << base::to_line(card.error().front());
    return std::pair((*card)["today"]["wind_turns"].get<double>(),
                     (*card)["card"]["breaking_turns"].get<double>());
  };
  const auto [sheet, sheet_breaks] = wound_with(1);
  const auto [learned, learned_breaks] = wound_with(1.06);
  EXPECT_NEAR(learned_breaks / sheet_breaks, 1.06, 1e-9);
  EXPECT_NEAR(learned / sheet, 1.06, 0.002) << "whole turns";
}

}  // namespace
}  // namespace propwright::answer
