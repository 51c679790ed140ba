#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

json order(const std::string& kind, int samples = 100) {
  json body = document();
  body["kind"] = kind;
  body["samples"] = samples;
  return body;
}

TEST(Work, SpreadTellsProgressAndResult) {
  const Pages pages;
  const Reply started = pages.ask("POST", "/api/work", order("spread", 600));
  ASSERT_EQ(started.status, 202);
  const auto events = pages.events(started.body()["events"]);
  ASSERT_GT(events.size(), 1);
  double before = -1;
  for (const auto& [name, data] : events) {
    if (name != "progress") continue;
    EXPECT_GE(data["share"], before);
    before = data["share"];
  }
  EXPECT_EQ(events.back().first, "done");
  EXPECT_EQ(events.back().second["result"]["samples"], 600);
  const json state = pages.get(started.header("Location")).body();
  EXPECT_EQ(state["state"], "done");
  EXPECT_EQ(state["result"], events.back().second["result"]);
}

TEST(Work, SensitivitiesGiveTheSigmaToSendBack) {
  const Pages pages;
  const Reply started = pages.ask("POST", "/api/work", order("sensitivities"));
  const auto events = pages.events(started.body()["events"]);
  ASSERT_EQ(events.back().first, "done");
  EXPECT_GT(events.back().second["result"]["relative_sigma"], 0.01);
}

TEST(Work, PacketIsAPdfOfPages) {
  const Pages pages;
  json body = order("packet", 50);
  body["paper"] = "letter";
  body["bar_measured"] = "99.5 mm";
  const Reply started = pages.ask("POST", "/api/work", body);
  const auto events = pages.events(started.body()["events"]);
  ASSERT_EQ(events.back().first, "done") << events.back().second;
  const json result = events.back().second["result"];
  const Reply pdf = pages.get(result["pdf"]);
  ASSERT_EQ(pdf.status, 200);
  EXPECT_TRUE(pdf.text.starts_with("%PDF"));
  EXPECT_EQ(pdf.text.size(), result["size_bytes"]);
  EXPECT_EQ(pdf.header("Content-Disposition"), "attachment; filename=\"lantern-46-packet.pdf\"");
}

TEST(Work, StopsWhenAsked) {
  const Pages pages;
  const Reply started = pages.ask("POST", "/api/work", order("spread", 100'000));
  ASSERT_EQ(started.status, 202);
  EXPECT_EQ(pages.ask("DELETE", started.header("Location")).status, 204);
  EXPECT_EQ(pages.events(started.body()["events"]).back().first, "stopped");
  EXPECT_EQ(pages.ask("DELETE", started.header("Location")).status, 204);  // once more: no harm
}

TEST(Work, WaitingWorkStopsAsWellAndTheLineHasAnEnd) {
  const Pages pages;
  std::vector<std::string> all;
  int status = 202;
  while (status == 202 && all.size() < 100) {
    const Reply started = pages.ask("POST", "/api/work", order("spread", 100'000));
    status = started.status;
    if (status == 202) all.push_back(started.header("Location"));
  }
  EXPECT_EQ(status, 429);
  EXPECT_EQ(all.size(), 16);
  for (const std::string& path : all) EXPECT_EQ(pages.ask("DELETE", path).status, 204);
  EXPECT_EQ(pages.events(all.back() + "/events").back().first, "stopped");
}

TEST(Work, OfAJobThatCannotFlyFailsWithProblems) {
  const Pages pages;
  json body = order("spread");
  body["job"]["launch"] = {{"turns", 5000}};  // sound in itself, but more than the motor takes
  const Reply started = pages.ask("POST", "/api/work", body);
  ASSERT_EQ(started.status, 202);
  const auto last = pages.events(started.body()["events"]).back();
  EXPECT_EQ(last.first, "failed");
  EXPECT_EQ(last.second["problems"][0]["field"], "launch.turns");
}

TEST(Work, BadOrdersAreToldAtOnce) {
  const Pages pages;
  json body = order("dance", 3);
  body["paper"] = "a3";
  body["bar_measured"] = "2 m";
  const Reply reply = pages.ask("POST", "/api/work", body);
  ASSERT_EQ(reply.status, 422);
  EXPECT_EQ(reply.fields(), (std::vector<std::string>{"kind", "paper", "samples", "bar_measured"}));
}

TEST(Work, UnknownIdIsNotFound) {
  const Pages pages;
  EXPECT_EQ(pages.get("/api/work/none").status, 404);
  EXPECT_EQ(pages.get("/api/work/none/events").status, 404);
  EXPECT_EQ(pages.get("/api/work/none/packet.pdf").status, 404);
  EXPECT_EQ(pages.ask("DELETE", "/api/work/none").status, 404);
}

TEST(Work, StoppingTheServerEndsOpenStreams) {
  auto pages = std::make_unique<Pages>();
  const Reply started = pages->ask("POST", "/api/work", order("spread", 100'000));
  const std::string path = started.body()["events"];
  std::vector<std::pair<std::string, json>> events;
  std::thread reader([&] { events = pages->events(path); });
  std::this_thread::sleep_for(std::chrono::milliseconds(300));
  pages->server().stop();
  reader.join();
  ASSERT_FALSE(events.empty());
  EXPECT_EQ(events.back().first, "stopped");
}

}  // namespace
}  // namespace propwright::server::test
