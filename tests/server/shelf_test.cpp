// The form shelf over HTTP: forms, cylinders, and the blades made on them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"
#include "propwright/answer/shelf.h"

namespace propwright::server::test {
namespace {

using testing::UnorderedElementsAre;

json form(const json& table, const std::string& name = "Carved") {
  return {{"name", name}, {"section", {{"form", table}}}};
}

json cylinder(const json& table, const std::string& name = "Tea tin") {
  return {{"name", name}, {"section", {{"cylinder", table}}}};
}

const json carved{{"kind", "block"},        {"pitch", "30 in"},       {"pitch_radius", "150 mm"},
                  {"from_radius", "20 mm"}, {"to_radius", "250 mm"},  {"width", "3 in"},
                  {"camber", "6 %"},        {"camber_overbend", 1.2}, {"angle_overbend", 1.05},
                  {"hand", "clockwise"},    {"notes", "balsa, waxed"}};

std::vector<std::string> names(const json& page) {
  std::vector<std::string> all;
  for (const json& item : page.at("items")) all.push_back(item.at("name"));
  return all;
}

TEST(Shelf, FormComesBackAsWrittenWithItsFiguresInSi) {
  const Pages pages;
  const Reply made = pages.ask("POST", "/api/forms", form(carved));
  ASSERT_EQ(made.status, 201) << made.text;
  const json record = pages.get(made.header("Location")).body();
  EXPECT_EQ(record["section"]["form"], carved);
  EXPECT_FALSE(record["built_in"]);
  EXPECT_EQ(record["figures"], json({{"pitch_m", 0.762},
                                     {"pitch_radius_m", 0.15},
                                     {"from_radius_m", 0.02},
                                     {"to_radius_m", 0.25},
                                     {"width_m", 0.0762},
                                     {"camber", 0.06},
                                     {"camber_overbend", 1.2},
                                     {"angle_overbend", 1.05}}));
  EXPECT_EQ(names(pages.get("/api/forms?q=carved").body()), std::vector<std::string>{"Carved"});
}

TEST(Shelf, EachWrongFieldOfAFormIsTold) {
  const Pages pages;
  const Reply reply = pages.ask("POST", "/api/forms",
                                form({{"kind", "block"},
                                      {"pitch", "30"},
                                      {"width", "3 kg"},
                                      {"camber", "60 %"},
                                      {"hand", "left"},
                                      {"diameter", "4 in"},
                                      {"from_radius", "200 mm"},
                                      {"to_radius", "100 mm"},
                                      {"notes", 5},
                                      {"colour", "red"}}));
  ASSERT_EQ(reply.status, 422);
  EXPECT_THAT(
      reply.fields(),
      UnorderedElementsAre("section.form.pitch", "section.form.width", "section.form.camber",
                           "section.form.hand", "section.form.diameter", "section.form.to_radius",
                           "section.form.notes", "section.form.colour"));
  EXPECT_EQ(pages.get("/api/forms").body()["total"], 0);
}

TEST(Shelf, AFormNeedsWhatItsKindIsMadeOf) {
  const Pages pages;
  const auto fields_of = [&](const json& table) {
    return pages.ask("POST", "/api/forms", form(table)).fields();
  };
  EXPECT_THAT(fields_of(json::object()), UnorderedElementsAre("section.form.kind"));
  for (const char* kind : {"block", "ribbed", "solid"}) {
    EXPECT_THAT(fields_of({{"kind", kind}}), UnorderedElementsAre("section.form.pitch")) << kind;
  }
  EXPECT_THAT(fields_of({{"kind", "cylinder"}, {"pitch", "30 in"}}),
              UnorderedElementsAre("section.form.diameter", "section.form.pitch"));
  EXPECT_EQ(pages.ask("POST", "/api/forms", form({{"kind", "other"}})).status, 201);
  EXPECT_THAT(
      pages.ask("POST", "/api/forms", {{"name", "A"}, {"section", json::object()}}).fields(),
      UnorderedElementsAre("section.form"));
}

TEST(Shelf, CylindersAreTheUsersFirstAndThenTheProgramsOwn) {
  const Pages pages;
  const std::size_t common = answer::built_in_cylinders().size();
  ASSERT_GE(common, 10u);
  const Reply made =
      pages.ask("POST", "/api/cylinders", cylinder({{"diameter", "98.5 mm"}, {"wall", "8 thou"}}));
  ASSERT_EQ(made.status, 201) << made.text;
  EXPECT_NEAR(made.body()["figures"]["wall_m"].get<double>(), 0.008 * 0.0254, 1e-12);
  const json all = pages.get("/api/cylinders").body();
  EXPECT_EQ(all["total"], common + 1);
  ASSERT_EQ(all["items"].size(), common + 1);
  EXPECT_EQ(all["items"][0]["name"], "Tea tin");
  for (std::size_t i = 0; i < common; ++i) {
    const json& item = all["items"][i + 1];
    EXPECT_TRUE(item["built_in"]);
    EXPECT_GT(item["figures"]["diameter_m"].get<double>(), 0.01);
  }
  // A page of the list is the same piece of it.
  const json piece = pages.get("/api/cylinders?offset=1&limit=3").body();
  EXPECT_EQ(piece["total"], common + 1);
  ASSERT_EQ(piece["items"].size(), 3u);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(piece["items"][i], all["items"][i + 1]);
  EXPECT_EQ(names(pages.get("/api/cylinders?q=TUBE%203").body()),
            std::vector<std::string>{"tube 3 in"});
  EXPECT_EQ(pages.get("/api/cylinders?archived=true").body()["total"], 0);
}

TEST(Shelf, CylindersOfTheProgramStandFast) {
  const Pages pages;
  const std::string one = "/api/cylinders/built-in-tube-3-in";
  const Reply read = pages.get(one);
  ASSERT_EQ(read.status, 200) << read.text;
  EXPECT_EQ(read.body()["figures"]["diameter_m"], 0.0762);
  const httplib::Headers match{{"If-Match", read.header("ETag")}};
  EXPECT_EQ(pages.ask("PUT", one, cylinder({{"diameter", "3 in"}}), match).status, 422);
  EXPECT_EQ(pages.ask("POST", one + "/archive", nullptr, match).status, 422);
  EXPECT_EQ(pages.get("/api/cylinders/built-in-none").status, 404);
  EXPECT_EQ(pages.get("/api/forms/built-in-tube-3-in").status, 404);
}

TEST(Shelf, CylinderNeedsADiameterThatCanBe) {
  const Pages pages;
  EXPECT_THAT(pages.ask("POST", "/api/cylinders", cylinder({{"wall", "1 m"}})).fields(),
              UnorderedElementsAre("section.cylinder.wall", "section.cylinder.diameter"));
}

TEST(Shelf, ShapeTakesWhatStandsOnItWhenAsked) {
  const Pages pages;
  json mirrored = carved, own = carved;
  own["hand"] = "anticlockwise";
  ASSERT_EQ(document()["job"]["propeller"].value("hand", "anticlockwise"), "anticlockwise");
  pages.ask("POST", "/api/forms", form(own, "Old block"));
  pages.ask("POST", "/api/forms", form(mirrored, "Mirrored"));
  pages.ask("POST", "/api/forms", form({{"kind", "other"}}, "Wreck"));
  pages.ask("POST", "/api/forms", form({{"kind", "cylinder"}, {"diameter", "100 mm"}}, "Drum"));
  const Reply gone = pages.ask("POST", "/api/forms", form(own, "Sold"));
  pages.ask("POST", gone.header("Location") + "/archive", nullptr,
            {{"If-Match", gone.header("ETag")}});
  pages.ask("POST", "/api/cylinders", cylinder({{"diameter", "98.5 mm"}}));

  json body = document();
  body["wishes"] = {{"shelf", true}};
  const Reply reply = pages.ask("POST", "/api/shape", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json shape = reply.body();
  std::vector<std::string> made;
  for (const json& blade : shape["makeable"]) made.push_back(blade["name"]);
  EXPECT_EQ(made, (std::vector<std::string>{"", "Old block", "Drum", "Tea tin"}));
  const json& block = shape["makeable"][1];
  EXPECT_EQ(block["form_pitch_m"], 0.762);
  // 6 % on the form, so much over-bent that the blade keeps 6 %/1.2.
  EXPECT_NEAR(block["camber"].get<double>(), 0.05, 1e-12);
  EXPECT_THAT(block["label"].get<std::string>(), testing::HasSubstr("Old block (762 mm)"));
  EXPECT_THAT(shape["notes"], testing::Contains("Mirrored: its blades turn the other way"));
  EXPECT_THAT(shape["notes"], testing::Contains("Wreck is left out: it has no pitch"));

  body["wishes"] = {{"shelf", false}, {"cylinders", {"tea TIN", "tube 4 in", "4 in"}}};
  const json named = pages.ask("POST", "/api/shape", body).body();
  ASSERT_EQ(named["makeable"].size(), 4u);
  EXPECT_EQ(named["makeable"][1]["cylinder_diameter_m"], 0.0985);
  EXPECT_EQ(named["makeable"][2]["cylinder_diameter_m"], 0.1016);
  EXPECT_EQ(named["makeable"][2]["efficiency"], named["makeable"][3]["efficiency"]);
  body["wishes"] = {{"cylinders", {"tee tin"}}};
  const Reply unknown = pages.ask("POST", "/api/shape", body);
  EXPECT_EQ(unknown.status, 422);
  EXPECT_EQ(unknown.fields(), std::vector<std::string>{"wishes.cylinders[1]"});
  EXPECT_THAT(unknown.text, testing::HasSubstr("did you mean Tea tin"));
}

}  // namespace
}  // namespace propwright::server::test
