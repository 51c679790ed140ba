// Batches of spars through the answer: what is wrong is told at its field and the rest is kept; the
// history carries sizes on; sanding as advised ends in a match.
#include "propwright/answer/spars.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "propwright/answer/spars_files.h"
#include "propwright/spar/deflection.h"

namespace propwright::answer {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

constexpr double thou_m = 25.4e-6;

std::string example_file(const std::string& name) {
  std::ifstream file(PROPWRIGHT_SOURCE_DIR "/examples/bench/" + name);
  return {std::istreambuf_iterator<char>(file), {}};
}

Json example_request() {
  const auto rig = rig_of_toml(example_file("rig-2.toml"), "rig-2.toml");
  const auto spars =
      spars_of_csv(example_file("spars-batch-7.csv"), "spars-batch-7.csv", units::Profile::inch);
  EXPECT_TRUE(spars.problems.empty());
  return {{"rig", *rig}, {"spars", spars.spars}, {"minimum_size", "36 thou"}};
}

SparsAnswer answer_to(const Json& request) {
  return spars_answer(read_spars(request));
}

std::vector<std::string> fields_of(const SparsAnswer& answer) {
  std::vector<std::string> fields;
  for (const SparProblem& each : answer.problems) fields.push_back(each.problem.field);
  return fields;
}

const SparPair& pair_with(const SparsAnswer& answer, const std::string& id) {
  for (const SparPair& pair : answer.pairs) {
    if (pair.pair.a == id || pair.pair.b == id) return pair;
  }
  throw std::runtime_error("no pair with " + id);
}

Json& spar_of(Json& request, const std::string& id) {
  for (Json& spar : request["spars"]) {
    if (spar["id"] == id) return spar;
  }
  throw std::runtime_error("no spar " + id);
}

TEST(Spars, TwelveOfABatchBecomeSixPairs) {
  const SparsAnswer answer = answer_to(example_request());
  EXPECT_THAT(fields_of(answer), ElementsAre());
  EXPECT_TRUE(answer.questions.empty()) << answer.questions.front().message;
  ASSERT_EQ(answer.spars.size(), 12);
  ASSERT_EQ(answer.pairs.size(), 6);
  EXPECT_TRUE(answer.unpaired.empty());
  // As they were invented: stiffness alike, apart by a sanding, too close to tell, hopeless.
  EXPECT_EQ(pair_with(answer, "3").verdict_word, "matched");
  EXPECT_EQ(answer.find("3")->partner, "8");
  EXPECT_EQ(pair_with(answer, "4").verdict_word, "matched");
  EXPECT_EQ(answer.find("4")->partner, "9");
  EXPECT_EQ(pair_with(answer, "11").verdict_word, "sand 11");
  EXPECT_EQ(answer.find("11")->partner, "5");
  EXPECT_EQ(pair_with(answer, "1").verdict_word, "cannot tell");
  EXPECT_EQ(answer.find("1")->partner, "7");
  EXPECT_EQ(pair_with(answer, "2").verdict_word, "make a new one");
  // 10 was made like 6 with width and depth exchanged, so it sits turned by a quarter.
  const SparPair& turned = pair_with(answer, "10");
  EXPECT_EQ(answer.find("10")->partner, "6");
  EXPECT_NEAR(std::abs(turned.pair.turn_a_deg - turned.pair.turn_b_deg), 90, 1e-9);
  EXPECT_THAT(turned.mount_sentence, HasSubstr("to the trailing edge"));
  ASSERT_TRUE(answer.now);
  EXPECT_EQ(answer.now->what, "sand");
  EXPECT_THAT(answer.now->headline, HasSubstr("Sand spar 1"));
}

// Turned by a quarter, a spar bends forward with the EI it showed with its mark at the side.
TEST(Spars, EIOfAPairIsToldAsItIsMounted) {
  const SparsAnswer answer = answer_to(example_request());
  const Json told = spars_json(answer);
  int quarters = 0;
  for (std::size_t i = 0; i < answer.pairs.size(); ++i) {
    const spar::Pair& pair = answer.pairs[i].pair;
    const auto check = [&](std::size_t which, const std::string& id, double turn_deg) {
      const spar::Measured& spar = *answer.find(id)->measured();
      const bool quarter = std::abs(turn_deg - 90) < 1e-9;
      if (!quarter && std::abs(turn_deg) > 1e-9) return;
      if (quarter) ++quarters;
      const spar::Direction& front = quarter ? spar.at_90 : spar.at_0;
      const spar::Direction& side = quarter ? spar.at_0 : spar.at_90;
      const Json& json = told["pairs"][i];
      EXPECT_NEAR(json["ei_root_front_Nm2"][which].get<double>() / front.ei_root_Nm2, 1, 1e-6)
          << id;
      EXPECT_NEAR(json["ei_root_side_Nm2"][which].get<double>() / side.ei_root_Nm2, 1, 1e-6) << id;
    };
    check(0, pair.a, pair.turn_a_deg);
    check(1, pair.b, pair.turn_b_deg);
  }
  EXPECT_GE(quarters, 1);
}

TEST(Spars, RepeatsShrinkTheDoubtOfASpar) {
  const SparsAnswer answer = answer_to(example_request());
  const spar::Measured& thrice = *answer.find("5")->measured();
  const spar::Measured& once = *answer.find("3")->measured();
  EXPECT_EQ(thrice.at_0.readings, 3);
  EXPECT_LT(thrice.at_0.ei_sigma_relative, 0.7 * once.at_0.ei_sigma_relative);
}

/// What a spar reads that has the given sizes: its wood stays what it was.
std::string simulated(const spar::Measured& wood, const spar::Taper& taper, spar::Bending bending,
                      const spar::Rig& rig) {
  const double mass_kg = wood.density_kg_m3 * spar::volume_m3(taper);
  const spar::SecondMoments root = spar::second_moments(taper.stations.front().section);
  const bool depth = bending == spar::Bending::depth;
  const double modulus_Pa = depth ? wood.at_0.modulus_Pa.value : wood.at_90.modulus_Pa.value;
  const double ei_Nm2 = modulus_Pa * (depth ? root.i_0_m4 : root.i_90_m4);
  const auto reading = spar::reading_m({taper, mass_kg, bending}, rig, ei_Nm2);
  return std::to_string(std::lround(*reading / thou_m)) + " thou";  // the scale's steps
}

std::string text_m(double si) {
  return units::to_exact_text(si, units::Dimension::length, units::Profile::inch);
}

TEST(Spars, ThreeRoundsOfSandingEndInAMatch) {
  Json request = example_request();
  const SparsAnswer before = answer_to(request);
  const spar::Measured wood = *before.find("11")->measured();
  spar::Taper taper = wood.spar.taper;
  // A careful builder stops short: of the first two advices 40 % and 50 %, then the whole.
  const double taken[] = {0.4, 0.5, 1.0};
  SparsAnswer answer = before;
  for (int round = 0; round < 3; ++round) {
    const auto sanding = std::find_if(answer.sanding.begin(), answer.sanding.end(),
                                      [](const SparSanding& each) { return each.id == "11"; });
    ASSERT_NE(sanding, answer.sanding.end()) << "round " << round + 1;
    EXPECT_EQ(sanding->step, "round " + std::to_string(round + 1));
    spar::Cut cut = sanding->cut;
    cut.remove_0_per_face_m *= taken[round];
    cut.remove_90_per_face_m *= taken[round];
    taper = spar::sanded(taper, cut);
    const std::string up = simulated(wood, taper, spar::Bending::depth, *before.batch.rig);
    const std::string side = simulated(wood, taper, spar::Bending::width, *before.batch.rig);
    if (taken[round] == 1) {  // sanded as advised it reads as was said
      EXPECT_GE(std::stod(up) * thou_m, sanding->band_0.low_m);
      EXPECT_LE(std::stod(up) * thou_m, sanding->band_0.high_m);
    }
    spar_of(request, "11")["states"].push_back(
        {{"sanded_from", text_m(cut.from_m)},
         {"sanded_to", text_m(cut.to_m)},
         {"off_each_face_0", text_m(cut.remove_0_per_face_m)},
         {"off_each_face_90", text_m(cut.remove_90_per_face_m)},
         {"reading_0", {up}},
         {"reading_90", {side}}});
    answer = answer_to(request);
    EXPECT_THAT(fields_of(answer), ElementsAre());
    // The modulus is that of the wood still: the sizes were carried on rightly. Half a step of the
    // scale is 0.14 % of the reading.
    EXPECT_NEAR(answer.find("11")->measured()->at_0.modulus_Pa.value, wood.at_0.modulus_Pa.value,
                0.003 * wood.at_0.modulus_Pa.value);
    EXPECT_EQ(answer.find("11")->partner, "5");
  }
  EXPECT_EQ(pair_with(answer, "11").verdict_word, "matched");
  const SparAnswer& spar = *answer.find("11");
  EXPECT_EQ(spar.rounds, 3);
  ASSERT_EQ(spar.history.size(), 4);  // as stripped and three rounds; nothing more to come
  EXPECT_EQ(spar.history.back().step, "round 3");
  // Each round brought it nearer to its partner.
  for (std::size_t i = 1; i < spar.history.size(); ++i) {
    EXPECT_LT(spar.history[i].stiffer->log_ratio, spar.history[i - 1].stiffer->log_ratio);
  }
}

TEST(Spars, WhatIsToComeStandsInTheHistory) {
  const SparsAnswer answer = answer_to(example_request());
  const SparAnswer& spar = *answer.find("11");
  ASSERT_EQ(spar.history.size(), 2);
  const SparState& next = spar.history.back();
  EXPECT_TRUE(next.to_come);
  EXPECT_EQ(next.step, "round 1");
  EXPECT_GT(*next.reading_0_m, *spar.history.front().reading_0_m);
  EXPECT_LT(std::abs(next.stiffer->log_ratio), std::abs(spar.history.front().stiffer->log_ratio));
  EXPECT_THAT(spar.expect_sentence, HasSubstr("Round 1: sand, then read. Expect "));
  EXPECT_THAT(spar.expect_sentence, HasSubstr("with the mark up; it read 365."));
}

TEST(Spars, APartThatCannotBeReadLeavesTheRest) {
  Json request = example_request();
  const auto state = [&](const char* id) -> Json& { return spar_of(request, id)["states"][0]; };
  state("1")["root_width"] = "-1 mm";
  state("2")["mass"] = "0 mg";
  state("4")["reading_0"] = {"8 in"};  // of a spar of 7.25 in
  state("6").erase("reading_90");
  state("7")["reading_0"] = {"352"};
  state("9")["root_wdth"] = "1 mm";
  spar_of(request, "12")["id"] = "3";
  const SparsAnswer answer = answer_to(request);
  EXPECT_THAT(
      fields_of(answer),
      testing::UnorderedElementsAre(
          "spars[1].states[1].root_width", "spars[2].states[1].mass",
          "spars[4].states[1].reading_0[1]", "spars[6].states[1].reading_90",
          "spars[7].states[1].reading_0[1]", "spars[9].states[1].root_wdth", "spars[12].id"));
  for (const SparProblem& each : answer.problems) {
    EXPECT_FALSE(each.problem.message.empty());
    EXPECT_FALSE(each.problem.remedy.empty()) << each.problem.field;
  }
  int measured = 0;
  for (const SparAnswer& spar : answer.spars) measured += spar.measured() != nullptr ? 1 : 0;
  EXPECT_EQ(answer.spars.size(), 11);
  EXPECT_EQ(measured, 5);
  EXPECT_EQ(answer.pairs.size(), 2);
  EXPECT_EQ(answer.unpaired.size(), 1);
}

TEST(Spars, ALoadBeyondTheSparIsToldAtTheRig) {
  Json request = example_request();
  spar_of(request, "3")["length"] = "5 in";
  const SparsAnswer answer = answer_to(request);
  ASSERT_FALSE(answer.problems.empty());
  EXPECT_EQ(answer.problems.front().id, "3");
  const base::Problem& problem = answer.problems.front().problem;
  EXPECT_EQ(problem.field, "rig.load_at");
  EXPECT_EQ(problem.value, "6.00 in");
  EXPECT_EQ(problem.allowed, "above 0 and at most 5.00 in");
  EXPECT_EQ(answer.find("3")->measured(), nullptr);
  EXPECT_NE(answer.find("8")->measured(), nullptr);
}

TEST(Spars, RangesAreToldInTheBuildersUnit) {
  Json request = example_request();
  spar_of(request, "3")["states"][0]["root_width"] = "750 thou";
  spar_of(request, "4")["states"][0]["root_width"] = "900 thou";
  const auto allowed = [&](const char* units) {
    request["units"] = units;
    std::vector<std::string> all;
    const SparsAnswer answer = answer_to(request);
    all.reserve(answer.problems.size());
    for (const SparProblem& each : answer.problems) all.push_back(each.problem.allowed);
    return all;
  };
  // A tenth of 7.25 in is 725 thou, 18.415 mm; 20 mm is 787 thou, in the unit of what was typed.
  EXPECT_THAT(allowed("inch"), ElementsAre(HasSubstr(" to 0.787"), "0.4 thou to below 725.0 thou"));
  EXPECT_THAT(allowed("metric"),
              ElementsAre(HasSubstr(" to 0.787"), testing::StartsWith("0.01 mm to below 18.4")));
}

TEST(Spars, WithoutASoundRigAllAreListed) {
  Json request = example_request();
  request["rig"].erase("load");
  const SparsAnswer answer = answer_to(request);
  EXPECT_THAT(fields_of(answer), ElementsAre("rig.load"));
  EXPECT_EQ(answer.spars.size(), 12);
  EXPECT_TRUE(answer.pairs.empty());
  EXPECT_EQ(answer.now->headline, "Check the rig");
}

TEST(Spars, WithoutReadingsASparIsNotMeasuredYet) {
  Json request = example_request();
  spar_of(request, "12")["states"] = Json::array();
  const SparsAnswer answer = answer_to(request);
  EXPECT_THAT(fields_of(answer), ElementsAre());
  EXPECT_EQ(answer.find("12")->measured(), nullptr);
  EXPECT_EQ(answer.now->what, "measure");
  EXPECT_EQ(answer.now->headline, "Measure spar 12");
  request["next"] = "11";  // the builder is at another one
  EXPECT_EQ(answer_to(request).now->what, "sand");
  spar_of(request, "12")["set_aside"] = true;
  request.erase("next");
  EXPECT_EQ(answer_to(request).now->what, "sand");
}

TEST(Spars, ADoubtfulReadingIsQuestionedAndUsed) {
  Json request = example_request();
  spar_of(request, "3")["states"][0]["reading_0"] = Json::array({"190 thou"});
  const SparsAnswer answer = answer_to(request);
  EXPECT_THAT(fields_of(answer), ElementsAre());
  ASSERT_FALSE(answer.questions.empty());
  EXPECT_EQ(answer.questions.front().id, "3");
  EXPECT_EQ(answer.questions.front().field, "spars[3].states[1].reading_0[1]");
  EXPECT_THAT(answer.questions.front().message, testing::StartsWith("190 thou would mean E = "));
  EXPECT_NE(answer.find("3")->measured(), nullptr);
}

TEST(Spars, KeptPairsStayTogether) {
  Json request = example_request();
  for (const auto& [a, b] : {std::pair("3", "9"), std::pair("3", "4"), std::pair("5", "none")}) {
    request["keep_pairs"].push_back(Json::array({a, b}));
  }
  const SparsAnswer answer = answer_to(request);
  EXPECT_THAT(fields_of(answer), ElementsAre("keep_pairs[2]", "keep_pairs[3]"));
  EXPECT_EQ(answer.find("3")->partner, "9");
  EXPECT_TRUE(pair_with(answer, "3").kept);
  EXPECT_FALSE(pair_with(answer, "1").kept);
}

TEST(Spars, AReadingKeepsTheRigItWasMadeWith) {
  Json request = example_request();
  // The same spar under twice the weight reads about twice as much and is no softer.
  Json& state = spar_of(request, "3")["states"][0];
  const SparsAnswer light = answer_to(request);
  const spar::Measured& wood = *light.find("3")->measured();
  spar::Rig heavy = *light.batch.rig;
  heavy.load_kg *= 2;
  state["rig"] = request["rig"];
  state["rig"]["load"] = "0.540 g";
  state["reading_0"] = {simulated(wood, wood.spar.taper, spar::Bending::depth, heavy)};
  state["reading_90"] = {simulated(wood, wood.spar.taper, spar::Bending::width, heavy)};
  const SparsAnswer answer = answer_to(request);
  EXPECT_THAT(fields_of(answer), ElementsAre());
  // Half a step of the scale is 0.06 % of the reading here.
  EXPECT_NEAR(answer.find("3")->measured()->at_0.modulus_Pa.value, wood.at_0.modulus_Pa.value,
              0.001 * wood.at_0.modulus_Pa.value);
}

TEST(Spars, TheCalibrationGivesTheRepeatability) {
  Json request = example_request();
  request["rig"].erase("repeatability");
  request["rig"]["calibration"] = {"400 thou", "404 thou", "402 thou"};
  const SparsAnswer answer = answer_to(request);
  ASSERT_TRUE(answer.batch.calibration);
  EXPECT_EQ(answer.batch.calibration->freedom, 2);
  // Standard deviation of 400, 404, 402 is 2, rounding apart.
  EXPECT_NEAR(answer.batch.rig->repeatability_m, 2 * thou_m, 0.05 * thou_m);
  EXPECT_EQ(answer.notes.size(), 1);
}

TEST(Spars, SentencesAreInTheUnitsAskedFor) {
  Json request = example_request();
  const SparsAnswer inch = answer_to(request);
  EXPECT_EQ(rig_sentence(*inch.batch.rig, inch.batch.profile),
            "Rig 2: 0.270 g at 6.00 in, read at 6.00 in, ± 2 thou");
  EXPECT_THAT(inch.now->unit, HasSubstr("thou off each face"));
  request["units"] = "metric";
  const SparsAnswer metric = answer_to(request);
  EXPECT_THAT(metric.now->unit, HasSubstr("mm off each face"));
  EXPECT_THAT(metric.now->sentence, HasSubstr("From 12 mm to "));
}

TEST(SparsCsv, RowsOfOneIdAreRepeats) {
  const auto read = spars_of_csv(
      "id,width_root_m,width_tip_m,length_m,mass_kg,reading_0_m,reading_90_m,reading_45_m\n"
      "a,0.0013,0.0007,0.18,0.00002,0.01,0.011,\na,0.0013,0.0007,0.18,0.00002,0.0102,,0.0105\n",
      "b.csv", units::Profile::metric);
  EXPECT_TRUE(read.problems.empty());
  ASSERT_EQ(read.spars.size(), 1);
  const Json& state = read.spars[0]["states"][0];
  EXPECT_EQ(state["reading_0"], Json({"10 mm", "10.2 mm"}));
  EXPECT_EQ(state["reading_90"], Json::array({"11 mm"}));
  EXPECT_EQ(state["reading_45"], Json::array({"10.5 mm"}));
}

TEST(SparsCsv, WhatIsWrongIsLeftOutWithItsLine) {
  const auto read = spars_of_csv(
      "# spars\nid,width_root_m,width_tip_m,length_m,mass_kg,reading_0_m,reading_90_m,colour\n"
      "a,0.0013,0.0007,0.18,0.00002,0.01,0.011,red\n"
      "b,0.0013,0.0007,0.18,0.00002,0.01\n"
      "c,wide,0.0007,0.18,0.00002,0.01,0.011,red\n"
      "d,0.0013,0.0007,0.18,0.00002,0.01,0.011,red\n"
      "d,0.0014,0.0007,0.18,0.00002,0.01,0.011,red\n",
      "b.csv", units::Profile::metric);
  std::vector<std::pair<int, std::string>> told;
  for (const base::Problem& problem : read.problems) {
    EXPECT_EQ(problem.file, "b.csv");
    told.emplace_back(problem.line, problem.field);
  }
  EXPECT_THAT(told, testing::UnorderedElementsAre(std::pair(2, "colour"), std::pair(4, ""),
                                                  std::pair(5, "width_root_m"),
                                                  std::pair(7, "width_root_m")));
  // a is whole; of d it is not known which sizes are true.
  ASSERT_EQ(read.spars.size(), 2);
  EXPECT_TRUE(read.spars[0].contains("states"));
  EXPECT_EQ(read.spars[1]["id"], "d");
  EXPECT_FALSE(read.spars[1].contains("states"));
}

TEST(SparsCsv, WhatIsWrittenIsReadBackTheSame) {
  const SparsAnswer answer = answer_to(example_request());
  const std::string csv = spars_csv(answer);
  const auto again = spars_of_csv(csv, "again.csv", units::Profile::inch);
  EXPECT_TRUE(again.problems.empty()) << base::to_line(again.problems.front());
  Json request = example_request();
  request["spars"] = again.spars;
  EXPECT_EQ(spars_csv(answer_to(request)), csv);
}

TEST(SparsCsv, AProblemStandsAtItsLineAndColumn) {
  const auto csv = spars_of_csv(
      "id,width_root_m,width_tip_m,length_m,mass_kg,reading_0_m,reading_90_m\n"
      "a,0.0013,0.0007,0.18,0.00002,0.01,0.011\nb,-1,0.0007,0.18,0.00002,0.01,0.011\n",
      "b.csv", units::Profile::metric);
  Json request = example_request();
  request["spars"] = csv.spars;
  const SparsAnswer answer = answer_to(request);
  ASSERT_EQ(answer.problems.size(), 1);
  const base::Problem problem = in_csv(answer.problems[0].problem, csv, "b.csv");
  EXPECT_EQ(problem.line, 3);
  EXPECT_EQ(problem.field, "width_root_m");
}

}  // namespace
}  // namespace propwright::answer
