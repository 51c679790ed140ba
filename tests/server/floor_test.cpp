// Rubber and the winding card as the pages ask for them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

using testing::Contains;
using testing::EndsWith;
using testing::StartsWith;

json whole_rubber() {
  return {{"units", "metric"},
          {"breaking",
           {{"risk", 0.05},
            {"width", "2.05 mm"},
            {"thickness", "1.04 mm"},
            {"length", "368 mm"},
            {"winds",
             {{{"turns", 1905}},
              {{"turns", 1948}},
              {{"turns", "1990"}},
              {{"turns", 1800}, {"broke", false}}}}}},
          {"history",
           {{"section", "4.264 mm2"},
            {"fresh_length", "357 mm"},
            {"winds", {{{"turns", 900}, {"torque", "0.25 in-oz"}, {"rested_length", ""}}}}}},
          {"strip", {{"width", "2.05 mm"}, {"mass", "1.49 g"}, {"thickness", nullptr}}},
          {"partial",
           {{"section", "4.264 mm2"},
            {"length", "368 mm"},
            {"mass", "1.49 g"},
            {"share", 0.25},
            {"duration", "2:30"},
            {"top_height", "3 m"}}},
          {"meter",
           {{"wire", {{"diameter", "0.33 mm"}, {"length", "100 mm"}}},
            {"readings", {90, 180.5}},
            {"torques", {"0.3 in-oz"}}}},
          {"winder", {{"ratio", 15}, {"motor_turns", 1275}}}};
}

TEST(FloorRubber, EveryTableIsAnsweredAsDescribed) {
  const Pages pages;
  const Reply reply = pages.ask("POST", "/api/rubber", whole_rubber());
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  EXPECT_TRUE(answer.at("problems").empty()) << answer.at("problems");
  EXPECT_EQ(answer.at("winder").at("winder_turns"), 85.0);
  // 0.33 mm music wire of 100 mm: G J/L times a quarter turn, 1.451 mN m (closed form).
  EXPECT_NEAR(answer.at("meter").at("readings").at(0).at("torque_Nm").get<double>(), 1.4503e-3,
              1e-6);
}

TEST(FloorRubber, SeveralMotorsAndAnotherBatchAreCompared) {
  const Pages pages;
  const auto test = [](double scale) {
    std::string csv = "turns,torque_winding_Nm,torque_unwinding_Nm\n";
    for (int i = 0; i <= 8; ++i) {
      csv += std::to_string(100 * i) + "," + std::to_string(scale * 0.0006 * i) + "," +
             std::to_string(scale * (i < 8 ? 0.0004 : 0.0006) * i) + "\n";
    }
    return json{{"csv", csv}, {"section", "2.6 mm2"}, {"length", "230 mm"}, {"mass", "0.55 g"}};
  };
  const json question{{"batch", {{"name", "box 7"}, {"tests", {test(1), test(1.01)}}}},
                      {"other", {{"name", "box 8"}, {"tests", {test(1.1), test(1.11)}}}}};
  const Reply reply = pages.ask("POST", "/api/rubber", question);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  ASSERT_TRUE(answer.at("problems").empty()) << answer.at("problems");
  const json energy = answer.at("batch").at("comparison").at("figures").at(0);
  EXPECT_EQ(energy.at("difference"), "clear");
  // The other's torques are 1.105/1.005 of the first's at the same turns.
  EXPECT_NEAR(energy.at("ratio").get<double>(), 1.105 / 1.005, 1e-6);
}

TEST(FloorRubber, ExampleIsAnsweredAndItsMeanFliesInAJob) {
  const Pages pages;
  const json shelf = pages.get("/api/examples/rubber").body();
  const json section = shelf.at("rubbers").at(0).at("section");
  json batch = section.at("batch");
  for (json& test : batch.at("tests")) {
    test.erase("rows");
    test.erase("unit");
  }
  const Reply reply = pages.ask("POST", "/api/rubber",
                                {{"batch", batch},
                                 {"breaking", section.at("breaking")},
                                 {"meter", shelf.at("meters").at(0).at("section").at("meter")}});
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  ASSERT_TRUE(answer.at("problems").empty()) << answer.at("problems");
  const json told = answer.at("batch");
  EXPECT_EQ(told.at("motors"), 3);
  EXPECT_EQ(told.at("tests").at(0).at("rows").size(),
            section.at("batch").at("tests").at(0).at("rows").size());
  json flown = document();
  const json as_test = told.at("as_test");
  flown["job"]["rubber"] = {{"name", "box 7"}, {"test_file", "box 7.csv"}};
  for (const char* name : {"section", "length", "mass", "temperature"}) {
    flown["job"]["rubber"][std::string("test_") + name] = as_test.at(name);
  }
  flown["attachments"]["rubber_test_csv"] = as_test.at("csv");
  const Reply flight = pages.ask("POST", "/api/flight", flown);
  ASSERT_EQ(flight.status, 200) << flight.text;
  // The job's table of the rubber says what the batch says, to the digits the test is written with.
  const json again = pages
                         .ask("POST", "/api/rubber",
                              {{"batch",
                                {{"tests",
                                  {{{"csv", as_test.at("csv")},
                                    {"section", as_test.at("section")},
                                    {"length", as_test.at("length")},
                                    {"mass", as_test.at("mass")}}}}}}})
                         .body()
                         .at("batch");
  EXPECT_NEAR(again.at("energy_out_J_per_kg").at("mean").get<double>() /
                  told.at("energy_out_J_per_kg").at("mean").get<double>(),
              1, 1e-9);
  for (const char* kind : {"rubbers", "motors", "meters"}) {
    for (const json& record : shelf.at(kind)) {
      EXPECT_EQ(pages.ask("POST", std::string("/api/") + kind, record).status, 201) << record;
    }
  }
}

TEST(FloorRubber, ProblemsNameTheirPlaceAndLeaveTheRest) {
  const Pages pages;
  json question = whole_rubber();
  question["breaking"]["winds"][2]["turns"] = 120;
  question["history"]["winds"][0]["turns"] = 9000;
  const Reply reply = pages.ask("POST", "/api/rubber", question);
  ASSERT_EQ(reply.status, 200);
  EXPECT_TRUE(reply.body().at("breaking").is_null());
  EXPECT_TRUE(reply.body().at("strip").is_object());
  EXPECT_THAT(reply.fields(), Contains("breaking.winds[3].turns"));
  EXPECT_THAT(reply.fields(), Contains("history.winds[1].turns"));
  EXPECT_EQ(pages.send("POST", "/api/rubber", R"({"rope": {}})").status, 422);
}

json wind_question(const json& today) {
  json question = document();
  question["today"] = today;
  return question;
}

TEST(FloorWind, ThinnerAirShortensTheFlightAndDampAirHardlyMatters) {
  const Pages pages;
  const Reply reply = pages.ask("POST", "/api/wind",
                                wind_question({{"pressure", "930 hPa"}, {"humidity", "90 %"}}));
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json changes = reply.body().at("changes");
  EXPECT_EQ(changes.at(0).at("what"), "pressure");
  EXPECT_LT(changes.at(0).at("duration_change_s").get<double>(), 0);
  // 40 points of humidity at 20 degC thin the air by 0.4 %, a twentieth of what 78 hPa do.
  const double by_damp = changes.at(1).at("duration_change_s").get<double>();
  EXPECT_LT(std::abs(by_damp), 0.2 * std::abs(changes.at(0).at("duration_change_s").get<double>()));
}

TEST(FloorWind, LowerRoofBacksOffMoreAndWarmerRubberToo) {
  const Pages pages;
  const Reply reply =
      pages.ask("POST", "/api/wind", wind_question({{"temperature", "26 degC"}, {"roof", "7 m"}}));
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json wind = reply.body();
  for (const json& change : wind.at("changes")) {
    EXPECT_GT(change.at("back_off_change_turns").get<double>(), 0) << change;
  }
  // Whole turns of the motor: never higher, and lower by what less than a turn climbs.
  const double lower = wind.at("today").at("under_roof_m").get<double>() -
                       wind.at("planned").at("under_roof_m").get<double>();
  EXPECT_GT(lower, -0.01);
  EXPECT_LT(lower, 0.05);
}

TEST(FloorWind, TheSameDayChangesNothing) {
  const Pages pages;
  const Reply reply = pages.ask("POST", "/api/wind", wind_question(json::object()));
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_TRUE(reply.body().at("changes").empty());
  // Whole turns, rounded down.
  const json planned = reply.body().at("planned"), counted = reply.body().at("today");
  for (const char* turns : {"wind_turns", "launch_turns"}) {
    EXPECT_EQ(std::floor(planned.at(turns).get<double>()), counted.at(turns)) << turns;
  }
}

TEST(FloorWind, AFixedLaunchIsCorrectedForTheSameTop) {
  const Pages pages;
  json question = wind_question({{"temperature", "14 degC"}});
  question["job"]["launch"].erase("margin");
  question["job"]["launch"]["turns"] = "1608";
  const Reply reply = pages.ask("POST", "/api/wind", question);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  // By less than a turn of the motor lower.
  const double lower = answer.at("planned").at("top_height_m").get<double>() -
                       answer.at("today").at("top_height_m").get<double>();
  EXPECT_GT(lower, -0.01);
  EXPECT_LT(lower, 0.05);
  EXPECT_GT(answer.at("today").at("launch_turns").get<double>(),
            answer.at("planned").at("launch_turns").get<double>());
}

TEST(FloorWind, BreaksOfTheBatchSayHowFarToWindWhereTheyAreEnough) {
  const Pages pages;
  json question = wind_question(json::object());
  const json by_job = pages.ask("POST", "/api/wind", question).body();
  EXPECT_TRUE(by_job.at("card").at("risk").is_null());
  json winds = json::array();
  for (const char* turns : {"1905", "1948", "1990"}) {
    winds.push_back({{"turns", turns}, {"section", "4.264 mm2"}, {"length", "368 mm"}});
  }
  question["breaking"] = {{"risk", "5 %"}, {"needs_breaks", 3}, {"winds", winds}};
  const Reply reply = pages.ask("POST", "/api/wind", question);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json card = reply.body().at("card");
  EXPECT_EQ(card.at("risk"), 0.05);
  EXPECT_THAT(card.at("stop_words").get<std::string>(),
              StartsWith("Wound to where 1 in 20 motors breaks: 3 of this batch broke, 0 held; the "
                         "true chance may be "));
  EXPECT_THAT(reply.body().at("sentences"), Contains(card.at("stop_words")));
  EXPECT_NE(reply.body().at("today").at("wind_turns"), by_job.at("today").at("wind_turns"));

  question["breaking"]["needs_breaks"] = 4;
  const json too_few = pages.ask("POST", "/api/wind", question).body();
  EXPECT_TRUE(too_few.at("card").at("risk").is_null());
  EXPECT_EQ(too_few.at("today"), by_job.at("today"));
  EXPECT_THAT(too_few.at("card").at("stop_words").get<std::string>(),
              EndsWith(": 3 of this batch broke, and its own breaks count from 4 on."));

  question["breaking"]["needs_breaks"] = -1;
  EXPECT_THAT(pages.send("POST", "/api/wind", question.dump()).fields(),
              Contains("breaking.needs_breaks"));
}

TEST(FloorWind, CardIsAPageAndWantsItsDate) {
  const Pages pages;
  json question = wind_question({{"temperature", "16 degC"}});
  question["date"] = "2026-11-26";
  const Reply reply = pages.ask("POST", "/api/wind/card", question);
  ASSERT_EQ(reply.status, 200);
  EXPECT_EQ(reply.header("Content-Type"), "application/pdf");
  EXPECT_EQ(reply.text.substr(0, 4), "%PDF");
  EXPECT_EQ(pages.send("POST", "/api/wind/card", wind_question({}).dump()).status, 422);
}

TEST(FloorRecords, MetersSessionsMotorsAndBatchesAreKeptAsTyped) {
  const Pages pages;
  const auto kept = [&](const char* kind, const json& section, const json& links = json::object()) {
    const Reply made = pages.ask("POST", std::string("/api/") + kind,
                                 {{"name", "A"}, {"section", section}, {"links", links}});
    EXPECT_EQ(made.status, 201) << kind << made.text;
    EXPECT_EQ(made.body().at("section"), section);
    return made.body().at("id").get<std::string>();
  };
  const json question = whole_rubber();
  const std::string meter = kept("meters", {{"meter", question["meter"]}});
  const std::string session =
      kept("sessions", {{"session", {{"day", "2026-11-20"}}}}, {{"meter_id", meter}});
  const std::string rubber =
      kept("rubbers", {{"rubber", json::object()}, {"breaking", question["breaking"]}});
  kept("motors", {{"motor", json::object()}, {"history", question["history"]}},
       {{"rubber_id", rubber}});
  EXPECT_EQ(pages.get("/api/sessions?meter_id=" + meter).body().at("total"), 1);
  const Reply wrong =
      pages.ask("POST", "/api/meters", {{"name", "A"}, {"section", {{"motor", json::object()}}}});
  EXPECT_EQ(wrong.status, 422);
  EXPECT_EQ(pages.get("/api/sessions/" + session).status, 200);
}

}  // namespace
}  // namespace propwright::server::test
