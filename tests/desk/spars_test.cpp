#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

const std::string batch_7 =
    "spars examples/bench/spars-batch-7.csv --rig examples/bench/rig-2.toml --minimum-size '36 "
    "thou'";
const std::string columns =
    "id,shape,width_root_m,width_tip_m,length_m,mass_kg,reading_0_m,reading_90_m\n";

TEST(SparsCommand, GivesTheKeysOfTheContract) {
  const Outcome batch = run(batch_7 + " --json");
  ASSERT_EQ(batch.status, 0) << batch.err;
  const auto json = batch.json();
  ASSERT_EQ(json.at("spars").size(), 12);
  for (const char* const key :
       {"modulus_0_Pa", "modulus_90_Pa", "ei_0_Nm2", "ei_90_Nm2", "ei_root_0_Nm2", "ei_root_90_Nm2",
        "sigma_relative", "soft_axis_deg"}) {
    EXPECT_TRUE(json.at("spars").at(0).at(key).is_number()) << key;
  }
  ASSERT_EQ(json.at("pairs").size(), 6);
  for (const auto& pair : json.at("pairs")) {
    EXPECT_GE(pair.at("mismatch_relative").get<double>(), 0);
    EXPECT_GT(pair.at("sigma_relative").get<double>(), 0);
  }
  EXPECT_EQ(json.at("pairs").at(0).at("verdict"), "matched");
  EXPECT_EQ(json.at("unpaired").size(), 0);
  ASSERT_GE(json.at("sanding").size(), 1);
  const auto& sanding = json.at("sanding").at(0);
  EXPECT_GT(sanding.at("remove_0_per_face_m").get<double>() +
                sanding.at("remove_90_per_face_m").get<double>(),
            0);
  EXPECT_GT(sanding.at("target_reading_0_m").get<double>(), 0);
  EXPECT_GT(sanding.at("target_reading_90_m").get<double>(), 0);
}

TEST(SparsCommand, TellsPairsAndSandingInWords) {
  const Outcome batch = run(batch_7);
  ASSERT_EQ(batch.status, 0) << batch.err;
  EXPECT_THAT(batch.out, testing::StartsWith("Sand spar "));
  EXPECT_THAT(batch.out, HasSubstr("thou off each face"));
  EXPECT_THAT(batch.out, HasSubstr("a dust mask"));
  EXPECT_THAT(batch.out, HasSubstr("Rig 2: 0.270 g at 6.00 in"));
  EXPECT_THAT(batch.out, HasSubstr("matched. Alike to "));
  EXPECT_THAT(run(batch_7 + " --units metric").out, HasSubstr("mm off each face"));
}

TEST(SparsCommand, AnUnsoundRowLeavesTheRestAnswered) {
  const Folder folder;
  const std::string rows = columns +
                           "a,square,0.0013,0.0007,0.18,0.00002,0.010,0.011\n"
                           "b,square,-0.0013,0.0007,0.18,0.00002,0.010,0.011\n"
                           "c,square,0.0013,0.0007,0.18,0.00002,0.0102,0.0111\n"
                           "d,square,0.0013,0.0007,0.18,0.00002,0.3,0.011\n"
                           "e,square,0.0013,0.0007,0.18,0.00002,0.0101,\n"
                           "f,square,0.0013,0.0007,0.12,0.00002,0.0101,0.011\n";
  const std::string words =
      "spars '" + folder.file("b.csv", rows) + "' --rig examples/bench/rig-2.toml";
  const Outcome json = run(words + " --json");
  EXPECT_EQ(json.status, 3);
  EXPECT_EQ(json.json().at("pairs").size(), 1);
  EXPECT_EQ(json.json().at("pairs").at(0).at("verdict"), "matched");
  EXPECT_EQ(problem_of(json, "width_root_m").at("line"), 3);
  EXPECT_EQ(problem_of(json, "reading_0_m").at("line"), 5);
  EXPECT_EQ(problem_of(json, "reading_90_m").at("line"), 6);
  EXPECT_THAT(problem_of(json, "rig.load_at").at("file").get<std::string>(),
              HasSubstr("rig-2.toml"));
  const Outcome text = run(words);
  EXPECT_EQ(text.status, 3);
  EXPECT_THAT(text.out, HasSubstr("a + c"));
  EXPECT_THAT(text.err, HasSubstr("b.csv:3: width_root_m: "));
}

TEST(SparsCommand, WhatCannotBeReadAtAllIsToldAlone) {
  const Folder folder;
  const Outcome missing = run("spars nowhere.csv --rig nowhere.toml --json");
  EXPECT_EQ(missing.status, 5);
  EXPECT_EQ(missing.json().at("problems").size(), 2);
  const Outcome columns_missing = run("spars '" + folder.file("b.csv", "id,length_m\na,0.18\n") +
                                      "' --rig examples/bench/rig-2.toml --json");
  EXPECT_EQ(columns_missing.status, 3);
  problem_of(columns_missing, "reading_90_m");
  const Outcome no_rig = run("spars examples/bench/spars-batch-7.csv --rig '" +
                             folder.file("r.toml", "load = \"1 g\"\n") + "' --json");
  EXPECT_EQ(no_rig.status, 3);
  problem_of(no_rig, "rig");
  EXPECT_EQ(run("spars examples/bench/spars-batch-7.csv").status, 2);
  const Outcome option = run(batch_7 + " --tolerance '80 %' --json");
  EXPECT_EQ(option.status, 3);
  problem_of(option, "--tolerance");
}

TEST(SparsCommand, WritesACsvThatItReadsAgain) {
  const Folder folder;
  const std::string file = (folder.path() / "out.csv").string();
  ASSERT_EQ(run(batch_7 + " --csv '" + file + "'").status, 0);
  EXPECT_THAT(read(file), HasSubstr(",ei_0_Nm2,"));
  const std::string first = run(batch_7 + " --json").json().at("pairs").dump();
  const Outcome again =
      run("spars '" + file + "' --rig examples/bench/rig-2.toml --minimum-size '36 thou' --json");
  ASSERT_EQ(again.status, 0) << again.err << again.out.substr(0, 300);
  EXPECT_EQ(again.json().at("pairs").size(), 6);
  EXPECT_EQ(again.json().at("pairs").at(0).at("a"), nlohmann::json::parse(first).at(0).at("a"));
}

}  // namespace
}  // namespace propwright::desk::test
