// The bench's records over HTTP: kept as typed, linked to each other, listed by a link.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

httplib::Headers if_match_of(const Reply& reply) {
  return {{"If-Match", reply.header("ETag")}};
}

std::string made(const Pages& pages, const std::string& kind, const json& content) {
  const Reply reply = pages.ask("POST", "/api/" + kind, content);
  EXPECT_EQ(reply.status, 201) << reply.text;
  return reply.body().value("id", "");
}

TEST(BenchRecords, AreMadeChangedArchivedAndRestored) {
  const Pages pages;
  const std::pair<const char*, const char*> tables[] = {
      {"rigs", "rig"},     {"stocks", "stock"}, {"batches", "batch"},        {"spars", "spar"},
      {"blades", "blade"}, {"hubs", "hub"},     {"propellers", "propeller"}, {"weights", "ledger"}};
  for (const auto& [kind, table] : tables) {
    // Texts, numbers, yes or no, lists and tables of these, as deep as a spar's states.
    const json section = {
        {table,
         {{"mass", "27.1 mg"},
          {"count", 2},
          {"glued", true},
          {"states", {{{"step", "as stripped"}, {"reading_0", {"352 thou", "351 thou"}}}}}}}};
    const std::string all = std::string("/api/") + kind;
    const Reply first = pages.ask("POST", all, {{"name", "One"}, {"section", section}});
    ASSERT_EQ(first.status, 201) << first.text;
    const std::string one = first.header("Location");
    EXPECT_EQ(pages.get(one).body()["section"], section);
    const Reply changed = pages.ask(
        "PUT", one, {{"name", "Two"}, {"section", {{table, json::object()}}}}, if_match_of(first));
    ASSERT_EQ(changed.status, 200) << changed.text;
    EXPECT_EQ(
        pages.ask("PUT", one, {{"name", "Three"}, {"section", section}}, if_match_of(first)).status,
        412);
    const Reply archived = pages.ask("POST", one + "/archive", nullptr, if_match_of(changed));
    EXPECT_EQ(pages.get(all).body()["total"], 0);
    EXPECT_EQ(pages.ask("POST", one + "/restore", nullptr, if_match_of(archived)).status, 200);
    EXPECT_EQ(pages.get(all + "?q=two").body()["total"], 1);
    const Reply foreign =
        pages.ask("POST", all, {{"name", "Four"}, {"section", {{"hall", json::object()}}}});
    EXPECT_EQ(foreign.status, 422);
    EXPECT_THAT(foreign.fields(), testing::ElementsAre("section.hall"));
  }
}

TEST(BenchRecords, LinksLeadFromTheSparToThePropellerWithItsHub) {
  const Pages pages;
  const json none = json::object();
  const std::string rig = made(pages, "rigs", {{"name", "Rig 2"}, {"section", {{"rig", none}}}});
  const std::string batch =
      made(pages, "batches",
           {{"name", "7"}, {"section", {{"batch", none}}}, {"links", {{"rig_id", rig}}}});
  const std::string spar_a =
      made(pages, "spars",
           {{"name", "5"}, {"section", {{"spar", none}}}, {"links", {{"batch_id", batch}}}});
  const std::string spar_b =
      made(pages, "spars",
           {{"name", "11"}, {"section", {{"spar", none}}}, {"links", {{"batch_id", batch}}}});
  const auto blade = [&](const std::string& spar) {
    return made(pages, "blades",
                {{"name", "B"}, {"section", {{"blade", none}}}, {"links", {{"spar_id", spar}}}});
  };
  const std::string a = blade(spar_a), b = blade(spar_b);
  const std::string hub = made(pages, "hubs", {{"name", "H"}, {"section", {{"hub", none}}}});
  const json links = {{"blade_a_id", a}, {"blade_b_id", b}, {"hub_id", hub}};
  const std::string propeller = made(
      pages, "propellers", {{"name", "P"}, {"section", {{"propeller", none}}}, {"links", links}});
  EXPECT_EQ(pages.get("/api/propellers/" + propeller).body()["links"], links);
  const Reply wrong = pages.ask(
      "POST", "/api/propellers",
      {{"name", "Q"}, {"section", {{"propeller", none}}}, {"links", {{"hub_id", "none"}}}});
  EXPECT_EQ(wrong.status, 422);
  EXPECT_THAT(wrong.fields(), testing::ElementsAre("hub_id"));
}

TEST(BenchRecords, SparsAreListedByTheirBatch) {
  const Pages pages;
  const auto batch = [&] {
    return made(pages, "batches", {{"name", "B"}, {"section", {{"batch", json::object()}}}});
  };
  const std::string one = batch(), two = batch();
  for (const std::string& id : {one, two, one}) {
    made(pages, "spars",
         {{"name", "S"}, {"section", {{"spar", json::object()}}}, {"links", {{"batch_id", id}}}});
  }
  EXPECT_EQ(pages.get("/api/spars").body()["total"], 3);
  EXPECT_EQ(pages.get("/api/spars?batch_id=" + one + "&limit=1000").body()["total"], 2);
  EXPECT_EQ(pages.get("/api/spars?batch_id=none").body()["total"], 0);
  const Reply wrong = pages.get("/api/halls?batch_id=" + one);
  EXPECT_EQ(wrong.status, 422);
  EXPECT_THAT(wrong.fields(), testing::ElementsAre("batch_id"));
  EXPECT_EQ(pages.get("/api/designs?batch_id=" + one).status, 422);
}

}  // namespace
}  // namespace propwright::server::test
