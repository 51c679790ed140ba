#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "pages.h"

namespace propwright::server::test {
namespace {

using testing::Contains;

json form_body(const char* kind, const char* example = "lantern46") {
  json body = document(example);
  body["wishes"] = {{"kind", kind}};
  return body;
}

// Each answer is held against docs/openapi.yaml by Pages::ask.
TEST(Form, OfEveryKindHasItsSceneAndDrawings) {
  const Pages pages;
  for (const char* example : {"lantern46", "sparrow16", "heron55"}) {
    for (const char* kind : {"templates", "block", "ribbed", "solid", "cylinder"}) {
      const Reply reply = pages.ask("POST", "/api/form", form_body(kind, example));
      ASSERT_EQ(reply.status, 200) << example << " " << kind << reply.text;
      const json form = reply.body();
      EXPECT_EQ(form["kind"], kind);
      EXPECT_GT(form["scene"].size(), 3) << kind;
      EXPECT_GT(form["surface"]["rows"].size(), 20);
      EXPECT_GT(form["drawings"].size(), 3) << kind;
      EXPECT_EQ(form["pattern_map"]["strain"].size(), form["pattern_map"]["triangles"].size());
    }
  }
}

// The blade lies on the tops of the ribs: every rib reaches the spar line's height at its radius.
TEST(Form, RibsReachTheSurface) {
  const Pages pages;
  const json form = pages.ask("POST", "/api/form", form_body("ribbed")).body();
  int ribs = 0;
  for (const json& part : form["scene"]) {
    if (part["part"] != "rib") continue;
    ++ribs;
    double highest = -1, lowest = 1;
    for (const json& point : part["points_m"]) {
      EXPECT_NEAR(point[0], part["radius_m"], 1e-6);
      highest = std::max(highest, point[2].get<double>());
      lowest = std::min(lowest, point[2].get<double>());
    }
    EXPECT_GT(highest, 0);
    // Tabs go through the base.
    EXPECT_LE(lowest, form["base_z_m"].get<double>() + 1e-6);
  }
  EXPECT_GE(ribs, 8);
}

TEST(Form, AGaugeCardIsDrawnForAnyRadiusOnTheBlade) {
  const Pages pages;
  json body = form_body("templates");
  body["wishes"]["gauge_radius"] = "90 mm";
  const json form = pages.ask("POST", "/api/form", body).body();
  bool found = false;
  for (const json& drawing : form["drawings"]) {
    found = found || drawing["name"] == "gauge-card-90mm";
  }
  EXPECT_TRUE(found);
  body["wishes"]["gauge_radius"] = "300 mm";
  const Reply off = pages.ask("POST", "/api/form", body);
  EXPECT_EQ(off.status, 422);
  EXPECT_THAT(off.fields(), Contains("gauge_radius"));
}

// Of the shelf's own and the program's, the one whose camber comes nearest; any of them by its
// name.
TEST(Form, CylindersAreThoseOfTheShelfToo) {
  const Pages pages;
  const json mine = {{"name", "Oat tin"}, {"section", {{"cylinder", {{"diameter", "190 mm"}}}}}};
  ASSERT_EQ(pages.ask("POST", "/api/cylinders", mine).status, 201);
  json body = form_body("cylinder");
  // A flatter blade than any of the program's cylinders gives, which end at 160 mm.
  body["job"]["propeller"]["camber"] = 0.05;
  EXPECT_EQ(pages.ask("POST", "/api/form", body).body()["cylinder"]["name"], "Oat tin");
  body["wishes"]["cylinder"] = "tube 4 in";
  EXPECT_NEAR(pages.ask("POST", "/api/form", body).body()["cylinder"]["diameter_m"], 0.1016, 1e-9);
  body["wishes"]["cylinder"] = "no such tin";
  EXPECT_THAT(pages.ask("POST", "/api/form", body).fields(), Contains("wishes.cylinder"));
}

TEST(Form, EveryWrongWishIsNamed) {
  const Pages pages;
  json body = form_body("clay");
  body["wishes"]["strain_limit"] = "90 %";
  body["wishes"]["slice_step"] = 3;
  body["wishes"]["colour"] = "red";
  const Reply reply = pages.ask("POST", "/api/form", body);
  ASSERT_EQ(reply.status, 422);
  for (const char* field :
       {"wishes.kind", "wishes.strain_limit", "wishes.slice_step", "wishes.colour"}) {
    EXPECT_THAT(reply.fields(), Contains(field));
  }
}

// 580 mm made, set to 47 degrees at 90 mm: the pitch there is 2 pi 90 tan(47) = 606.4 mm.
TEST(Reset, TellsThePitchAlongTheBlade) {
  const Pages pages;
  const Reply reply = pages.ask(
      "POST", "/api/form/reset",
      {{"made_on", "580 mm"}, {"at", "90 mm"}, {"angle", "47 deg"}, {"radii", {"90 mm"}}});
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_NEAR(reply.body()["stations"][0]["pitch_m"], 0.6064, 5e-5);
  const Reply half = pages.ask("POST", "/api/form/reset", {{"made_on", "580 mm"}});
  EXPECT_EQ(half.status, 422);
  EXPECT_THAT(half.fields(), Contains("at"));
  EXPECT_THAT(half.fields(), Contains("angle"));
}

TEST(FormFiles, EachIsMadeAndFetched) {
  const Pages pages;
  const std::pair<const char*, const char*> files[] = {{"pdf", "%PDF"},
                                                       {"svg", "<?xml"},
                                                       {"dxf", "0\nSECTION"},
                                                       {"3mf", "PK"},
                                                       {"step", "ISO-10303-21"}};
  for (const auto& [file, begins] : files) {
    json body = form_body("ribbed");
    body["kind"] = "form";
    body["file"] = file;
    const Reply started = pages.ask("POST", "/api/work", body);
    ASSERT_EQ(started.status, 202) << started.text;
    const auto events = pages.events(started.body()["events"]);
    ASSERT_EQ(events.back().first, "done") << file << events.back().second;
    const json result = events.back().second["result"];
    const Reply got = pages.get(result["file"]);
    ASSERT_EQ(got.status, 200);
    EXPECT_EQ(got.text.size(), result["size_bytes"]) << file;
    EXPECT_NE(got.text.substr(0, 80).find(begins), std::string::npos) << file;
  }
}

// A binary STL is 84 bytes and 50 for each triangle, as its own count says.
TEST(FormFiles, StlIsAsLongAsItsCountSays) {
  const Pages pages;
  json body = form_body("solid");
  body["kind"] = "form";
  body["file"] = "stl";
  const auto events = pages.events(pages.ask("POST", "/api/work", body).body()["events"]);
  const std::string bytes = pages.get(events.back().second["result"]["file"]).text;
  ASSERT_GT(bytes.size(), 84);
  std::uint32_t count = 0;
  for (int i = 3; i >= 0; --i) count = count << 8 | static_cast<unsigned char>(bytes[80 + i]);
  EXPECT_EQ(bytes.size(), 84 + 50u * count);
  // Split for a small printer, both halves are in the one file: more triangles, by the cut's faces.
  body["wishes"]["printer_bed"] = "120 mm";
  const auto split = pages.events(pages.ask("POST", "/api/work", body).body()["events"]);
  EXPECT_GT(pages.get(split.back().second["result"]["file"]).text.size(), bytes.size());
}

}  // namespace
}  // namespace propwright::server::test
