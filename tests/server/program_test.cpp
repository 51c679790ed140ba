// The program's own routes, its guard and its pages.
#include <gtest/gtest.h>

#include <algorithm>

#include "pages.h"
#include "propwright/units/units.h"

namespace propwright::server::test {
namespace {

TEST(Program, IsUpAndNamesItsWorkshop) {
  const Pages pages;
  const Reply reply = pages.get("/api/health");
  ASSERT_EQ(reply.status, 200);
  EXPECT_EQ(reply.body()["status"], "ready");
  EXPECT_EQ(reply.body()["workshop"], "in memory");
}

TEST(Program, ServesItsDescription) {
  const Pages pages;
  const Reply reply = pages.get("/api/openapi.yaml");
  ASSERT_EQ(reply.status, 200);
  EXPECT_EQ(YAML::Load(reply.text)["openapi"].as<std::string>(), "3.1.0");
}

TEST(Program, EveryFieldIsShownInUnitsThatAJobMayUse) {
  const Pages pages;
  const json fields = pages.get("/api/fields").body()["fields"];
  ASSERT_GT(fields.size(), 90);
  for (const json& field : fields) {
    if (field["low"].is_null() || field["kind"] == "integer") continue;
    for (const char* profile : {"metric", "inch"}) {
      const double factor = field["factor"][profile];
      EXPECT_GT(factor, 0) << field["field"];
      EXPECT_GT(field["step"][profile], 0) << field["field"];
      const std::string unit = field["unit"][profile];
      if (field["kind"] != "length") continue;
      const auto read = units::parse("1 " + unit, units::Dimension::length);
      ASSERT_TRUE(read) << field["field"] << " " << unit;
      EXPECT_NEAR(*read * factor, 1, 1e-12) << field["field"];
    }
  }
}

TEST(Program, EveryExampleFlies) {
  const Pages pages;
  const json examples = pages.get("/api/examples").body();
  ASSERT_EQ(examples.size(), 3);
  for (const json& example : examples) {
    EXPECT_EQ(pages.ask("POST", "/api/flight", example["document"]).status, 200) << example["id"];
  }
}

TEST(Program, TheExampleFlightsAreOfTheJobsThatComeWithThem) {
  const Pages pages;
  const json log = pages.get("/api/examples/flights").body();
  EXPECT_EQ(log["flights"].size(), 40);
  ASSERT_EQ(log["designs"].size(), 2);
  for (const json& design : log["designs"]) {
    EXPECT_EQ(pages.ask("POST", "/api/flight", design["document"]).status, 200) << design["id"];
    const auto flown =
        std::count_if(log["flights"].begin(), log["flights"].end(), [&](const json& flight) {
          return flight["propeller"] == design["document"]["job"]["propeller"]["name"];
        });
    EXPECT_EQ(flown, 20) << design["id"];
  }
  EXPECT_EQ(pages.get("/api/flights").body()["total"], 0);
}

TEST(Program, PutsExamplesIntoAnEmptyWorkshopOnly) {
  Pages pages;
  EXPECT_EQ(pages.server().add_examples().value(), 3);
  EXPECT_EQ(pages.server().add_examples().value(), 0);
  EXPECT_EQ(pages.get("/api/designs").body()["total"], 3);
}

TEST(Program, HasNoAccessCodeForThisMachineAlone) {
  const Pages pages;
  EXPECT_EQ(pages.ask("POST", "/api/access", {{"code", "x"}}).status, 404);
}

TEST(Guard, AnotherHostNameIsTurnedAway) {
  const Pages pages;
  EXPECT_EQ(pages.get("/api/health", {{"Host", "rebound.example:80"}}).status, 403);
  EXPECT_EQ(pages.get("/api/health", {{"Host", "127.0.0.1:1"}}).status, 403);
  EXPECT_EQ(pages.get("/", {{"Host", "rebound.example"}}).status, 403);
  const std::string port = pages.host().substr(pages.host().find(':'));
  EXPECT_EQ(pages.get("/api/health", {{"Host", "localhost" + port}}).status, 200);
}

TEST(Guard, AnotherSitesPageIsTurnedAway) {
  const Pages pages;
  const json design{{"name", "A"}, {"document", document()}};
  EXPECT_EQ(pages.ask("POST", "/api/designs", design, {{"Origin", "http://other.example"}}).status,
            403);
  EXPECT_EQ(pages.ask("POST", "/api/designs", design, {{"Origin", "null"}}).status, 403);
  EXPECT_EQ(pages.get("/api/designs", {{"Sec-Fetch-Site", "cross-site"}}).status, 403);
  EXPECT_EQ(pages.get("/api/designs").body()["total"], 0);
  EXPECT_EQ(
      pages.ask("POST", "/api/designs", design, {{"Origin", "http://" + pages.host()}}).status,
      201);
}

TEST(Guard, WhatIsNotJsonIsTurnedAway) {
  const Pages pages;
  EXPECT_EQ(pages.send("POST", "/api/flight", "job=x", {}, "text/plain").status, 415);
  EXPECT_EQ(
      pages.send("POST", "/api/flight", "{\"job\": {}}", {}, "application/x-www-form-urlencoded")
          .status,
      415);
}

TEST(Guard, BrokenDeepAndLargeBodiesAreTurnedAway) {
  const Pages pages;
  EXPECT_EQ(pages.send("POST", "/api/flight", "{\"job\": ").status, 400);
  EXPECT_EQ(pages.send("POST", "/api/flight", "{\"job\": \"\xff\"}").status, 400);
  const std::string deep = std::string(200'000, '[') + std::string(200'000, ']');
  EXPECT_EQ(pages.send("POST", "/api/flight", deep).status, 400);
  EXPECT_EQ(pages.send("POST", "/api/flight", "\"" + std::string(2 << 20, 'a') + "\"").status, 413);
  EXPECT_EQ(pages.get("/api/health").status, 200);
}

TEST(Guard, EveryAnswerCarriesTheHeaders) {
  const Pages pages;
  for (const char* path : {"/", "/api/health", "/api/none"}) {
    const Reply reply = pages.send("GET", path, "");
    EXPECT_NE(reply.header("Content-Security-Policy").find("default-src 'none'"),
              std::string::npos);
    EXPECT_EQ(reply.header("X-Content-Type-Options"), "nosniff") << path;
    EXPECT_EQ(reply.header("Referrer-Policy"), "no-referrer") << path;
    EXPECT_EQ(reply.header("Access-Control-Allow-Origin"), "") << path;
  }
}

TEST(PageFiles, EveryPlaceIsTheOneDocument) {
  const Pages pages;
  const Reply home = pages.send("GET", "/", "");
  ASSERT_EQ(home.status, 200);
  EXPECT_EQ(home.header("Cache-Control"), "no-cache");
  for (const char* place : {"/brief", "/blade", "/designs"}) {
    EXPECT_EQ(pages.send("GET", place, "").text, home.text) << place;
  }
  EXPECT_EQ(pages.send("GET", "/assets/none.js", "").status, 404);
  EXPECT_EQ(pages.send("GET", "/../../etc/passwd", "").text, home.text);  // no way to the disk
}

TEST(PageFiles, AssetsAreKeptForEverAndComeCompressed) {
  const Pages pages;
  const std::string home = pages.send("GET", "/", "").text;
  const auto at = home.find("/assets/");
  ASSERT_NE(at, std::string::npos);
  const std::string asset = home.substr(at, home.find('"', at) - at);
  const Reply plain = pages.send("GET", asset, "");
  EXPECT_NE(plain.header("Cache-Control").find("immutable"), std::string::npos);
  EXPECT_EQ(plain.header("Content-Encoding"), "");
  const Reply small = pages.send("GET", asset, "", {{"Accept-Encoding", "gzip"}});
  EXPECT_EQ(small.header("Content-Encoding"), "gzip");
  EXPECT_EQ(small.text, plain.text);  // the client unpacks it
}

TEST(Lan, ThisMachineNeedsNoCode) {
  Options options;
  options.lan = true;
  Pages pages(options);
  EXPECT_EQ(pages.server().access_code().size(), 9);
  EXPECT_EQ(pages.get("/api/designs").status, 200);
}

TEST(Lan, CodeIsExchangedOnceForACookie) {
  Options options;
  options.lan = true;
  Pages pages(options);
  const std::string code = pages.server().access_code();
  EXPECT_EQ(pages.ask("POST", "/api/access", {{"code", "nonsense"}}).status, 401);
  const Reply reply = pages.ask("POST", "/api/access", {{"code", code}});
  ASSERT_EQ(reply.status, 204);
  EXPECT_NE(reply.header("Set-Cookie").find("HttpOnly; SameSite=Strict"), std::string::npos);
  EXPECT_NE(pages.server().access_code(), code);
  EXPECT_EQ(pages.ask("POST", "/api/access", {{"code", code}}).status, 401);
}

TEST(Lan, GuessingIsSlowedDown) {
  Options options;
  options.lan = true;
  Pages pages(options);
  for (int i = 0; i < 5; ++i) {
    EXPECT_EQ(pages.ask("POST", "/api/access", {{"code", "ABCDEFGH"}}).status, 401);
  }
  const Reply reply = pages.ask("POST", "/api/access", {{"code", pages.server().access_code()}});
  EXPECT_EQ(reply.status, 429);
  EXPECT_EQ(reply.header("Retry-After"), "60");
}

TEST(Port, TakenOneIsAProblem) {
  Pages pages;
  Options options;
  options.port = pages.server().port();
  const auto second = Server::listen(workshop::Workshop::in_memory().value(), options);
  ASSERT_FALSE(second);
  EXPECT_EQ(second.error().front().kind, base::Kind::resource_failed);
  EXPECT_EQ(second.error().front().field, "--port");
}

TEST(QrText, IsSquareWithAMargin) {
  const std::string text = qr_text("http://192.168.1.20:8737/?code=KQ7M2XPD");
  std::istringstream lines(text);
  std::string line;
  std::size_t rows = 0;
  while (std::getline(lines, line)) ++rows;
  // Version 3 of the code, 29 squares for up to 53 bytes (ISO/IEC 18004, table 7), and 4 of margin.
  EXPECT_EQ(rows, (29 + 4 + 1) / 2);
}

}  // namespace
}  // namespace propwright::server::test
