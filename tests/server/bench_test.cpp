#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

using testing::Contains;

/// Every table, as the pages send it.
json whole_bench() {
  json body = document();
  body["relative_sigma"] = 0.05;
  body["units"] = "metric";
  body["instruments"] = {{"scale", "1 mg"}, {"protractor", "0.25 deg"}};
  body["stock"] = {{{"id", "sheet 1"},
                    {"kind", "sheet"},
                    {"length", "915 mm"},
                    {"width", "76 mm"},
                    {"thickness", "2.4 mm"},
                    {"mass", "18.4 g"},
                    {"grain", "A"}},
                   {{"id", "film"},
                    {"kind", "film"},
                    {"length", "300 mm"},
                    {"width", "250 mm"},
                    {"mass", "53 mg"},
                    {"grain", ""}}};
  const auto blade = [](const char* id, const char* mass, const char* inner, const char* outer) {
    return json{
        {"id", id},
        {"length", "195 mm"},
        {"mass", mass},
        {"centre_of_mass", "78 mm"},
        {"angles",
         {{{"radius", "80 mm"}, {"angle", inner}}, {{"radius", "140 mm"}, {"angle", outer}}}},
        {"camber", {{{"radius", "120 mm"}, {"chord", "46 mm"}, {"camber", "6 %"}}}}};
  };
  body["blades"] = {blade("A", "243 mg", "57 deg", "42 deg"),
                    blade("B", "252 mg", "55 deg", "40 deg")};
  body["pair"] = {{"trim_radius", "150 mm"}, {"gauge_radius", ""}};
  body["twist_test"] = {
      {"length", "175 mm"},    {"arm", "20 mm"},
      {"shape", "square"},     {"root_width", "2.3 mm"},
      {"tip_width", "1.1 mm"}, {"readings", {{{"mass", "0.5 g"}, {"angle", "11 deg"}}}}};
  body["tube"] = {{"spar_root", "2.3 mm"},
                  {"paper", "25 um"},
                  {"paper_areal", "12 g/m2"},
                  {"wanted_mass", "6 mg"}};
  body["hub"] = {{"hook_run_out", "1.1 mm"},
                 {"wire_diameter", "0.5 mm"},
                 {"wire_length", "45 mm"},
                 {"weighed", "112 mg"},
                 {"tension", "0.6 N"}};
  body["weighings"] = {{"together", {{{"part", "rib"}, {"count", 18}, {"reading", "64 mg"}}}},
                       {"design",
                        {{{"on", {"A"}}, {"reading", "60 mg"}},
                         {{"on", {"B"}}, {"reading", "62 mg"}},
                         {{"on", {"A", "B"}}, {"reading", "125 mg"}}}},
                       {"humidity", "34 %"},
                       {"wanted", "5 %"}};
  body["ledger"] = {
      {"parts",
       {{{"part", "Spars"}, {"weighed", "126 mg"}},
        {{"part", "wing"}, {"planned", nullptr}, {"weighed", "1.1 g"}, {"propeller", false}}}}};
  body["shaking"] = json::object();
  body["replacement"] = {{"chords", {{{"radius", "120 mm"}, {"chord", "46 mm"}}}},
                         {"humidity_then", "34 %"},
                         {"humidity_now", "55 %"}};
  return body;
}

// Each answer is held against docs/openapi.yaml by Pages::ask.
TEST(BenchRoute, AnswersEveryTable) {
  const Pages pages;
  const json asked = whole_bench();
  const Reply reply = pages.ask("POST", "/api/bench", asked);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json bench = reply.body();
  EXPECT_TRUE(bench["problems"].empty()) << bench["problems"];
  for (const char* table : {"stock", "blades", "twist_test", "tube", "hub", "weighings", "ledger",
                            "shaking", "replacement"}) {
    ASSERT_TRUE(bench.contains(table)) << table;
    EXPECT_TRUE(bench[table].is_object()) << table;
  }
  EXPECT_TRUE(bench["blades"]["pair"].is_object());
}

TEST(BenchRoute, AnswersEachTableAlone) {
  const Pages pages;
  const json whole = whole_bench();
  for (const char* table :
       {"stock", "blades", "twist_test", "tube", "hub", "weighings", "ledger", "shaking"}) {
    const json body = {{table, whole[table]}};
    const Reply reply = pages.ask("POST", "/api/bench", body);
    ASSERT_EQ(reply.status, 200) << table << reply.text;
    EXPECT_TRUE(reply.body()[table].is_object()) << table << reply.text;
  }
}

TEST(BenchRoute, AWrongFieldIsToldBesideTheAnswers) {
  const Pages pages;
  json body = whole_bench();
  body["tube"]["paper"] = "25";
  body["blades"][1]["angles"][0]["angle"] = "99 deg";
  const Reply reply = pages.ask("POST", "/api/bench", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_THAT(reply.fields(), Contains("tube.paper"));
  EXPECT_THAT(reply.fields(), Contains("blades[2].angles[1].angle"));
  const json bench = reply.body();
  EXPECT_TRUE(bench["tube"].is_null());
  EXPECT_TRUE(bench["blades"]["items"][1].is_null());
  EXPECT_TRUE(bench["hub"].is_object());
}

TEST(BenchRoute, RefusesWhatIsNoQuestion) {
  const Pages pages;
  EXPECT_EQ(pages.send("POST", "/api/bench", "{").status, 400);
  const Reply unknown = pages.send("POST", "/api/bench", R"({"tubes": {}})");
  EXPECT_EQ(unknown.status, 422);
  EXPECT_THAT(unknown.fields(), Contains("tubes"));
}

}  // namespace
}  // namespace propwright::server::test
