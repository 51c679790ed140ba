// The workshop over HTTP.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

httplib::Headers if_match(const Reply& reply) {
  return {{"If-Match", reply.header("ETag")}};
}

json hall(const std::string& name) {
  return {{"name", name}, {"section", {{"hall", {{"roof_height", "8.5 m"}}}}}};
}

TEST(Records, AreMadeReadChangedArchivedAndRestored) {
  const Pages pages;
  const json sections[] = {
      {{"hall", {{"roof_height", "8.5 m"}}}, {"air", {{"temperature", "20 degC"}}}},
      {{"model", {{"mass", "3 g"}}}, {"rules", {{"least_mass", "3 g"}}}},
      {{"rubber", {{"energy", "12 kJ/kg"}}}},
      {{"motor", {{"strands", 2}}}}};
  const char* const kinds[] = {"halls", "models", "rubbers", "motors"};
  for (std::size_t i = 0; i < 4; ++i) {
    const std::string all = std::string("/api/") + kinds[i];
    const Reply made = pages.ask("POST", all, {{"name", "One"}, {"section", sections[i]}});
    ASSERT_EQ(made.status, 201) << made.text;
    const std::string one = made.header("Location");
    const Reply got = pages.get(one);
    EXPECT_EQ(got.body()["section"], sections[i]);
    EXPECT_EQ(got.header("ETag"), made.header("ETag"));
    const Reply changed =
        pages.ask("PUT", one, {{"name", "Two"}, {"section", sections[i]}}, if_match(got));
    ASSERT_EQ(changed.status, 200) << changed.text;
    EXPECT_EQ(changed.body()["name"], "Two");
    const Reply archived = pages.ask("POST", one + "/archive", nullptr, if_match(changed));
    EXPECT_TRUE(archived.body()["archived"]);
    EXPECT_EQ(pages.get(all).body()["total"], 0);
    EXPECT_EQ(pages.get(all + "?archived=true").body()["total"], 1);
    const Reply restored = pages.ask("POST", one + "/restore", nullptr, if_match(archived));
    EXPECT_FALSE(restored.body()["archived"]);
    EXPECT_EQ(pages.get(all + "?q=two").body()["total"], 1);
  }
}

TEST(Records, StaleWriteChangesNothingAndShowsThePresent) {
  const Pages pages;
  const Reply made = pages.ask("POST", "/api/halls", hall("First"));
  const std::string one = made.header("Location");
  ASSERT_EQ(pages.ask("PUT", one, hall("Second"), if_match(made)).status, 200);
  const Reply stale = pages.ask("PUT", one, hall("Third"), if_match(made));
  ASSERT_EQ(stale.status, 412);
  EXPECT_EQ(stale.body()["present"]["name"], "Second");
  EXPECT_EQ(pages.get(one).body()["name"], "Second");
  EXPECT_EQ(pages.ask("POST", one + "/archive", nullptr, if_match(made)).status, 412);
  EXPECT_EQ(pages.ask("PUT", one, hall("Third"), {{"If-Match", "\"nonsense\""}}).status, 412);
  EXPECT_EQ(pages.ask("PUT", one, hall("Third")).status, 428);
  EXPECT_EQ(pages.ask("PUT", one, hall("Third"), {{"If-Match", "*"}}).status, 428);
}

TEST(Records, TwoWritersNeverOverwriteEachOther) {
  const Pages pages;
  const std::string one = pages.ask("POST", "/api/halls", hall("0")).header("Location");
  // Each adds one to the number in the name until forty of its writes have gone through.
  const auto write = [&] {
    for (int written = 0; written < 40;) {
      const Reply read = pages.get(one);
      const int number = std::stoi(read.body()["name"].get<std::string>());
      const Reply reply = pages.ask("PUT", one, hall(std::to_string(number + 1)), if_match(read));
      if (reply.status == 200) ++written;
    }
  };
  std::thread other(write);
  write();
  other.join();
  EXPECT_EQ(pages.get(one).body()["name"], "80");
}

TEST(Records, BadContentIsToldByMember) {
  const Pages pages;
  const Reply reply =
      pages.ask("POST", "/api/halls",
                {{"name", 5}, {"section", {{"motor", json::object()}, {"hall", 3}}}, {"links", 4}});
  ASSERT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(),
              testing::UnorderedElementsAre("name", "section.motor", "section.hall", "links"));
  EXPECT_EQ(pages.ask("POST", "/api/halls", {{"name", " "}, {"section", json::object()}}).status,
            422);
  EXPECT_EQ(pages.ask("POST", "/api/halls", {{"nam", "A"}}).status, 422);
  EXPECT_EQ(pages.send("POST", "/api/halls", "[]").status, 422);
}

TEST(Records, BadQueriesAreTold) {
  const Pages pages;
  const Reply reply = pages.get("/api/designs?limit=-1&offset=x&archived=maybe");
  ASSERT_EQ(reply.status, 422);
  EXPECT_EQ(reply.fields(), (std::vector<std::string>{"limit", "offset", "archived"}));
  EXPECT_EQ(pages.get("/api/designs?sort=colour").status, 422);
  EXPECT_EQ(pages.get("/api/designs?sort=-updated_at&limit=0").status, 200);
  EXPECT_EQ(pages.get("/api/designs?sort=duration_s").status, 200);
}

TEST(Records, UnknownIdIsNotFound) {
  const Pages pages;
  const httplib::Headers first{{"If-Match", "\"1\""}};
  for (const std::string one : {"/api/halls/none", "/api/designs/none"}) {
    EXPECT_EQ(pages.get(one).status, 404);
    EXPECT_EQ(pages.ask("POST", one + "/archive", nullptr, first).status, 404);
    EXPECT_EQ(pages.ask("POST", one + "/restore", nullptr, first).status, 404);
  }
  EXPECT_EQ(pages.ask("PUT", "/api/halls/none", hall("A"), first).status, 404);
  EXPECT_EQ(pages.ask("PUT", "/api/designs/none", {{"name", "A"}, {"document", document()}}, first)
                .status,
            404);
  EXPECT_EQ(pages.ask("POST", "/api/designs/none/built", {{"version", 1}}, first).status, 404);
  EXPECT_EQ(pages.ask("POST", "/api/designs/none/duplicate", {{"name", "B"}}).status, 404);
  EXPECT_EQ(pages.get("/api/designs/none/versions/1").status, 404);
  EXPECT_EQ(pages.send("GET", "/api/nothing", "").status, 404);
}

TEST(Designs, CarryTheFiguresOfTheirFlight) {
  const Pages pages;
  const Reply made = pages.ask("POST", "/api/designs",
                               {{"name", "L46-A"}, {"document", document()}, {"note", "first"}});
  ASSERT_EQ(made.status, 201) << made.text;
  const json flight = pages.ask("POST", "/api/flight", document()).body();
  EXPECT_NEAR(made.body()["duration_s"], flight["duration_s"], 0.001);
  EXPECT_EQ(made.body()["hall"], "Millbrook sports hall");
  EXPECT_EQ(made.body()["note"], "first");
  EXPECT_EQ(pages.get("/api/designs").body()["items"][0]["diameter_m"], 0.39);
}

TEST(Designs, UnfinishedOnesAreKeptWithoutFigures) {
  const Pages pages;
  const Reply made =
      pages.ask("POST", "/api/designs",
                {{"name", "Idea"}, {"document", {{"job", {{"hall", {{"name", "Barn"}}}}}}}});
  ASSERT_EQ(made.status, 201) << made.text;
  EXPECT_TRUE(made.body()["duration_s"].is_null());
  EXPECT_EQ(made.body()["hall"], "Barn");
}

TEST(Designs, BuiltVersionStandsFast) {
  const Pages pages;
  json body{{"name", "A"}, {"document", document()}};
  const Reply made = pages.ask("POST", "/api/designs", body);
  const std::string one = made.header("Location");
  const Reply same = pages.ask("PUT", one, body, if_match(made));
  ASSERT_EQ(same.status, 200) << same.text;
  EXPECT_FALSE(same.body()["new_version"]);
  const Reply built = pages.ask("POST", one + "/built", {{"version", 1}}, if_match(same));
  ASSERT_EQ(built.status, 200) << built.text;
  EXPECT_TRUE(built.body()["built"]);
  body["document"]["job"]["propeller"]["pitch"] = "700 mm";
  const Reply next = pages.ask("PUT", one, body, if_match(built));
  EXPECT_TRUE(next.body()["new_version"]);
  EXPECT_EQ(next.body()["version"], 2);
  const Reply third = pages.ask("POST", one + "/versions", body, if_match(next));
  EXPECT_EQ(third.body()["versions"].size(), 3);
  EXPECT_EQ(pages.ask("PUT", one, body, if_match(next)).status, 412);
  const json first = pages.get(one + "/versions/1").body();
  EXPECT_EQ(first["document"]["job"]["propeller"]["pitch"], "780 mm");
  EXPECT_FALSE(first["built_at"].is_null());
  EXPECT_EQ(pages.get(one + "/versions/9").status, 404);
  EXPECT_EQ(pages.ask("POST", one + "/built", {{"version", "one"}}, if_match(third)).status, 422);
}

TEST(Designs, DuplicateStartsAnew) {
  const Pages pages;
  const Reply made = pages.ask("POST", "/api/designs", {{"name", "A"}, {"document", document()}});
  const Reply copy = pages.ask("POST", made.header("Location") + "/duplicate", {{"name", "B"}});
  ASSERT_EQ(copy.status, 201) << copy.text;
  EXPECT_EQ(copy.body()["copied_from"], made.body()["id"]);
  EXPECT_EQ(copy.body()["document"], made.body()["document"]);
  EXPECT_EQ(pages.ask("POST", made.header("Location") + "/duplicate", {{"nme", "B"}}).status, 422);
}

TEST(Designs, BadDocumentsAreToldByMember) {
  const Pages pages;
  const Reply reply =
      pages.ask("POST", "/api/designs",
                {{"name", "A"},
                 {"document", {{"job", 1}, {"extra", 1}, {"attachments", {{"polar_csv", 1}}}}}});
  ASSERT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(), testing::UnorderedElementsAre("document.job", "document.extra",
                                                            "document.attachments.polar_csv"));
}

TEST(WorkshopFile, ExportGoesIntoAnotherWorkshopWhole) {
  const Pages from;
  from.ask("POST", "/api/halls", hall("Barn"));
  from.ask("POST", "/api/designs", {{"name", "A"}, {"document", document()}});
  const Reply all = from.get("/api/workshop/export");
  ASSERT_EQ(all.status, 200);
  const Pages into;
  const Reply report = into.send("POST", "/api/workshop/import", all.text);
  ASSERT_EQ(report.status, 200) << report.text;
  EXPECT_EQ(report.body()["added"]["designs"], 1);
  EXPECT_EQ(into.get("/api/workshop/export").text, all.text);
  EXPECT_GE(into.send("POST", "/api/workshop/import", all.text).body()["skipped"], 2);
}

TEST(WorkshopFile, BadImportIsToldAndChangesNothing) {
  const Pages pages;
  EXPECT_EQ(pages.send("POST", "/api/workshop/import", "{").status, 400);
  EXPECT_EQ(pages.send("POST", "/api/workshop/import", "{\"halls\": 3}").status, 422);
  const std::string large = "{\"a\": \"" + std::string(9 << 20, 'a') + "\"}";
  EXPECT_EQ(pages.send("POST", "/api/workshop/import", large).status, 413);
  EXPECT_EQ(pages.get("/api/halls").body()["total"], 0);
}

}  // namespace
}  // namespace propwright::server::test
