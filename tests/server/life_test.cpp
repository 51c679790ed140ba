// A propeller's life over HTTP: states parted by repairs, flights by name, photos, prompts, labels.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pages.h"

namespace propwright::server::test {
namespace {

httplib::Headers seen(const std::string& etag) {
  return {{"If-Match", etag}};
}

json blade_section(const std::string& mass, const std::string& inner, const std::string& outer) {
  return {
      {"blade",
       {{"mass", mass},
        {"length", "190.5 mm"},
        {"centre_of_mass", "80 mm"},
        {"angles",
         {{{"radius", "60 mm"}, {"angle", inner}}, {{"radius", "150 mm"}, {"angle", outer}}}}}}};
}

/// The invented propeller P14 with two measured blades.
class Life : public testing::Test {
 protected:
  Life() {
    blade_a_ = made("blades", {{"name", "P14, A"}, {"section", before_}});
    blade_b_ = made("blades", {{"name", "P14, B"}, {"section", before_}});
    propeller_ =
        made("propellers", {{"name", "P14"},
                            {"section",
                             {{"propeller",
                               {{"mass", "0.42 g"},
                                {"set_angle", "24 deg"},
                                {"set_radius", "100 mm"},
                                {"assembled", "2026-10-30"}}}}},
                            {"links", {{"blade_a_id", blade_a_}, {"blade_b_id", blade_b_}}}});
    one_ = "/api/propellers/" + propeller_;
  }

  std::string made(const std::string& kind, const json& content) {
    const Reply reply = pages_.ask("POST", "/api/" + kind, content);
    EXPECT_EQ(reply.status, 201) << reply.text;
    return reply.body().value("id", "");
  }

  void fly(const std::string& day, const std::vector<double>& seconds, const std::string& flag = "",
           const std::string& propeller = "P14") {
    json entries = json::array();
    for (const double duration_s : seconds) {
      entries.push_back({{"flight",
                          {{"id", "f" + std::to_string(++flights_)},
                           {"time", day + "T14:0" + std::to_string(flights_ % 10)},
                           {"propeller", propeller},
                           {"duration_s", duration_s},
                           {"flag", flag}}}});
      if (flag.empty()) entries.back()["flight"].erase("flag");
    }
    EXPECT_EQ(pages_.ask("POST", "/api/flights/merge", {{"flights", entries}}).status, 200);
  }

  void measure_again(const std::string& blade, const json& section) {
    const Reply seen_now = pages_.get("/api/blades/" + blade);
    const Reply saved =
        pages_.ask("PUT", "/api/blades/" + blade, {{"name", "P14, A"}, {"section", section}},
                   seen(seen_now.header("ETag")));
    EXPECT_EQ(saved.status, 200) << saved.text;
  }

  json event(const std::string& kind, const std::string& time, const std::string& words = "") {
    const Reply reply =
        pages_.ask("POST", one_ + "/events", {{"kind", kind}, {"time", time}, {"words", words}});
    EXPECT_EQ(reply.status, 201) << reply.text;
    return reply.body();
  }

  json life(const std::string& day = "2026-11-01") const {
    return pages_.get(one_ + "/life?day=" + day).body();
  }

  std::vector<std::string> prompts(const std::string& day = "2026-11-01") const {
    std::vector<std::string> kinds;
    const json now = life(day);
    for (const json& prompt : now.at("prompts")) kinds.push_back(prompt.at("kind"));
    return kinds;
  }

  const json before_ = blade_section("150 mg", "32 deg", "18 deg");
  Pages pages_;
  std::string blade_a_, blade_b_, propeller_, one_;
  int flights_ = 0;
};

json change_of(const json& state, const std::string& of, const std::string& what) {
  const json changes = state.at("changes");
  for (const json& change : changes) {
    if (change.at("of") == of && change.at("what") == what) return change;
  }
  ADD_FAILURE() << "no change of " << what << " of " << of;
  return {};
}

TEST_F(Life, IsOneStateUntilARepair) {
  fly("2026-11-02", {700, 710});
  fly("2026-11-02", {500}, "", "P15");
  const json now = life();
  ASSERT_EQ(now["states"].size(), 1);
  EXPECT_EQ(now["states"][0]["flights"]["flown"], 2);
  EXPECT_EQ(now["states"][0]["flights"]["mean_s"], 705);
  EXPECT_NEAR(now["states"][0]["figures"]["mass_kg"].get<double>(), 0.00042, 1e-15);
  EXPECT_EQ(now["flights"]["total"], 2);
  EXPECT_EQ(now["parts"].size(), 2);
  const json label = now["label"];
  EXPECT_NEAR(label["diameter_m"].get<double>(), 0.381, 1e-12);
  EXPECT_EQ(label["day"], "2026-10-30");
  // 2 pi 60 mm tan 32 deg and 2 pi 150 mm tan 18 deg, each on both blades.
  EXPECT_NEAR(label["pitch_m"].get<double>(), (0.235570 + 0.306230) / 2, 1e-6);
}

TEST_F(Life, ARepairOpensAStateThatIsComparedWithTheOldOne) {
  fly("2026-11-02", {700, 710, 690});
  fly("2026-11-02", {300}, "aborted");
  fly("2026-11-02", {900}, "steered");
  const json opened = event("repair", "2026-11-05", "tip of A glued");
  ASSERT_EQ(opened["states"].size(), 2);
  const json unmeasured = change_of(opened["states"][1], "blade_a", "mass");
  EXPECT_EQ(unmeasured["measured_again"], false);
  EXPECT_THAT(opened["states"][1]["sentence"].get<std::string>(),
              testing::HasSubstr("3 before and 0 after"));
  EXPECT_EQ(opened["states"][1]["seconds"], nullptr);

  measure_again(blade_a_, blade_section("156 mg", "31 deg", "18.4 deg"));
  fly("2026-11-06", {720, 730});
  const json now = life();
  const json state = now["states"][1];
  EXPECT_EQ(state["from"], "2026-11-05");
  EXPECT_EQ(now["states"][0]["flights"]["flown"], 5);
  EXPECT_EQ(now["states"][0]["flights"]["counted"], 3);
  const json mass = change_of(state, "blade_a", "mass");
  EXPECT_NEAR(mass["after"].get<double>() - mass["before"].get<double>(), 6e-6, 1e-15);
  EXPECT_EQ(mass["measured_again"], true);
  const json angle = change_of(state, "blade_a", "angle");
  EXPECT_NEAR(angle["before"].get<double>(), 25, 1e-9);
  EXPECT_NEAR(angle["after"].get<double>(), 24.7, 1e-9);
  const json twist = change_of(state, "blade_a", "twist");
  EXPECT_NEAR(twist["before"].get<double>(), 14, 1e-9);
  EXPECT_NEAR(twist["after"].get<double>(), 12.6, 1e-9);
  const json moment = change_of(state, "blade_a", "moment");
  EXPECT_NEAR(moment["after"].get<double>(), 156e-6 * 0.08, 1e-15);
  EXPECT_EQ(change_of(state, "blade_b", "mass")["measured_again"], false);
  // Means 700 and 725; sample variances 100 over 3 and 50 over 2.
  EXPECT_NEAR(state["seconds"]["change_s"].get<double>(), 25, 1e-9);
  EXPECT_NEAR(state["seconds"]["sigma_s"].get<double>(), std::sqrt(100.0 / 3 + 50.0 / 2), 1e-9);
}

TEST_F(Life, AFlightOfTheRepairsDayGoesByItsTimeOfDay) {
  fly("2026-11-05", {700});
  event("repair", "2026-11-05T14:30", "hub reseated");
  fly("2026-11-05", {710});
  EXPECT_EQ(life()["states"][0]["flights"]["flown"], 2) << "both were flown about two o'clock";
  event("repair", "2026-11-05", "spar spliced");
  EXPECT_EQ(life()["states"].back()["flights"]["flown"], 0);
}

TEST_F(Life, AsksToMeasureAgainUntilItIsMeasured) {
  EXPECT_THAT(prompts(), testing::IsEmpty());
  event("covered", "2026-11-01");
  event("crash", "2026-11-02", "into the wall bars");
  EXPECT_THAT(prompts(), testing::ElementsAre("covered", "crash"));
  measure_again(blade_a_, blade_section("150 mg", "31.2 deg", "18 deg"));
  EXPECT_THAT(prompts(), testing::IsEmpty());
  event("stored", "2026-11-03");
  event("measured", "2026-11-04");
  EXPECT_THAT(prompts(), testing::IsEmpty());
}

TEST_F(Life, AsksAfterWeeksAndAfterAHangUp) {
  event("measured", "2099-01-01");
  EXPECT_THAT(prompts("2099-01-28"), testing::IsEmpty());
  EXPECT_THAT(prompts("2099-01-29"), testing::ElementsAre("weeks"));
  fly("2099-01-10", {400}, "hang_up");
  EXPECT_THAT(prompts("2099-01-12"), testing::ElementsAre("hang_up"));
}

TEST_F(Life, BadEventsAreToldByField) {
  const Reply wrong =
      pages_.ask("POST", one_ + "/events", {{"kind", "repaired"}, {"time", "5 Nov"}, {"words", 7}});
  EXPECT_EQ(wrong.status, 422);
  EXPECT_THAT(wrong.fields(), testing::UnorderedElementsAre("kind", "time", "words"));
  EXPECT_EQ(wrong.body()["problems"][1]["remedy"], "did you mean repair?");
  const Reply bare =
      pages_.ask("POST", one_ + "/events", {{"kind", "repair"}, {"time", "2026-11-05"}});
  EXPECT_THAT(bare.fields(), testing::ElementsAre("words"));
  EXPECT_EQ(pages_
                .ask("POST", "/api/propellers/none/events",
                     {{"kind", "note"}, {"time", "2026-11-05"}, {"words", "x"}})
                .status,
            404);
  EXPECT_EQ(pages_.get("/api/propellers/none/life").status, 404);
  EXPECT_EQ(life()["events"].size(), 0);
}

TEST_F(Life, APhotoComesBackAsItWasSentAndCanBePutAway) {
  const std::string png = "\x89PNG\r\n\x1a\n....";
  const json entry = {{"type", "image/png"},
                      {"data", "iVBORw0KGgouLi4u"},
                      {"time", "2026-11-05"},
                      {"words", "tip of A"}};
  const Reply kept = pages_.ask("POST", one_ + "/photos", entry);
  ASSERT_EQ(kept.status, 201) << kept.text;
  const json photo = kept.body()["photos"][0];
  const Reply picture = pages_.get(one_ + "/photos/" + photo["id"].get<std::string>());
  EXPECT_EQ(picture.header("Content-Type"), "image/png");
  EXPECT_EQ(picture.text, png);
  const std::string path = one_ + "/photos/" + photo["id"].get<std::string>() + "/archive";
  EXPECT_EQ(pages_.ask("POST", path, nullptr, seen("\"7\"")).status, 412);
  EXPECT_EQ(pages_.ask("POST", path, nullptr, seen(photo["etag"])).body()["photos"].size(), 0);

  json other = entry;
  other["type"] = "image/jpeg";
  EXPECT_THAT(pages_.ask("POST", one_ + "/photos", other).fields(), testing::ElementsAre("data"));
  other["data"] = "no base64";
  EXPECT_EQ(pages_.ask("POST", one_ + "/photos", other).status, 422);
  const json belongs = {{"kind", "note"}, {"time", "2026-11-05"}, {"words", "x"}};
  const std::string event_id =
      pages_.ask("POST", one_ + "/events", belongs).body()["events"][0]["id"];
  other = entry;
  other["event_id"] = event_id;
  EXPECT_EQ(pages_.ask("POST", one_ + "/photos", other).body()["photos"][0]["event_id"], event_id);
  other["event_id"] = "none";
  EXPECT_THAT(pages_.ask("POST", one_ + "/photos", other).fields(),
              testing::ElementsAre("event_id"));
}

TEST_F(Life, APhotoOfAnotherPropellerIsNotFound) {
  const Reply kept =
      pages_.ask("POST", one_ + "/photos",
                 {{"type", "image/png"}, {"data", "iVBORw0KGgouLi4u"}, {"time", "2026-11-05"}});
  const std::string photo = kept.body()["photos"][0]["id"];
  const std::string other =
      made("propellers", {{"name", "P15"}, {"section", {{"propeller", json::object()}}}});
  EXPECT_EQ(pages_.get("/api/propellers/" + other + "/photos/" + photo).status, 404);
}

TEST_F(Life, LabelsAreAPageOfPdf) {
  const json question = {{"propellers", {propeller_, propeller_}}, {"date", "2026-11-25"}};
  const Reply pdf = pages_.ask("POST", "/api/labels", question);
  ASSERT_EQ(pdf.status, 200) << pdf.text;
  EXPECT_EQ(pdf.text.substr(0, 5), "%PDF-");
  json wrong = question;
  wrong["paper"] = "a3";
  wrong["propellers"] = json::array();
  wrong["date"] = nullptr;
  EXPECT_THAT(pages_.ask("POST", "/api/labels", wrong).fields(),
              testing::UnorderedElementsAre("paper", "propellers", "date"));
  EXPECT_EQ(
      pages_.ask("POST", "/api/labels", {{"propellers", {"none"}}, {"date", "2026-11-25"}}).status,
      404);
}

}  // namespace
}  // namespace propwright::server::test
