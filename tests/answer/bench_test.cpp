// The bench's answers: fields of problems, sums, closed forms, both unit worlds.
#include "propwright/answer/bench.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "jobs.h"
#include "propwright/answer/document.h"
#include "propwright/answer/target_sheets.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using testing::Contains;
using testing::HasSubstr;

std::vector<std::string> bench_fields_of(const Json& answer) {
  std::vector<std::string> fields;
  for (const Json& problem : answer["problems"])
    fields.push_back(problem["field"].get<std::string>());
  return fields;
}

Json blade(const char* id, const char* length, const char* mass, const char* inner,
           const char* outer) {
  return {{"id", id},
          {"length", length},
          {"mass", mass},
          {"angles",
           {{{"radius", "80 mm"}, {"angle", inner}}, {{"radius", "140 mm"}, {"angle", outer}}}}};
}

Json asked(const char* table, Json content) {
  Json question = Json::object();
  question[table] = std::move(content);
  return bench_document(question);
}

/// A job document that flies in a few milliseconds.
Json lantern() {
  const std::string toml = support::example_text("lantern46.toml");
  Json job = job_json(toml, "lantern46.toml").value();
  return {{"job", job},
          {"attachments", {{"rubber_test_csv", support::example_text("box7-bench-test.csv")}}},
          {"relative_sigma", 0.05}};
}

TEST(Bench, OnlyWhatIsAskedIsAnswered) {
  const Json answer =
      asked("tube", {{"mandrel", "2 mm"}, {"paper", "25 um"}, {"paper_areal", "12 g/m2"}});
  EXPECT_TRUE(answer["problems"].empty()) << answer["problems"];
  EXPECT_TRUE(answer["tube"].is_object());
  EXPECT_EQ(answer.size(), 3);  // problems, units, tube
}

TEST(Bench, OneBrokenTableLeavesTheOthersAnswered) {
  const Json answer = bench_document(
      {{"tube", {{"mandrel", "2"}, {"paper", "25 um"}, {"paper_areal", "12 g/m2"}}},
       {"weighings", {{"together", {{{"part", "rib"}, {"count", 10}, {"reading", "31 mg"}}}}}}});
  EXPECT_TRUE(answer["tube"].is_null());
  EXPECT_THAT(bench_fields_of(answer), Contains("tube.mandrel"));
  ASSERT_TRUE(answer["weighings"].is_object());
  // Ten together: each is a tenth of the reading.
  EXPECT_NEAR(answer["weighings"]["parts"][0]["mass_kg"], 3.1e-6, 1e-15);
}

TEST(Bench, RowsAreCountedFromOneInFields) {
  Json b = blade("B", "200 mm", "250 mg", "56 deg", "");
  const Json answer = asked("blades", {blade("A", "200 mm", "250 mg", "57 deg", "42 deg"), b});
  EXPECT_THAT(bench_fields_of(answer), Contains("blades[2].angles[2].angle"));
  EXPECT_TRUE(answer["blades"]["items"][0].is_object());
  EXPECT_TRUE(answer["blades"]["items"][1].is_null());
  EXPECT_TRUE(answer["blades"]["pair"].is_null());
}

TEST(Bench, UnknownMembersAreToldWithTheNearestName) {
  const Json answer =
      asked("tube", {{"mandril", "2 mm"}, {"paper", "25 um"}, {"paper_areal", "12 g/m2"}});
  ASSERT_THAT(bench_fields_of(answer), Contains("tube.mandril"));
  EXPECT_EQ(answer["problems"][0]["remedy"], "did you mean mandrel?");
}

TEST(Bench, EmptyTextIsNotGiven) {
  const Json answer = asked("stock", {{{"id", "sheet 1"},
                                       {"kind", "sheet"},
                                       {"length", "900 mm"},
                                       {"width", "75 mm"},
                                       {"thickness", "0.8 mm"},
                                       {"mass", "5 g"},
                                       {"grain", ""},
                                       {"test", nullptr}}});
  EXPECT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& item = answer["stock"]["items"][0];
  EXPECT_TRUE(item["grain"].is_null());
  // Mass over volume.
  EXPECT_NEAR(item["density_kg_m3"], 0.005 / (0.9 * 0.075 * 0.0008), 1e-9);
}

TEST(Stock, TheTestedSheetGoesBeforeTheUntested) {
  const auto sheet = [](const char* id, const char* mass, Json test) {
    return Json{{"id", id},         {"kind", "sheet"},        {"length", "900 mm"},
                {"width", "75 mm"}, {"thickness", "2.5 mm"},  {"mass", mass},
                {"grain", "A"},     {"test", std::move(test)}};
  };
  // E = 4 P L^3/(b t^3 d) at small deflections, twice what is usual at this density.
  const Json stiff = {{"method", "cantilever"}, {"load", "2 g"},   {"length", "200 mm"},
                      {"deflection", "1.1 mm"}, {"width", "6 mm"}, {"thickness", "2.5 mm"}};
  const Json answer = bench_document(
      {{"stock", {sheet("plain", "12.7 g", nullptr), sheet("stiff", "12.7 g", stiff)}},
       {"pick",
        {{{"part", "spar"},
          {"density_low", "60 kg/m3"},
          {"density_high", "90 kg/m3"},
          {"want", "stiff_and_light"}}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const double E_Pa =
      4 * 0.002 * 9.80665 * std::pow(0.2, 3) / (0.006 * std::pow(0.0025, 3) * 0.0011);
  // The exact beam differs from the small-deflection form by (deflection/length)^2.
  EXPECT_NEAR(answer["stock"]["items"][1]["modulus_Pa"].get<double>() / E_Pa, 1, 1e-3);
  ASSERT_EQ(answer["stock"]["pick"].size(), 1);
  EXPECT_EQ(answer["stock"]["pick"][0]["sheets"][0]["id"], "stiff");
  EXPECT_EQ(answer["stock"]["pick"][0]["sheets"][0]["merit_measured"], true);
}

TEST(BladePair, TheTurnBringsTheSecondToTheFirst) {
  const Json answer = bench_document({{"blades",
                                       {blade("left", "200 mm", "250 mg", "57 deg", "42 deg"),
                                        blade("right", "200 mm", "250 mg", "55 deg", "40 deg")}},
                                      {"instruments", {{"protractor", "0.1 deg"}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& pair = answer["blades"]["pair"];
  EXPECT_EQ(pair["verdict"], "re_set");
  EXPECT_NEAR(pair["angle_difference_deg"], 2, 1e-9);
  EXPECT_EQ(pair["re_set"]["blade"], "right");
  EXPECT_NEAR(pair["re_set"]["turn_deg"], 2, 1e-9);
  EXPECT_NEAR(pair["re_set"]["to_deg"].get<double>() - pair["re_set"]["from_deg"].get<double>(), 2,
              1e-9);
  EXPECT_EQ(pair["number"], "2.0");
  EXPECT_THAT(pair["headline"].get<std::string>(), HasSubstr("right"));
  // Local pitch of the helix through the reading.
  const double pitch_m = 2 * std::numbers::pi * 0.08 * std::tan(57 * std::numbers::pi / 180);
  EXPECT_NEAR(answer["blades"]["items"][0]["angles"][0]["pitch_m"], pitch_m, 1e-12);
  for (const Json& check : pair["checks"]) {
    EXPECT_EQ(check["sentence"].get<std::string>().find("Blade A"), std::string::npos) << check;
  }
}

TEST(BladePair, TrimLevelsThePropeller) {
  Json a = blade("A", "200 mm", "260 mg", "57 deg", "42 deg");
  Json b = blade("B", "200 mm", "250 mg", "57 deg", "42 deg");
  a["centre_of_mass"] = "90 mm";
  b["tip_reading"] = "112 mg";
  const Json answer = bench_document({{"blades", {a, b}}, {"pair", {{"trim_radius", "150 mm"}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& pair = answer["blades"]["pair"];
  // 260 mg at 90 mm against 112 mg at the tip of 200 mm.
  const double imbalance_kgm = 260e-6 * 0.09 - 112e-6 * 0.2;
  EXPECT_NEAR(pair["imbalance_kg_m"], imbalance_kgm, 1e-15);
  EXPECT_EQ(pair["heavy"], "A");
  EXPECT_EQ(pair["trim"]["blade"], "B");
  EXPECT_NEAR(pair["trim"]["mass_kg"], imbalance_kgm / 0.15, 1e-15);
}

TEST(BladePair, InchesInTheInchWorld) {
  const Json question = {{"units", "inch"},
                         {"blades",
                          {blade("A", "8 in", "250 mg", "57 deg", "42 deg"),
                           blade("B", "7.9 in", "250 mg", "57 deg", "42 deg")}}};
  const Json answer = bench_document(question);
  const std::string text = answer["blades"].dump();
  EXPECT_EQ(answer["units"], "inch");
  EXPECT_EQ(answer["blades"]["pair"]["unit"], "in");
  EXPECT_EQ(answer["blades"]["pair"]["number"], "0.100");
  EXPECT_EQ(text.find("0 mm"), std::string::npos) << text;
}

TEST(Twist, StiffnessFromOneReadingIsTorqueTimesLengthOverAngle) {
  const Json answer =
      asked("twist_test", {{"length", "175 mm"},
                           {"arm", "20 mm"},
                           {"readings", {{{"mass", "0.5 g"}, {"angle", "10 deg"}}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const double angle_rad = 10 * std::numbers::pi / 180;
  const double torque_Nm = 0.5e-3 * 9.80665 * 0.02 * std::cos(angle_rad);
  EXPECT_NEAR(answer["twist_test"]["gj_Nm2"].get<double>(), torque_Nm * 0.175 / angle_rad, 1e-12);
  EXPECT_TRUE(answer["twist_test"]["shear_modulus_Pa"].is_null());
}

// A uniform round rod: J = pi d^4/32.
TEST(Twist, ShearModulusOfARoundRod) {
  const Json answer =
      asked("twist_test", {{"length", "175 mm"},
                           {"arm", "20 mm"},
                           {"shape", "round"},
                           {"root_width", "2 mm"},
                           {"readings", {{{"mass", "0.5 g"}, {"angle", "10 deg"}}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const double J_m4 = std::numbers::pi * std::pow(0.002, 4) / 32;
  EXPECT_NEAR(answer["twist_test"]["shear_modulus_Pa"].get<double>() * J_m4 /
                  answer["twist_test"]["gj_Nm2"].get<double>(),
              1, 1e-9);
}

TEST(Twist, TheSentenceTellsStiffnessToItsDoubtAndAnAngleThatCanBeSeen) {
  const Json answer = asked(
      "twist_test",
      {{"length", "150 mm"},
       {"arm", "40 mm"},
       {"readings",
        {{{"mass", "50 mg"}, {"angle", "9.5 deg"}}, {{"mass", "100 mg"}, {"angle", "19.4 deg"}}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  // 39 microNm turn it by 19.4 degrees, so 0.1 mN·m by 50.
  EXPECT_THAT(answer["twist_test"]["sentences"][0].get<std::string>(),
              testing::MatchesRegex("GJ is 1[0-9]\\.[0-9]+ ± .* N·mm²; 0\\.1 mN·m turns.*"));
}

TEST(Replacement, AHumidityThatIsNoneIsToldOnceAndInPercent) {
  Json replacement{{"blade",
                    {{"length", "180 mm"},
                     {"mass", "52 mg"},
                     {"angles",
                      {{{"radius", "80 mm"}, {"angle", "60 deg"}},
                       {{"radius", "120 mm"}, {"angle", "48 deg"}}}}}},
                   {"humidity_then", "35 %"}};
  EXPECT_THAT(bench_fields_of(asked("replacement", replacement)),
              testing::ElementsAre("replacement.humidity_now"));
  replacement["humidity_now"] = "130 %";
  const Json answer = asked("replacement", replacement);
  ASSERT_EQ(answer["problems"].size(), 1) << answer["problems"];
  EXPECT_EQ(answer["problems"][0]["allowed"], "0 % to 97 %");
}

TEST(Replacement, TheTargetsMakeACard) {
  const Json answer = asked("replacement", {{"blade",
                                             {{"length", "180 mm"},
                                              {"mass", "52 mg"},
                                              {"angles",
                                               {{{"radius", "80 mm"}, {"angle", "60 deg"}},
                                                {{"radius", "120 mm"}, {"angle", "48 deg"}}}}}}});
  const auto sheets = target_sheets(answer, "P14");
  ASSERT_TRUE(sheets);
  EXPECT_EQ(sheets->subject, "propeller");
  const auto& rows = sheets->targets.at(0).rows;
  ASSERT_EQ(rows.size(), answer["replacement"]["targets"].size());
  EXPECT_EQ(rows[0].what, "length");
  EXPECT_NEAR(rows[0].target, 0.18, 1e-12);
  EXPECT_EQ(rows[2].what, "angle at 120.0 mm");
  EXPECT_NEAR(rows[2].target, 48 * base::degree_rad, 1e-12);
  const auto none = target_sheets(asked("tube", Json::object()), "P14");
  ASSERT_FALSE(none);
  EXPECT_FALSE(none.error().empty());
}

TEST(Tube, TheMandrelForARootIsTheThinnestThatPassesIt) {
  const Json answer = asked("tube", {{"spar_root", "1.98 mm"},
                                     {"paper", "25 um"},
                                     {"paper_areal", "12 g/m2"},
                                     {"fit", "0.05 mm"}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& tube = answer["tube"];
  // 1.98 + 0.05 mm: 2 mm does not do, the next in the list is 2.1 mm.
  EXPECT_NEAR(tube["mandrel_m"], 0.0021, 1e-12);
  ASSERT_EQ(tube["wires"].size(), 2);
  EXPECT_EQ(tube["wires"][1]["fits"], false);
  EXPECT_NEAR(tube["wires"][1]["diameter_m"], 0.0020, 1e-12);
}

TEST(Tube, WrapsForAMassAreWholeAndNotHeavier) {
  const Json answer = asked("tube", {{"mandrel", "2 mm"},
                                     {"paper", "25 um"},
                                     {"paper_areal", "12 g/m2"},
                                     {"wanted_mass", "6 mg"}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& tube = answer["tube"];
  EXPECT_EQ(tube["wraps"], tube["wraps_for_mass"]["below"]);
  EXPECT_LE(tube["mass_kg"], 6e-6);
  EXPECT_GT(tube["wraps_for_mass"]["mass_above_kg"], 6e-6);
}

TEST(Tube, BothWrapsAndMassContradictEachOther) {
  const Json answer = asked("tube", {{"mandrel", "2 mm"},
                                     {"paper", "25 um"},
                                     {"wraps", 4},
                                     {"paper_areal", "12 g/m2"},
                                     {"wanted_mass", "6 mg"}});
  EXPECT_THAT(bench_fields_of(answer), Contains("tube.wanted_mass"));
}

TEST(Hub, TheHooksOffsetIsHalfTheRunOut) {
  const Json answer = asked("hub", {{"hook_run_out", "1.2 mm"}, {"tension", "0.5 N"}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  EXPECT_NEAR(answer["hub"]["hook_offset_m"], 0.0006, 1e-12);
  EXPECT_EQ(answer["hub"]["checks"][0]["key"], "hook");
  EXPECT_EQ(answer["hub"]["checks"][0]["verdict"], "suspect");
  EXPECT_NEAR(answer["hub"]["checks"][0]["effect"], 0.0006 * 0.5, 1e-12);
}

// A, B and A + B: least squares leaves each residual a third of what does not add up.
TEST(Weighings, OfAKnownMassBothAreWanted) {
  const Json answer = asked("weighings", {{"check_known", "100 mg"}});
  EXPECT_THAT(bench_fields_of(answer), testing::ElementsAre("weighings.check_read"));
}

TEST(Weighings, ADesignSharesWhatDoesNotAddUp) {
  const Json answer = asked("weighings", {{"design",
                                           {{{"on", {"A"}}, {"reading", "60 mg"}},
                                            {{"on", {"B"}}, {"reading", "62 mg"}},
                                            {{"on", {"A", "B"}}, {"reading", "125 mg"}}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  EXPECT_NEAR(answer["weighings"]["parts"][0]["mass_kg"], 61e-6, 1e-12);
  EXPECT_NEAR(answer["weighings"]["parts"][1]["mass_kg"], 63e-6, 1e-12);
  EXPECT_EQ(answer["weighings"]["covariance_kg2"].size(), 2);
}

// Wood Handbook, equation 4-5: 4 to 5 % from 30 to 60 % humidity.
TEST(Weighings, WoodIsHeavierInDampAir) {
  const Json answer =
      asked("weighings", {{"together", {{{"part", "blade"}, {"reading", "200 mg"}}}},
                          {"humidity", "30 %"},
                          {"to_humidity", "60 %"}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const double factor = answer["weighings"]["mass_factor"];
  EXPECT_GT(factor, 1.04);
  EXPECT_LT(factor, 1.05);
  EXPECT_NEAR(answer["weighings"]["parts"][0]["at_humidity_kg"], 200e-6 * factor, 1e-12);
}

TEST(BenchLedger, CostsAreSecondsOfThisJobsFlight) {
  Json question = lantern();
  question["ledger"] = {{"parts",
                         {{{"part", "spars"}, {"planned", "120 mg"}, {"weighed", "150 mg"}},
                          {{"part", "Hub"}, {"weighed", "150 mg"}}}}};
  const Json answer = bench_document(question);
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& ledger = answer["ledger"];
  const double rate = ledger["seconds_per_mg"];
  // Power in flight goes with mass^1.5, so that a flight of T seconds loses 1.5 T/m where the motor
  // is launched as wound; under a roof a heavier model backs off less, which pays for part of it.
  const double duration_s = ledger["duration_s"];
  EXPECT_LT(rate, 0);
  EXPECT_GT(rate, -1.5 * duration_s / 3020);
  const Json& spars = ledger["rows"][0];
  EXPECT_NEAR(spars["over_kg"], 30e-6, 1e-12);
  EXPECT_NEAR(spars["cost_s"], -30 * rate, 1e-9);
  EXPECT_LT(spars["cost_low_s"], spars["cost_s"]);
  EXPECT_GT(spars["cost_high_s"], spars["cost_s"]);
  // The hub's plan is the job's: 160 mg.
  EXPECT_NEAR(ledger["rows"][1]["planned_kg"], 160e-6, 1e-12);
  EXPECT_EQ(ledger["rows"][1]["verdict"], "under");
  EXPECT_EQ(ledger["dearest"], "spars");
  // The other parts of the job's plan stand below, not weighed.
  EXPECT_GT(ledger["rows"].size(), 4);
  EXPECT_EQ(ledger["rows"].back()["verdict"], "not_weighed");
  EXPECT_NEAR(ledger["propeller_share"].get<double>() * ledger["model_kg"].get<double>(),
              ledger["propeller_kg"].get<double>(), 1e-12);
}

// The whole job predicted anew, lighter and heavier, in a hall so high that nothing bends. There
// the wing's drag moves with its Reynolds number as well, by some 1 % for 2 % of mass, of which the
// rate shows a share: 3 % of it.
// A mass that is lighter than planned by nothing that could be told.
TEST(BenchLedger, NoSecondsAreToldWhereNoneCanBe) {
  Json question = lantern();
  question["ledger"] = {
      {"parts", {{{"part", "spars"}, {"planned", "120 mg"}, {"weighed", "120.1 mg"}}}}};
  const Json ledger = bench_document(question)["ledger"];
  EXPECT_EQ(ledger["headline"], "As planned: no seconds that could be told");
  EXPECT_EQ(ledger["unit"], "mg");
}

TEST(BenchLedger, TheRateIsThatOfAHeavierJob) {
  Json question = lantern();
  question["job"]["hall"]["roof_height"] = "100 m";
  question["ledger"] = Json::object();
  const double rate = bench_document(question)["ledger"]["seconds_per_mg"];
  brief::Job job = support::example("lantern46");
  job.hall.roof_height_m = 100;
  const auto attachments = support::attachments(job);
  job.model.mass_kg -= 60e-6;
  const auto lighter = predict::predict(job, attachments);
  job.model.mass_kg += 120e-6;
  const auto heavier = predict::predict(job, attachments);
  ASSERT_TRUE(lighter && heavier);
  const double lost_s = heavier->flight.duration_s - lighter->flight.duration_s;
  EXPECT_NEAR(lost_s / (120 * rate), 1, 0.03);
}

TEST(BenchLedger, RunningTotalsAddUp) {
  const Json answer =
      asked("ledger", {{"parts",
                        {{{"part", "a"}, {"planned", "10 mg"}, {"weighed", "12 mg"}},
                         {{"part", "b"}, {"planned", "20 mg"}},
                         {{"part", "wing"}, {"weighed", "300 mg"}, {"propeller", false}}}}});
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& ledger = answer["ledger"];
  EXPECT_NEAR(ledger["rows"][2]["running_kg"], 332e-6, 1e-15);
  EXPECT_NEAR(ledger["total_kg"], 332e-6, 1e-15);
  EXPECT_NEAR(ledger["propeller_kg"], 32e-6, 1e-15);
  EXPECT_NEAR(ledger["propeller_share"], 32.0 / 332, 1e-12);
  EXPECT_TRUE(ledger["seconds_per_mg"].is_null());
  EXPECT_EQ(ledger["unweighed"], 1);
  EXPECT_EQ(ledger["unplanned"], 1);
}

TEST(BenchLedger, ALineThatCannotBeReadIsLeftOut) {
  const Json answer = asked("ledger", {{"parts",
                                        {{{"part", "a"}, {"weighed", "12"}},
                                         {{"part", "b"}, {"planned", "20 mg"}},
                                         {{"part", "b"}, {"planned", "20 mg"}}}}});
  EXPECT_THAT(bench_fields_of(answer), Contains("ledger.parts[1].weighed"));
  EXPECT_THAT(bench_fields_of(answer), Contains("ledger.parts[3].part"));
}

TEST(Shaking, UsesWhatPairAndHubHaveFound) {
  Json question = {{"blades",
                    {blade("A", "200 mm", "250 mg", "57 deg", "42 deg"),
                     blade("B", "200 mm", "250 mg", "53 deg", "38 deg")}},
                   {"hub", {{"hook_run_out", "0.1 mm"}}},
                   {"shaking", Json::object()}};
  const Json answer = bench_document(question);
  ASSERT_TRUE(answer["problems"].empty()) << answer["problems"];
  const Json& checks = answer["shaking"]["checks"];
  ASSERT_EQ(checks.size(), 5);
  EXPECT_EQ(checks[0]["key"], "angles");
  EXPECT_EQ(checks[0]["verdict"], "suspect");
  EXPECT_NEAR(checks[0]["figure"], 4, 1e-9);
  EXPECT_EQ(checks[1]["key"], "hook");
  EXPECT_NEAR(checks[1]["figure"], 0.05e-3, 1e-12);
  EXPECT_EQ(checks[2]["verdict"], "not_measured");
  EXPECT_EQ(answer["shaking"]["next"], "angles");
}

TEST(Bench, AJobThatDoesNotFlyLeavesTheRestAnswered) {
  Json question = lantern();
  question["job"]["hall"]["roof_height"] = "1 m";
  question["ledger"] = {{"parts", {{{"part", "a"}, {"planned", "10 mg"}, {"weighed", "12 mg"}}}}};
  const Json answer = bench_document(question);
  EXPECT_THAT(bench_fields_of(answer), Contains("hall.roof_height"));
  EXPECT_TRUE(answer["ledger"].is_object());
  EXPECT_TRUE(answer["ledger"]["seconds_per_mg"].is_null());
}

TEST(Bench, WhatIsNoObjectIsToldOnce) {
  for (const char* table : {"tube", "hub", "weighings", "ledger", "shaking", "twist_test"}) {
    const Json answer = asked(table, Json::array());
    ASSERT_FALSE(answer["problems"].empty()) << table;
    EXPECT_EQ(answer["problems"][0]["field"], table);
  }
  EXPECT_THAT(bench_fields_of(asked("blades", 3)), Contains("blades"));
  EXPECT_THAT(bench_fields_of(asked("stock", "sheet")), Contains("stock"));
}

}  // namespace
}  // namespace propwright::answer
