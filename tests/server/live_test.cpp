#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

using testing::Contains;

TEST(Flight, IsWhatThePredictionSays) {
  const Pages pages;
  for (const char* example : {"lantern46", "sparrow16", "heron55"}) {
    const Reply reply = pages.ask("POST", "/api/flight", document(example));
    ASSERT_EQ(reply.status, 200) << reply.text;
    const json flight = reply.body();
    EXPECT_GT(flight["duration_s"], 60);
    EXPECT_LE(flight["history"]["time_s"].size(), 121);
    EXPECT_EQ(flight["phases"].size(), 3);
    EXPECT_TRUE(flight["headline"]["sigma_s"].is_null());
  }
}

TEST(Flight, FallGoesFromTheBoundToTheFlight) {
  const Pages pages;
  for (const char* example : {"lantern46", "sparrow16", "heron55"}) {
    const json flight = pages.ask("POST", "/api/flight", document(example)).body();
    double left_s = flight["bound_s"];
    for (const json& step : flight["fall"]) left_s -= step["seconds"].get<double>();
    // All are whole milliseconds; what is left is the rounding of doubles.
    EXPECT_NEAR(left_s, flight["duration_s"], 1e-9) << example;
  }
}

TEST(Flight, CarriesTheDoubtItIsHanded) {
  const Pages pages;
  json body = document();
  body["relative_sigma"] = 0.1;
  const json headline = pages.ask("POST", "/api/flight", body).body()["headline"];
  EXPECT_EQ(headline["sigma_basis"], "sensitivities");
  EXPECT_NEAR(headline["sigma_s"], 0.1 * headline["duration_s"].get<double>(), 0.001);
  body["relative_sigma"] = -1;
  EXPECT_EQ(pages.ask("POST", "/api/flight", body).status, 422);
}

TEST(Flight, EveryProblemNamesItsField) {
  const Pages pages;
  json body = document();
  body["job"]["hall"]["roof_height"] = "1 m";
  body["job"]["propeller"]["camber"] = "six";
  body["job"]["model"]["mas"] = "3 g";
  const Reply reply = pages.ask("POST", "/api/flight", body);
  ASSERT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(), Contains("hall.roof_height"));
  EXPECT_THAT(reply.fields(), Contains("propeller.camber"));
  EXPECT_THAT(reply.fields(), Contains("model.mas"));
}

TEST(Flight, StrangeShapesAreProblemsAndNoFaults) {
  const Pages pages;
  const json whole = document();
  for (
      const char* text :
      {R"(null)", R"([])", R"({})", R"({"job": 1})", R"({"job": {}, "attachments": []})",
       R"({"job": {}, "attachments": {"x": ""}})", R"({"job": {}, "more": 1})",
       R"({"job": {"hall": 3, "propeller": [1, {"a": 1}], "motor": {"strands": {"a": 1}}}})",
       R"({"job": {"propeller": {"station": [{"radius": [1]}, {"radius": {"a": 1}}]}}})",
       R"({"job": {"job": {"name": "a\u0000\u007f\"]\n[hall]", "version": 1e300}}})",
       R"({"job": {"job": {"version": 18446744073709551615}, "": {"": ""}, "a.b": {"c\n": 1}}})"}) {
    EXPECT_EQ(pages.send("POST", "/api/flight", text).status, 422) << text;
  }
}

TEST(Flight, TextCannotBreakOutOfItsField) {
  const Pages pages;
  json body = document();
  body["job"]["job"]["note"] = "\"\n[hall]\nroof_height = \"100 m\"\n'''\\";
  const Reply reply = pages.ask("POST", "/api/flight", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_EQ(reply.body()["values"]["hall.roof_height"], 8.5);
}

json readings() {
  return {{"diameter", "15 in"},
          {"angles",
           {{{"radius", "6 in"}, {"angle", "34 deg"}}, {{"radius", "4 in"}, {"angle", "45 deg"}}}}};
}

TEST(InHand, GivesPitchFlightAndJob) {
  const Pages pages;
  json body = document();
  body["readings"] = readings();
  const Reply reply = pages.ask("POST", "/api/in-hand", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json hand = reply.body();
  // 2 pi 4 in tan 45 deg and 2 pi 6 in tan 34 deg.
  EXPECT_NEAR(hand["angles"][0]["pitch_m"], 0.63837, 1e-5);
  EXPECT_NEAR(hand["angles"][1]["pitch_m"], 0.64588, 1e-5);
  EXPECT_TRUE(hand["helical"]);
  EXPECT_TRUE(hand["angle_shift_deg"].is_null());
  const json again =
      pages.ask("POST", "/api/flight", {{"job", hand["job"]}, {"attachments", body["attachments"]}})
          .body();
  EXPECT_EQ(again["duration_s"], hand["flight"]["duration_s"]);
}

TEST(InHand, CountedRevsGiveTheTurnOfTheBlades) {
  const Pages pages;
  json body = document();
  body["readings"] = readings();
  const double mean = pages.ask("POST", "/api/in-hand", body).body()["flight"]["mean_rev_per_s"];
  body["readings"]["counted_revs"] = std::to_string(60 * 0.95 * mean) + " rpm";
  const json hand = pages.ask("POST", "/api/in-hand", body).body();
  ASSERT_TRUE(hand["angle_shift_deg"].is_number()) << hand["shift_sentence"];
  EXPECT_GT(hand["angle_shift_deg"], 0);  // slower: more pitch
  // Turned by that much, it makes the revs that were counted.
  const double shift = hand["angle_shift_deg"];
  body["readings"].erase("counted_revs");
  for (json& row : body["readings"]["angles"]) {
    row["angle"] = std::to_string(std::stod(row["angle"].get<std::string>()) + shift) + " deg";
  }
  const json turned = pages.ask("POST", "/api/in-hand", body).body();
  // The search stops at 1e-5 rad, which is 6e-5 of the revs at most.
  EXPECT_NEAR(turned["flight"]["mean_rev_per_s"], 0.95 * mean, 2e-4 * mean);
}

TEST(InHand, BentBladeIsNoHelix) {
  const Pages pages;
  json body = document();
  body["readings"] = readings();
  body["readings"]["angles"][0]["angle"] = "45 deg";
  const json hand = pages.ask("POST", "/api/in-hand", body).body();
  EXPECT_FALSE(hand["helical"]);
  EXPECT_NE(hand["sentence_inch"].get<std::string>().find(" in"), std::string::npos);
}

TEST(InHand, ProblemsNameTheReading) {
  const Pages pages;
  json body = document();
  body["readings"] = {
      {"angles",
       {{{"radius", "6 in"}, {"angle", "95 deg"}}, {{"radius", "4"}, {"angle", "45 deg"}}}}};
  const Reply reply = pages.ask("POST", "/api/in-hand", body);
  ASSERT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(),
              testing::ElementsAre("readings.angles[1].angle", "readings.angles[2].radius"));
  body["readings"] = {{"angles", json::array()}};
  EXPECT_THAT(pages.ask("POST", "/api/in-hand", body).fields(), Contains("readings.angles"));
  body["readings"] = 5;
  EXPECT_EQ(pages.ask("POST", "/api/in-hand", body).status, 422);
}

TEST(ShapeIt, GivesEachBladeWithAJobThatFliesAsItSays) {
  const Pages pages;
  json body = document();
  body["wishes"] = {{"form_pitches", {"760 mm"}}, {"cylinders", {"4 in"}}};
  const Reply reply = pages.ask("POST", "/api/shape", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json shape = reply.body();
  ASSERT_EQ(shape["makeable"].size(), 3u);
  for (const json& blade : shape["makeable"]) {
    const json flown = pages
                           .ask("POST", "/api/flight",
                                {{"job", blade["job"]}, {"attachments", body["attachments"]}})
                           .body();
    // The live answer gives whole milliseconds.
    EXPECT_NEAR(flown["duration_s"].get<double>(), blade["duration_s"].get<double>(), 6e-4)
        << blade["label"];
  }
}

TEST(BuiltPair, BladesAsDesignedLoseNothing) {
  const Pages pages;
  json body = document();
  body["as_built"] = {{"blade", {{{"camber", "6 %"}}, {{"camber", "6 %"}}}}};
  const Reply reply = pages.ask("POST", "/api/pair", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json pair = reply.body();
  // The camber of every row is 6 %; its mean differs by rounding.
  EXPECT_NEAR(pair["duration_s"].get<double>(), pair["duration_perfect_s"].get<double>(), 1e-3);
  EXPECT_EQ(pair["blades"].size(), 2u);
}

TEST(BuiltPair, NamesTheReadingThatIsWrong) {
  const Pages pages;
  json body = document();
  body["as_built"] = {{"blade", {{{"length", "3 m"}}, {{"mas", "1 mg"}}}}};
  const Reply reply = pages.ask("POST", "/api/pair", body);
  EXPECT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(), testing::UnorderedElementsAre("blade[1].length", "blade[2].mas"));
}

TEST(BuiltPair, ToleranceCardNeedsNoReadings) {
  const Pages pages;
  const Reply reply = pages.ask("POST", "/api/pair/tolerances", document());
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_GE(reply.body()["tolerances"].size(), 5u);
}

TEST(FlexingBlade, FliesAsTheFlightOfTheSameJobAndHasItsOwnSparAmongTheChoices) {
  const Pages pages;
  json body = document();
  body["job"]["propeller"]["flex"]["fly"] = true;
  const Reply reply = pages.ask("POST", "/api/flex", body);
  ASSERT_EQ(reply.status, 200) << reply.text;
  const json flex = reply.body();
  const json flown = pages.ask("POST", "/api/flight", body).body();
  // The live answer gives whole milliseconds; the choice's own map repeats the job's.
  const double duration_s = flex["flexing"]["duration_s"].get<double>();
  EXPECT_NEAR(flown["duration_s"].get<double>(), duration_s, 6e-4);
  int present = 0;
  for (const json& choice : flex["choices"]) {
    if (!choice["present"].get<bool>()) continue;
    ++present;
    EXPECT_NEAR(choice["flight"]["duration_s"].get<double>(), duration_s, 1e-6);
  }
  for (const json& end : flex["spar_ends"]) {
    if (!end["present"].get<bool>()) continue;
    ++present;
    EXPECT_NEAR(end["duration_s"].get<double>(), duration_s, 1e-6);
    EXPECT_EQ(end["propeller_mass_change_kg"].get<double>(), 0);
  }
  EXPECT_EQ(present, 2);
  const json& states = flex["states"];
  EXPECT_GT(states.back()["tip"]["flare_deg"], states.front()["tip"]["flare_deg"]);
}

TEST(ShapeIt, NamesTheWishThatIsWrong) {
  const Pages pages;
  json body = document();
  body["wishes"] = {{"form_pitches", {"760"}}, {"cylinders", {"4 m", "90 mm"}}, {"free_rev", true}};
  const Reply reply = pages.ask("POST", "/api/shape", body);
  EXPECT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(),
              testing::UnorderedElementsAre("wishes.form_pitches[1]", "wishes.cylinders[1]",
                                            "wishes.free_rev"));
}

}  // namespace
}  // namespace propwright::server::test
