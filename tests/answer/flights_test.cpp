// What forty invented flights of two propellers say: learned, and judged.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>

#include "jobs.h"
#include "propwright/answer/document.h"
#include "propwright/answer/flights_answer.h"
#include "propwright/predict/predict.h"

namespace propwright::answer {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

const std::string& forty() {
  static const std::string csv = support::example_text("flights/lantern46-two-propellers.csv");
  return csv;
}

/// Remark, heading and the first flights.
std::string first_flights(int count) {
  std::istringstream lines(forty());
  std::string text, line;
  for (int i = 0; i < count + 2 && std::getline(lines, line); ++i) text += line + "\n";
  return text;
}

Json flown_job(const std::string& file) {
  return {{"job", support::example_text(file)},
          {"attachments", {{"rubber_test_csv", support::example_text("box7-bench-test.csv")}}}};
}

Json with_jobs(const std::string& csv) {
  return {{"csv", csv},
          {"jobs", {flown_job("lantern46.toml"), flown_job("flights/lantern46-b.toml")}}};
}

Json answer_of(const base::Expected<Json>& answer) {
  if (!answer) {
    ADD_FAILURE() << base::to_line(answer.error().front());
    return Json::object();
  }
  return *answer;
}

std::vector<std::string> fields_of(const base::Expected<Json>& answer) {
  std::vector<std::string> fields;
  if (answer) return fields;
  for (const base::Problem& problem : answer.error()) fields.push_back(problem.field);
  return fields;
}

/// All forty with both jobs, once for all tests.
const Json& learned() {
  static const Json answer = answer_of(learn_document(with_jobs(forty())));
  return answer;
}
const Json& judged() {
  static const Json answer = answer_of(verdict_document(with_jobs(forty())));
  return answer;
}

const Json& parameter(const std::string& key) {
  for (const Json& p : learned()["parameters"]) {
    if (p["key"] == key) return p;
  }
  throw std::runtime_error("no parameter " + key);
}

TEST(Learned, DragAndEnergyMoveTowardsTheTruth) {
  // bench/invent_flights.cpp: 6 % more drag, 3 % less energy.
  for (const auto& [key, truth] :
       {std::pair{"airframe_drag", 1.06}, std::pair{"rubber_energy", 0.97}}) {
    const Json& p = parameter(key);
    const double posterior = p["posterior"].get<double>();
    // Nearer than the sheet. How much nearer is chance: the scatter of these forty flights leaves
    // the energy a deviation of 1.6 % about a truth 3 % off the sheet.
    EXPECT_LT(std::abs(posterior - truth), std::abs(1 - truth)) << key << " " << posterior;
    EXPECT_LT(p["interval"][0].get<double>(), truth) << key;
    EXPECT_GT(p["interval"][1].get<double>(), truth) << key;
    EXPECT_LT(p["sigma"].get<double>(), (p["prior_interval"][1].get<double>() - 1) / 1.6449) << key;
  }
}

TEST(Learned, FlightsThatWentWrongAreLeftOutOrFound) {
  const Json& flights = learned()["flights"];
  EXPECT_EQ(flights["given"], 40);
  EXPECT_EQ(flights["used"], 38);
  EXPECT_EQ(flights["left_out"][0]["flight"], 16);
  EXPECT_THAT(flights["left_out"][0]["reason"].get<std::string>(), HasSubstr("hung up"));
  EXPECT_EQ(flights["left_out"][1]["flight"], 22);
  std::vector<int> odd;
  for (const Json& row : learned()["misfits"]) odd.push_back(row["flight"].get<int>());
  EXPECT_THAT(odd, Contains(33));
}

TEST(Learned, PredictionsComeNearerToWhatWasFlown) {
  double before = 0, after = 0;
  for (const Json& row : learned()["residuals"]) {
    if (row["flight"] == 33) continue;
    const double seen = std::log(row["observed_s"].get<double>());
    before += std::abs(seen - std::log(row["before_s"].get<double>()));
    after += std::abs(seen - std::log(row["after_s"].get<double>()));
  }
  EXPECT_LT(after, 0.7 * before);
  for (const Json& change : learned()["changes"]) {
    EXPECT_LT(change["after_sigma_s"].get<double>(), change["before_sigma_s"].get<double>());
  }
}

TEST(Learned, EachJobsTableHoldsItsOwnParametersOnly) {
  ASSERT_EQ(learned()["learned"].size(), 2);
  const Json& a = learned()["learned"][0];
  EXPECT_EQ(a["propeller"], "L46-A");
  EXPECT_NEAR(a["table"]["airframe_drag"].get<double>(),
              parameter("airframe_drag")["posterior"].get<double>(), 5.1e-5);
  // Of the value learned: that of its logarithm.
  EXPECT_NEAR(a["table"]["airframe_drag_doubt"].get<double>(),
              parameter("airframe_drag")["sigma"].get<double>() /
                  parameter("airframe_drag")["posterior"].get<double>(),
              5.1e-6);
  EXPECT_THAT(a["table"]["from"].get<std::string>(), HasSubstr("38 flights, 20"));
  // The model is the same, the blades are not.
  const Json& b = learned()["learned"][1];
  EXPECT_EQ(a["table"]["airframe_drag"], b["table"]["airframe_drag"]);
  EXPECT_NE(a["table"]["blade_angle"], b["table"]["blade_angle"]);
  EXPECT_EQ(learned()["next"].size(), 2);
  EXPECT_GE(learned()["next"][0]["candidates"].size(), 4);
}

// What the flights taught, put into the job, makes its prediction what was learned.
TEST(Learned, TheTableMakesThePredictionTheLearnedOne) {
  Json question = with_jobs(first_flights(1));
  for (std::size_t i = 0; i < 2; ++i) {
    Json job = answer_of(job_json(question["jobs"][i]["job"].get<std::string>(), "job"));
    job["learned"] = learned()["learned"][i]["table"];
    const auto loaded =
        load_document(job, question["jobs"][i].value("attachments", Json::object()));
    ASSERT_TRUE(loaded) << base::to_line(loaded.error().front());
    const auto nominal = predict::predict(loaded->job, loaded->attachments);
    ASSERT_TRUE(nominal);
    const double learned_s = learned()["changes"][i]["after_s"].get<double>();
    const double sheet_s = learned()["changes"][i]["before_s"].get<double>();
    EXPECT_GT(std::abs(learned_s - sheet_s), 3) << i;
    // Rounded to four digits and hundredths of a degree.
    EXPECT_NEAR(nominal->flight.duration_s, learned_s, 1) << i;
  }
}

// And its interval is that of the posterior: the directions keep what flights tell of several
// parameters together. The day's temperature is none of them.
TEST(Learned, TheTableLeavesTheDoubtOfThePosterior) {
  Json question = with_jobs(first_flights(1));
  for (std::size_t i = 0; i < 2; ++i) {
    Json job = answer_of(job_json(question["jobs"][i]["job"].get<std::string>(), "job"));
    job["learned"] = learned()["learned"][i]["table"];
    job["doubts"]["temperature"] = "0 K";
    const auto sigma_s = [&] {
      const auto loaded =
          load_document(job, question["jobs"][i].value("attachments", Json::object()));
      if (!loaded) return 0.0;
      const auto nominal = predict::predict(loaded->job, loaded->attachments);
      return nominal ? predict::sensitivities(loaded->job, *nominal).sigma_s : 0.0;
    };
    const double learned_s = learned()["changes"][i]["after_sigma_s"].get<double>();
    // The axes on which the two fly are not the same, and flights bend at the roof.
    EXPECT_NEAR(sigma_s(), learned_s, 0.15 * learned_s) << i;
    job["learned"].erase("direction");
    EXPECT_GT(sigma_s(), 3 * learned_s) << i;
  }
}

// Flights teach the same whether their job already holds what they taught or not.
TEST(Learned, BeginsFromTheSheet) {
  Json question = with_jobs(first_flights(6));
  question["next"] = false;
  const Json plain = answer_of(learn_document(question));
  for (Json& entry : question["jobs"]) {
    entry["job"] = answer_of(job_json(entry["job"].get<std::string>(), "job"));
    entry["job"]["learned"] = {{"airframe_drag", 1.2}};
  }
  EXPECT_EQ(answer_of(learn_document(question))["parameters"], plain["parameters"]);
}

// A thicker motor of the same mass gains until it is too short: the best lies within the step.
TEST(Learned, TheBestStepMayBeAPartOfOne) {
  const Json& candidates = learned()["next"][0]["candidates"];
  const auto motor = std::find_if(candidates.begin(), candidates.end(),
                                  [](const Json& c) { return c["key"] == "motor_section"; });
  ASSERT_NE(motor, candidates.end());
  EXPECT_THAT((*motor)["change"].get<std::string>(), HasSubstr("5.3\u00a0% more"));
  EXPECT_GT((*motor)["gain_s"].get<double>(), 40);  // 33 with the whole step of 7 %
  EXPECT_EQ((*motor)["bench_hours"], 0.5);
}

TEST(Learned, NextIsLeftOutWhereNotWanted) {
  Json question = with_jobs(first_flights(6));
  question["next"] = false;
  EXPECT_TRUE(answer_of(learn_document(question))["next"].empty());
}

TEST(Judged, TenFlightsCannotTellYetAndFortyCan) {
  const Json ten = answer_of(verdict_document(with_jobs(first_flights(10))));
  EXPECT_EQ(ten["headline"], "Cannot tell yet");
  EXPECT_EQ(ten["decision"], "cannot_tell_yet");
  EXPECT_GT(ten["more_flights"].get<int>(), 0);
  EXPECT_FALSE(ten["order"].empty());
  EXPECT_THAT(ten["sentence"].get<std::string>(), HasSubstr("have an even chance of settling it"));
  const Json& all = judged();
  EXPECT_EQ(all["decision"], "best");
  EXPECT_EQ(all["leader"], "L46-B");
  EXPECT_EQ(all["more_flights"], 0);
  EXPECT_TRUE(all["order"].empty());
  EXPECT_GT(all["propellers"][1]["interval_s"][0].get<double>(), 0);
}

TEST(Judged, WithoutJobsPlainTimesAreComparedAndItIsSaid) {
  const Json plain = answer_of(verdict_document({{"csv", forty()}}));
  EXPECT_EQ(plain["reference"]["propeller"], "");
  EXPECT_THAT(plain["notes"].dump(), HasSubstr("Plain times are compared"));
  // What the model explains of winding and air is scatter now.
  EXPECT_GT(plain["scatter"].get<double>(), judged()["scatter"].get<double>());
}

TEST(Judged, ExpectedTimesOfTheLogAreUsedWhereItHasThem) {
  const Json verdict = answer_of(verdict_document(
      {{"csv",
        "propeller,duration_s,expected_s,weight,flag\nP14,700,700,1,\nP12,360,350,1,\n"
        "P12,330,300,0.5,\nP14,650,,1,\nP14,300,310,1,aborted\n"}}));
  EXPECT_NEAR(verdict["shares"][1]["share"].get<double>(), 360.0 / 350, 1e-12);
  EXPECT_EQ(verdict["shares"][2]["weight"], 0.5);
  EXPECT_EQ(verdict["shares"][3]["left_out"], "no expected time");
  EXPECT_EQ(verdict["shares"][4]["left_out"], "aborted");
  EXPECT_EQ(verdict["reference"]["duration_s"], 350.0);
}

/// Twenty flights of A and B in turns on one day, B 4 % longer; `batch_of` and `motor_of` by
/// the propeller's letter and the number of the flight.
Json judged_on(const std::function<std::string(char, int)>& batch_of,
               const std::function<std::string(char, int)>& motor_of) {
  std::string log = "time,propeller,batch,motor,duration_s\n";
  for (int i = 0; i < 20; ++i) {
    const char letter = (i % 4 == 0 || i % 4 == 3) ? 'A' : 'B';
    const double seconds = (letter == 'A' ? 600 : 624) + 9 * ((7 * i) % 5 - 2);
    log += fmt::format("2026-11-21,{},{},{},{}\n", letter, batch_of(letter, i), motor_of(letter, i),
                       seconds);
  }
  return answer_of(verdict_document({{"csv", log}}));
}

// What coincides with the propeller cannot be told from it: a batch of one's own leaves the odds
// open, the same batches for both do not.
TEST(Judged, APropellerThatAloneFlewOnABatchIsNotJudgedByItsRubber) {
  const auto motor = [](char, int) { return std::string("no. 1"); };
  const Json own = judged_on(
      [](char letter, int) { return std::string(letter == 'A' ? "box 7" : "box 8"); }, motor);
  EXPECT_EQ(own["decision"], "cannot_tell_yet");
  EXPECT_THAT(own["notes"].dump(), HasSubstr("never flew on one day with one batch of rubber"));
  ASSERT_EQ(own["days"].size(), 2);
  EXPECT_EQ(own["days"][0]["day"], "2026-11-21, box 7");
  const Json both =
      judged_on([](char, int i) { return std::string(i < 8 ? "box 7" : "box 8"); }, motor);
  EXPECT_EQ(both["decision"], "best");
  EXPECT_EQ(both["leader"], "B");
  EXPECT_THAT(both["notes"].dump(), Not(HasSubstr("never flew on")));
  const Json one = judged_on([](char, int) { return std::string("box 7"); }, motor);
  EXPECT_EQ(one["decision"], "best");
  EXPECT_EQ(one["days"].size(), 1);
}

TEST(Judged, APropellerWithAMotorOfItsOwnIsToldOf) {
  const auto batch = [](char, int) { return std::string("box 7"); };
  const Json own = judged_on(
      batch, [](char letter, int) { return std::string(letter == 'A' ? "no. 1" : "no. 2"); });
  EXPECT_THAT(own["notes"].dump(), HasSubstr("never flew on the same motor"));
  const Json shared =
      judged_on(batch, [](char, int i) { return std::string(i < 8 ? "no. 1" : "no. 2"); });
  EXPECT_THAT(shared["notes"].dump(), Not(HasSubstr("never flew on the same motor")));
}

TEST(Judged, SettingsOfOnePropellerAreContenders) {
  const std::string log =
      "propeller,setting,duration_s\nP18,24°,520\nP18,25 deg,531\nP18,\"25,0°\",533\n"
      "P18,24 °,523\nP18,,528\nQ7,,500\n";
  const Json verdict = answer_of(verdict_document({{"csv", log}}));
  ASSERT_EQ(verdict["propellers"].size(), 3);
  EXPECT_EQ(verdict["propellers"][0]["name"], "P18 at 24°");
  EXPECT_EQ(verdict["propellers"][1]["name"], "P18 at 25 deg");
  EXPECT_EQ(verdict["propellers"][1]["flights"], 2);
  EXPECT_EQ(verdict["propellers"][2]["name"], "Q7");
  EXPECT_EQ(verdict["shares"][2]["setting"], "25,0°");
  // Nothing is merged unsaid.
  EXPECT_THAT(verdict["shares"][4]["left_out"].get<std::string>(), HasSubstr("no setting told"));
  EXPECT_THAT(verdict["notes"].dump(), HasSubstr("One flight of P18 tells no setting: left out"));
}

TEST(Judged, OneSettingToldIsThatOfTheOthersAndItIsSaid) {
  const Json verdict = answer_of(verdict_document(
      {{"csv", "propeller,setting,duration_s\nP18,24°,520\nP18,,531\nQ7,24,500\n"}}));
  ASSERT_EQ(verdict["propellers"].size(), 2);
  EXPECT_EQ(verdict["propellers"][0]["name"], "P18");
  EXPECT_EQ(verdict["propellers"][0]["flights"], 2);
  EXPECT_THAT(verdict["notes"].dump(), HasSubstr("taken as at the only one it flew at, 24°"));
}

TEST(Judged, AJobStandsForEachSettingOfItsPropeller) {
  Json question{{"jobs", {flown_job("lantern46.toml")}}, {"learn", false}};
  question["csv"] =
      "propeller,setting,turns_at_launch,duration_s\nL46-A,24°,1600,450\nL46-A,25°,1600,455\n";
  const Json verdict = answer_of(verdict_document(question));
  ASSERT_EQ(verdict["propellers"].size(), 2);
  EXPECT_EQ(verdict["propellers"][1]["name"], "L46-A at 25°");
  EXPECT_EQ(verdict["propellers"][1]["flights"], 1);
  // Learned of one job they stay together, and it is said.
  question.erase("learn");
  question["next"] = false;
  const Json learned = answer_of(learn_document(question));
  EXPECT_EQ(learned["learned"].size(), 1);
  EXPECT_THAT(learned["notes"].dump(), HasSubstr("are taken as one propeller here"));
}

TEST(Judged, OddsHistoryEndsWithTheVerdictsOwn) {
  const Json& history = judged()["odds_history"];
  ASSERT_GE(history.size(), 10);
  EXPECT_LE(history.size(), 25);
  EXPECT_EQ(history.back()["flights"], 38);
  EXPECT_NEAR(history.back()["probability_best"][1].get<double>(),
              judged()["propellers"][1]["probability_best"].get<double>(), 1e-12);
}

TEST(Judged, ReferenceDurationScalesSecondsOnly) {
  Json question{{"csv", forty()}, {"reference_duration", "100 s"}};
  const Json hundred = answer_of(verdict_document(question));
  question["reference_duration"] = "200 s";
  const Json twice = answer_of(verdict_document(question));
  EXPECT_NEAR(twice["propellers"][0]["gain_s"].get<double>(),
              2 * hundred["propellers"][0]["gain_s"].get<double>(), 1e-9);
  EXPECT_EQ(twice["propellers"][0]["share"], hundred["propellers"][0]["share"]);
}

TEST(Judged, BeliefsAndThresholdsAreTakenAndShown) {
  Json question{{"csv", first_flights(20)},
                {"beliefs", {{"normal", true}, {"shared_scatter", false}, {"level_sigma", 0.02}}},
                {"thresholds", {{"sure", 0.6}, {"sure_without_one", 0.5}, {"least_flights", 2}}}};
  const Json verdict = answer_of(verdict_document(question));
  EXPECT_TRUE(verdict["beliefs"]["tail_freedom"].is_null());
  EXPECT_EQ(verdict["beliefs"]["shared_scatter"], false);
  EXPECT_EQ(verdict["beliefs"]["level_sigma"], 0.02);
  EXPECT_EQ(verdict["thresholds"]["sure"], 0.6);
  for (const Json& row : verdict["shares"]) {
    if (row["left_out"] == "") {
      EXPECT_EQ(row["fits"], 1.0);
    }
  }
  // Propellers expected to be alike are less far apart than the flights say.
  question["beliefs"].erase("level_sigma");
  const Json flat = answer_of(verdict_document(question));
  EXPECT_LT(std::abs(verdict["propellers"][1]["gain_s"].get<double>()),
            std::abs(flat["propellers"][1]["gain_s"].get<double>()));
}

TEST(Judged, BallastMakesThemEquallyHeavy) {
  Json question{{"csv", first_flights(4)}, {"masses", {{"L46-A", "1.00 g"}, {"L46-B", "1040 mg"}}}};
  const Json verdict = answer_of(verdict_document(question));
  EXPECT_NEAR(verdict["propellers"][0]["ballast_kg"].get<double>(), 40e-6, 1e-12);
  EXPECT_EQ(verdict["propellers"][1]["ballast_kg"], 0.0);
  question["masses"] = {{"L46-C", "1 g"}};
  EXPECT_THAT(fields_of(verdict_document(question)), Contains("masses.L46-C"));
}

TEST(Judged, NothingFlownOrOnePropellerCannotTell) {
  Json question = with_jobs("");
  question.erase("csv");
  question["flights"] = Json::array();
  const Json none = answer_of(verdict_document(question));
  EXPECT_EQ(none["decision"], "cannot_tell_yet");
  EXPECT_TRUE(none["leader"].is_null());
  EXPECT_EQ(none["order"].size(), 8);
  EXPECT_TRUE(none["propellers"][0]["share"].is_null());
  const Json one = answer_of(verdict_document({{"csv", "propeller,duration_s\nP,300\nP,310\n"}}));
  EXPECT_THAT(one["sentence"].get<std::string>(), HasSubstr("Only A"));
}

TEST(Judged, SameIdCountsOnceAndDoubtedValuesAreUnknown) {
  const Json verdict = answer_of(verdict_document(
      {{"csv", "id,propeller,duration_s\na,P,300\na,P,300\nb,Q,310\nc,Q,99000\n"}}));
  EXPECT_THAT(verdict["shares"][1]["left_out"].get<std::string>(),
              HasSubstr("same id as flight 1"));
  EXPECT_EQ(verdict["shares"][3]["left_out"], "no time flown");
  EXPECT_THAT(verdict["notes"].dump(), HasSubstr("Flight 4: duration 99000"));
}

// 163 degF instead of 63: unknown, and then the warmth of the day's other flights.
TEST(Judged, AnUnknownTemperatureIsThatOfTheDay) {
  std::string log = "time,propeller,duration_s,turns_wound,turns_at_launch,temperature_K\n";
  for (int i = 0; i < 4; ++i) {
    log += fmt::format("2026-11-21T14:0{},L46-{},450,1820,1600,{}\n", i, i % 2 == 0 ? 'A' : 'B',
                       i == 1 ? "345.93" : "290.15");
  }
  Json question = with_jobs(log);
  question["learn"] = false;
  const Json verdict = answer_of(verdict_document(question));
  const Json& shares = verdict["shares"];
  EXPECT_NEAR(shares[1]["expected_s"].get<double>(), shares[3]["expected_s"].get<double>(), 1e-9);
  EXPECT_THAT(verdict["notes"].dump(), HasSubstr("Flight 2 (2026-11-21T14:01): temperature 72.8"));
  EXPECT_THAT(verdict["notes"].dump(),
              HasSubstr("One flight tells no temperature: that of the other flights of the day"));
  // A day that tells none has the job's, and it is said.
  const Json none = answer_of(
      verdict_document(with_jobs("propeller,duration_s,turns_at_launch\nL46-A,450,1600\n")));
  EXPECT_THAT(none["notes"].dump(), HasSubstr("One flight tells no temperature, nor do others"));
  EXPECT_THAT(none["notes"].dump(), HasSubstr("known within 5\u00a0K (9\u00a0°F) only"));
}

TEST(Judged, ALogThatCannotBeUsedSaysWhy) {
  const Json verdict =
      answer_of(verdict_document({{"csv", "propeller,duraton_s\nP,300\nQ,310\n"}}));
  EXPECT_EQ(verdict["sentence"], "None of the 2 flights of the log counts: no time flown (2).");
}

TEST(FlightsQuestion, EveryWrongPartIsNamed) {
  const Json wrong{{"flights", {{{"propeller", "P"}, {"duration_s", "long"}}, {{"prop", 1}}}},
                   {"jobs", {{{"job", "propeller = 3"}}}},
                   {"beliefs", {{"tail_freedom", 0.5}}},
                   {"thresholds", {{"sure", 2}, {"least_flights", 0}}}};
  const auto fields = fields_of(verdict_document(wrong));
  for (const char* field : {"flights[1].duration_s", "flights[2].prop", "beliefs.tail_freedom",
                            "thresholds.sure", "thresholds.least_flights"}) {
    EXPECT_THAT(fields, Contains(field));
  }
  EXPECT_THAT(fields_of(verdict_document({{"flight", Json::array()}})), Contains("flight"));
  EXPECT_THAT(fields_of(learn_document({{"csv", forty()}})), Contains("jobs"));
  EXPECT_THAT(fields_of(verdict_document(Json::object())), Contains("flights"));
  Json twice = with_jobs(forty());
  twice["jobs"][1] = twice["jobs"][0];
  EXPECT_THAT(fields_of(verdict_document(twice)), Contains("propeller.name"));
  const auto foreign = learn_document(
      {{"csv", "propeller,duration_s\nother,300\n"}, {"jobs", {flown_job("lantern46.toml")}}});
  ASSERT_FALSE(foreign);
  EXPECT_EQ(foreign.error().front().kind, base::Kind::no_solution);
}

TEST(FairTest, SheetHasTheOrderAndTheMassesOfTheVerdict) {
  const sheet::FairTest page = fair_test_sheet(judged(), 3);
  ASSERT_EQ(page.propellers.size(), 2);
  EXPECT_TRUE(page.propellers[0].ballast_kg);
  EXPECT_THAT(page.order, testing::ElementsAre("A", "B", "B", "A", "A", "B"));
  EXPECT_THAT(page.motor, HasSubstr("box 7"));
}

// Winding and launch are those of the model as learned, as the verdict's own reference is.
TEST(FairTest, LaunchIsTheLearnedOne) {
  const Json& change = learned()["changes"][0];
  // Whole turns, rounded down; the two are flown to half a turn of one another.
  const double launch = judged()["fair_test"]["launch_turns"].get<double>();
  EXPECT_EQ(launch, std::floor(launch));
  EXPECT_NEAR(launch + 0.5, change["after_launch_turns"].get<double>(), 1);
  EXPECT_EQ(judged()["fair_test"]["learned"], true);
  EXPECT_GT(std::abs(change["after_launch_turns"].get<double>() -
                     change["before_launch_turns"].get<double>()),
            10);
}

}  // namespace
}  // namespace propwright::answer
