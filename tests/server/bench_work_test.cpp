/// The bench's pages as a piece of work.
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

/// Two invented spars.
json bench_order() {
  json body{{"kind", "bench"},
            {"paper", "letter"},
            {"print", {{"batch", "7"}}},
            {"spars",
             {{"rig", {{"load", "0.270 g"}, {"load_at", "6 in"}, {"read_at", "6 in"}}},
              {"spars", json::array()}}}};
  for (const char* id : {"1", "2"}) {
    body["spars"]["spars"].push_back({{"id", id},
                                      {"length", "7.25 in"},
                                      {"states",
                                       {{{"root_width", "59.5 thou"},
                                         {"tip_width", "31 thou"},
                                         {"mass", "27.1 mg"},
                                         {"reading_0", {"400 thou"}},
                                         {"reading_90", {"410 thou"}}}}}});
  }
  return body;
}

TEST(BenchWork, MakesAPdfOfTheBatch) {
  const Pages pages;
  const Reply started = pages.ask("POST", "/api/work", bench_order());
  ASSERT_EQ(started.status, 202) << started.text;
  const auto events = pages.events(started.body()["events"]);
  ASSERT_EQ(events.back().first, "done") << events.back().second;
  const json result = events.back().second["result"];
  EXPECT_EQ(result["file_name"], "batch-7-bench.pdf");
  EXPECT_GE(result["pages"], 4);
  const Reply pdf = pages.get(result["file"]);
  ASSERT_EQ(pdf.status, 200);
  EXPECT_TRUE(pdf.text.starts_with("%PDF"));
  EXPECT_EQ(pdf.text.size(), result["size_bytes"]);
}

TEST(BenchWork, PrintsTheRestBesideASparThatIsWrong) {
  const Pages pages;
  json body = bench_order();
  body["spars"]["spars"][1]["states"][0]["tip_width"] = "-31 thou";
  const Reply started = pages.ask("POST", "/api/work", body);
  ASSERT_EQ(started.status, 202) << started.text;
  EXPECT_EQ(pages.events(started.body()["events"]).back().first, "done");
}

TEST(BenchWork, TellsWishesThatCannotBeRead) {
  const Pages pages;
  json body = bench_order();
  body["print"]["wanted"] = {{"root", "63 thou"}, {"tip", "28 thou"}, {"length", "90 in"}};
  const Reply reply = pages.ask("POST", "/api/work", body);
  ASSERT_EQ(reply.status, 422);
  EXPECT_EQ(reply.fields(), std::vector<std::string>{"print.wanted.length"});
  body.erase("spars");
  body.erase("print");
  EXPECT_EQ(pages.ask("POST", "/api/work", body).fields(), std::vector<std::string>{"spars"});
}

TEST(BenchWork, MakesTheCardOfAReplacementBlade) {
  const Pages pages;
  const json blade{
      {"length", "180 mm"},
      {"mass", "52 mg"},
      {"angles",
       {{{"radius", "80 mm"}, {"angle", "60 deg"}}, {{"radius", "120 mm"}, {"angle", "48 deg"}}}}};
  json body{{"kind", "targets"},
            {"print", {{"batch", "Propeller 14"}}},
            {"bench", {{"units", "inch"}, {"replacement", {{"blade", blade}}}}}};
  const Reply started = pages.ask("POST", "/api/work", body);
  ASSERT_EQ(started.status, 202) << started.text;
  const auto events = pages.events(started.body()["events"]);
  ASSERT_EQ(events.back().first, "done") << events.back().second;
  const json result = events.back().second["result"];
  EXPECT_EQ(result["file_name"], "propeller-14-targets.pdf");
  EXPECT_EQ(result["pages"], 1);
  // A blade that cannot be matched is told as its answer tells it.
  body["bench"]["replacement"]["blade"]["mass"] = "-1 mg";
  const Reply wrong = pages.ask("POST", "/api/work", body);
  ASSERT_EQ(wrong.status, 202) << wrong.text;
  const auto told = pages.events(wrong.body()["events"]);
  ASSERT_EQ(told.back().first, "failed");
  EXPECT_EQ(told.back().second["problems"][0]["field"], "replacement.blade.mass");
  body.erase("bench");
  EXPECT_EQ(pages.ask("POST", "/api/work", body).fields(), std::vector<std::string>{"bench"});
}

}  // namespace
}  // namespace propwright::server::test
