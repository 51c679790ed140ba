// The spars of the bench over HTTP: CSV in, batch answered, CSV out. Each answer is held against
// docs/openapi.yaml by Pages::ask.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>

#include "pages.h"

namespace propwright::server::test {
namespace {

std::string spars_example() {
  std::ifstream file(PROPWRIGHT_SOURCE_DIR "/examples/bench/spars-batch-7.csv");
  return {std::istreambuf_iterator<char>(file), {}};
}

json example_batch(const Pages& pages) {
  const Reply read = pages.ask("POST", "/api/bench/spars/csv",
                               {{"csv", spars_example()}, {"file", "7.csv"}, {"units", "inch"}});
  EXPECT_EQ(read.status, 200) << read.text;
  EXPECT_TRUE(read.body()["problems"].empty());
  return {{"rig",
           {{"name", "Rig 2"},
            {"load", "0.270 g"},
            {"load_at", "6 in"},
            {"read_at", "6 in"},
            {"resolution", "1 thou"},
            {"repeatability", "2 thou"}}},
          {"spars", read.body()["spars"]},
          {"minimum_size", "36 thou"}};
}

TEST(BenchSpars, ABatchComesOutAsPairsWithMarks) {
  const Pages pages;
  const json batch = example_batch(pages);
  EXPECT_EQ(batch["spars"].size(), 12);
  const Reply reply = pages.ask("POST", "/api/bench/spars", batch);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  EXPECT_EQ(answer["measured_count"], 12);
  ASSERT_EQ(answer["pairs"].size(), 6);
  for (const json& pair : answer["pairs"]) {
    ASSERT_EQ(pair["end_views"].size(), 2);
    EXPECT_EQ(pair["end_views"][0]["id"], pair["a"]);
    EXPECT_FALSE(pair["mount_sentence"].get<std::string>().empty());
  }
  EXPECT_EQ(answer["now"]["what"], "sand");
  EXPECT_FALSE(answer["now"]["caution"].get<std::string>().empty());
}

TEST(BenchSpars, ProblemsOfASparAreInTheAnswer) {
  const Pages pages;
  json batch = example_batch(pages);
  batch["spars"][3]["states"][0]["reading_0"] = {"14 in"};
  batch["spars"].push_back({{"id", "13"}, {"length", "7.25 in"}});
  batch["rig"]["calibration"] = {"400 thou", "402 thou"};
  const Reply reply = pages.ask("POST", "/api/bench/spars", batch);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  ASSERT_EQ(answer["problems"].size(), 1);
  EXPECT_EQ(answer["problems"][0]["field"], "spars[4].states[1].reading_0[1]");
  EXPECT_EQ(answer["problems"][0]["value"], "14 in");
  EXPECT_EQ(answer["spar_count"], 13);
  EXPECT_EQ(answer["measured_count"], 11);
  EXPECT_EQ(answer["pairs"].size(), 5);
  EXPECT_EQ(answer["unpaired"].size(), 1);
}

TEST(BenchSpars, AThirdDirectionAndARoundSparAreAnswered) {
  const Pages pages;
  json batch = example_batch(pages);
  for (const int i : {0, 1}) {
    json& spar = batch["spars"][i];
    spar["shape"] = "round";
    spar["states"] = {{{"root_width", "56 thou"},
                       {"tip_width", "30 thou"},
                       {"mass", "20 mg"},
                       {"reading_0", {i == 0 ? "380 thou" : "420 thou"}},
                       {"reading_90", {i == 0 ? "420 thou" : "465 thou"}},
                       {"reading_45", {i == 0 ? "430 thou" : "476 thou"}}}};
  }
  batch["keep_pairs"] = json::array({json::array({"1", "2"})});
  const Reply reply = pages.ask("POST", "/api/bench/spars", batch);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json answer = reply.body();
  EXPECT_TRUE(answer["problems"].empty()) << answer["problems"].dump();
  EXPECT_TRUE(answer["spars"][0]["principal"]["clear"]);
  EXPECT_TRUE(answer["pairs"].size() == 6);
}

TEST(BenchSpars, WhatIsNoBatchIsRefused) {
  const Pages pages;
  EXPECT_EQ(pages.ask("POST", "/api/bench/spars", {{"rig", json::object()}}).status, 422);
  EXPECT_EQ(pages.ask("POST", "/api/bench/spars", {{"spars", 3}}).status, 422);
  EXPECT_EQ(pages.ask("POST", "/api/bench/spars", {{"spar", json::array()}}).status, 422);
  EXPECT_EQ(pages.ask("POST", "/api/bench/spars/csv", {{"csv", 3}}).status, 422);
  const Reply empty =
      pages.ask("POST", "/api/bench/spars", {{"rig", json::object()}, {"spars", json::array()}});
  EXPECT_EQ(empty.status, 200);
  EXPECT_EQ(empty.body()["now"], nullptr);
  EXPECT_EQ(empty.body()["rig"], nullptr);
}

TEST(BenchSpars, TheCsvComesBackWithItsRows) {
  const Pages pages;
  const json batch = example_batch(pages);
  const Reply out = pages.ask("POST", "/api/bench/spars/export", batch);
  ASSERT_EQ(out.status, 200);
  EXPECT_EQ(out.header("Content-Disposition"), "attachment; filename=\"spars.csv\"");
  // A heading, and fourteen rows: spar 5 was read three times.
  EXPECT_EQ(std::count(out.text.begin(), out.text.end(), '\n'), 15);
  const Reply in = pages.ask("POST", "/api/bench/spars/csv", {{"csv", out.text}});
  EXPECT_TRUE(in.body()["problems"].empty()) << in.text;
  EXPECT_EQ(in.body()["spars"].size(), 12);
  const Reply broken = pages.ask("POST", "/api/bench/spars/csv", {{"csv", out.text + "x,y\n"}});
  EXPECT_EQ(broken.body()["problems"].size(), 1);
  EXPECT_EQ(broken.body()["spars"].size(), 12);
}

}  // namespace
}  // namespace propwright::server::test
