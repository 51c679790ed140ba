// The flight log over HTTP: flights logged without a network come in once each, whatever is sent
// twice.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <barrier>
#include <thread>

#include "pages.h"
#include "propwright/answer/flight_merge.h"

namespace propwright::server::test {
namespace {

json flight(const std::string& id, double duration_s) {
  return {{"id", id},
          {"time", "2026-11-21T14:05"},
          {"propeller", "P14"},
          {"turns_wound", 1960},
          {"turns_at_launch", 1790},
          {"turns_left", 281},
          {"duration_s", duration_s},
          {"flag", "steered"},
          {"notes", "pause at 3 min"}};
}

Reply merge(const Pages& pages, const json& entries) {
  return pages.ask("POST", "/api/flights/merge", {{"flights", entries}});
}

std::vector<std::string> done(const Reply& reply) {
  EXPECT_EQ(reply.status, 200) << reply.text;
  std::vector<std::string> words;
  const json answer = reply.body();
  for (const json& item : answer.at("flights")) words.push_back(item.at("done"));
  return words;
}

json total(const Pages& pages) {
  return pages.get("/api/flights").body().at("total");
}

TEST(Flights, AnUploadThatIsRepeatedAddsNothing) {
  const Pages pages;
  const json entries = {{{"flight", flight("f1", 768.6)}}, {{"flight", flight("f2", 741)}}};
  EXPECT_THAT(done(merge(pages, entries)), testing::ElementsAre("added", "added"));
  EXPECT_THAT(done(merge(pages, entries)), testing::ElementsAre("same", "same"));
  const json one_new = {{{"flight", flight("f2", 741)}}, {{"flight", flight("f3", 700)}}};
  EXPECT_THAT(done(merge(pages, one_new)), testing::ElementsAre("same", "added"));
  EXPECT_EQ(total(pages), 3);
  const json kept = pages.get("/api/flights?sort=name&limit=1").body();
  EXPECT_EQ(kept["items"][0]["flight"], flight("f1", 768.6));
}

TEST(Flights, AnIdTwiceInOneUploadIsOneFlight) {
  const Pages pages;
  const json entries = {{{"flight", flight("f1", 768.6)}}, {{"flight", flight("f1", 768.6)}}};
  EXPECT_THAT(done(merge(pages, entries)), testing::ElementsAre("added", "same"));
  EXPECT_EQ(total(pages), 1);
}

TEST(Flights, AChangeMustKnowWhatItChangesElseBothAreShown) {
  const Pages pages;
  merge(pages, {{{"flight", flight("f1", 700)}}});
  const Reply blind = merge(pages, {{{"flight", flight("f1", 710)}}});
  EXPECT_THAT(done(blind), testing::ElementsAre("conflict"));
  EXPECT_EQ(blind.body()["flights"][0]["present"]["flight"]["duration_s"], 700);

  const json seeing = {{{"flight", flight("f1", 710)}, {"base", 1}}};
  EXPECT_THAT(done(merge(pages, seeing)), testing::ElementsAre("changed"));
  EXPECT_THAT(done(merge(pages, seeing)), testing::ElementsAre("same"));
  const Reply late = merge(pages, {{{"flight", flight("f1", 720)}, {"base", 1}}});
  EXPECT_THAT(done(late), testing::ElementsAre("conflict"));
  EXPECT_EQ(late.body()["flights"][0]["revision"], 2);
  EXPECT_EQ(pages.get("/api/flights").body()["items"][0]["flight"]["duration_s"], 710);
}

TEST(Flights, WhatCanHardlyBeIsQuestionedAndKept) {
  const Pages pages;
  json odd = flight("f1", 700);
  odd["turns_left"] = 1900;
  odd["temperature_K"] = 16;
  const Reply reply = merge(pages, {{{"flight", odd}}});
  EXPECT_THAT(done(reply), testing::ElementsAre("added"));
  std::vector<std::string> asked;
  const json answer = reply.body();
  for (const json& question : answer["flights"][0]["questions"]) asked.push_back(question["field"]);
  EXPECT_THAT(asked, testing::UnorderedElementsAre("turns_left", "temperature_K"));
  EXPECT_EQ(pages.get("/api/flights").body()["items"][0]["flight"], odd);
}

TEST(Flights, WhatCannotBeReadIsRefusedAsAWholeWithItsPlace) {
  const Pages pages;
  json text = flight("f2", 700), word = flight("f3", 700), unknown = flight("f4", 700);
  text["duration_s"] = "12:48";
  word["flag"] = "steered;bumped";
  unknown["colour"] = "red";
  json nameless = flight("", 700);
  nameless.erase("id");
  const json entries = {{{"flight", flight("f1", 700)}},
                        {{"flight", text}},
                        {{"flight", word}},
                        {{"flight", unknown}},
                        {{"flight", nameless}}};
  const Reply reply = merge(pages, entries);
  EXPECT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(),
              testing::ElementsAre("flights[2].flight.duration_s", "flights[3].flight.flag",
                                   "flights[4].flight.colour", "flights[5].flight.id"));
  EXPECT_EQ(total(pages), 0);
  EXPECT_EQ(pages.send("POST", "/api/flights/merge", R"({"flights":7})").status, 422);
}

TEST(Flights, AreLinkedToWhatHasTheNameTheyWereLoggedWith) {
  const Pages pages;
  const auto made = [&](const std::string& kind, const std::string& name, const json& section) {
    return pages.ask("POST", "/api/" + kind, {{"name", name}, {"section", section}}).body()["id"];
  };
  const json none = json::object();
  const std::string propeller = made("propellers", "P14", {{"propeller", none}});
  const std::string session = made("sessions", "Millbrook, 21 Nov", {{"session", none}});
  made("motors", "23", {{"motor", none}});
  made("motors", "23", {{"motor", none}});  // two of that name: nobody knows which
  json named = flight("f1", 700);
  named["session"] = "Millbrook, 21 Nov";
  named["motor"] = "23";
  json other = flight("f2", 700);
  other["propeller"] = "P1";  // part of a name is no name
  merge(pages, {{{"flight", named}}, {{"flight", other}}});
  const auto listed = [&](const std::string& link) {
    return pages.get("/api/flights?" + link).body()["total"];
  };
  EXPECT_EQ(listed("propeller_id=" + propeller), 1);
  EXPECT_EQ(listed("session_id=" + session), 1);
  EXPECT_EQ(listed("motor_id=" + propeller), 0);
  EXPECT_EQ(pages.get("/api/workshop/export").body()["flights"][0]["motor_id"], nullptr);
}

TEST(Flights, OpenTheSessionTheyNameOnce) {
  const Pages pages;
  const std::string meter = pages
                                .ask("POST", "/api/meters",
                                     {{"name", "Wire 3"}, {"section", {{"meter", json::object()}}}})
                                .body()["id"];
  json first = flight("f1", 700), second = flight("f2", 710);
  for (json* const each : {&first, &second}) (*each)["session"] = "Millbrook, 21 Nov";
  first["temperature_K"] = 289.15;
  first["roof_m"] = 8.5;
  const json body = {{"flights", {{{"flight", first}}, {{"flight", second}}}}, {"meter_id", meter}};
  EXPECT_EQ(pages.ask("POST", "/api/flights/merge", body).status, 200);
  merge(pages, {{{"flight", flight("f3", 720)}}});  // names none
  const json sessions = pages.get("/api/sessions").body();
  ASSERT_EQ(sessions["total"], 1);
  const json session = sessions["items"][0];
  EXPECT_EQ(session["links"]["meter_id"], meter);
  EXPECT_EQ(session["section"]["session"],
            json({{"day", "2026-11-21"}, {"temperature", "16 degC"}, {"roof", "8.5 m"}}));
  const std::string id = session["id"];
  EXPECT_EQ(pages.get("/api/flights?session_id=" + id).body()["total"], 2);
}

TEST(Flights, ThatComeInAtTheSameTimeOpenTheirSessionOnce) {
  const Pages pages;
  constexpr int uploads = 8;
  std::vector<std::thread> threads;
  std::atomic<int> taken = 0;
  for (int at = 0; at < uploads; ++at) {
    threads.emplace_back([&, at] {
      json one = flight("f" + std::to_string(at), 700 + at);
      one["session"] = "Millbrook, 21 Nov";
      if (merge(pages, {{{"flight", one}}}).status == 200) ++taken;
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(taken, uploads);
  const json sessions = pages.get("/api/sessions").body();
  ASSERT_EQ(sessions["total"], 1);
  const std::string id = sessions["items"][0]["id"];
  EXPECT_EQ(pages.get("/api/flights?session_id=" + id).body()["total"], uploads);
}

/// Side by side as often as it takes for one to look while another makes the session.
TEST(Flights, OfManySessionsAtOnceMakeEachOnce) {
  constexpr int uploads = 4, rounds = 100;
  workshop::Workshop workshop = *workshop::Workshop::in_memory();
  std::barrier ready(uploads);
  std::vector<std::thread> threads;
  for (int at = 0; at < uploads; ++at) {
    threads.emplace_back([&, at] {
      for (int round = 0; round < rounds; ++round) {
        answer::FlightEntry entry;
        entry.flight.id = "f" + std::to_string(round) + "-" + std::to_string(at);
        entry.flight.session = "evening " + std::to_string(round);
        answer::FlightMerge merge(workshop);
        ready.arrive_and_wait();
        EXPECT_TRUE(merge.take(entry));
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(workshop.list(workshop::RecordKind::session)->total, rounds);
  EXPECT_EQ(workshop.list(workshop::RecordKind::flight)->total, rounds * uploads);
}

TEST(Flights, OfAMeterThatIsNotHereAreTakenWithoutIt) {
  const Pages pages;
  json first = flight("f1", 730), second = flight("f2", 740);
  first["session"] = "Millbrook, 22 Nov";
  second["session"] = "Millbrook, 23 Nov";
  const json nowhere = {{"flights", {{{"flight", first}}, {{"flight", second}}}},
                        {"meter_id", "none"}};
  const Reply reply = pages.ask("POST", "/api/flights/merge", nowhere);
  EXPECT_THAT(done(reply), testing::ElementsAre("added", "added"));
  const json asked = reply.body()["flights"][0]["questions"];
  ASSERT_EQ(asked.size(), 1);
  EXPECT_EQ(asked[0]["field"], "meter_id");
  const json sessions = pages.get("/api/sessions").body();
  ASSERT_EQ(sessions["total"], 2);
  EXPECT_EQ(sessions["items"][0]["links"].value("meter_id", json()), json());
}

TEST(Flights, OneThatCannotBeKeptIsRefusedAndTheOthersAreTaken) {
  const Pages pages;
  const json entries = {{{"flight", flight("f1", 700)}},
                        {{"flight", flight("Upper", 710)}},
                        {{"flight", flight("f3", 720)}}};
  const Reply reply = merge(pages, entries);
  EXPECT_THAT(done(reply), testing::ElementsAre("added", "refused", "added"));
  EXPECT_EQ(reply.body()["flights"][1]["problems"][0]["field"], "id");
  EXPECT_EQ(total(pages), 2);
}

TEST(Flights, LongNamesAreCutBetweenLetters) {
  const Pages pages;
  std::string name = "P";
  for (int i = 0; i < 60; ++i) name += "\u685c";  // three bytes each
  json odd = flight("f1", 700), even = flight("f2", 710);
  odd["propeller"] = name;
  even["propeller"] = name.substr(1);
  odd["session"] = name.substr(1) + name;
  EXPECT_THAT(done(merge(pages, {{{"flight", odd}}, {{"flight", even}}})),
              testing::ElementsAre("added", "added"));
  const json items = pages.get("/api/flights?sort=name").body()["items"];
  ASSERT_EQ(items.size(), 2);
  for (const json& item : items)
    EXPECT_TRUE(item["flight"]["propeller"] == name ||
                item["flight"]["propeller"] == name.substr(1));
}

Reply withdraw(const Pages& pages, const json& flights) {
  return pages.ask("POST", "/api/flights/withdraw", {{"flights", flights}});
}

TEST(Flights, AnImportIsTakenBackAndWhatWasChangedSinceStays) {
  const Pages pages;
  merge(pages, {{{"flight", flight("f1", 700)}},
                {{"flight", flight("f2", 710)}},
                {{"flight", flight("f3", 720)}}});
  merge(pages, {{{"flight", flight("f2", 715)}, {"base", 1}}});
  const json seen = {{{"id", "f1"}, {"revision", 1}},
                     {{"id", "f2"}, {"revision", 1}},
                     {{"id", "f3"}, {"revision", 1}},
                     {{"id", "f9"}, {"revision", 1}}};
  EXPECT_THAT(done(withdraw(pages, seen)),
              testing::ElementsAre("withdrawn", "changed", "withdrawn", "unknown"));
  EXPECT_EQ(total(pages), 1);
  EXPECT_EQ(pages.get("/api/flights?archived=true").body().at("total"), 2);
  EXPECT_THAT(done(withdraw(pages, json::array({seen[0]}))), testing::ElementsAre("withdrawn"));
}

TEST(Flights, OneThatWasWithdrawnAndComesAgainIsInTheLogAgain) {
  const Pages pages;
  merge(pages, {{{"flight", flight("f1", 700)}}, {{"flight", flight("f2", 710)}}});
  withdraw(pages, {{{"id", "f1"}, {"revision", 1}}, {{"id", "f2"}, {"revision", 1}}});
  EXPECT_EQ(total(pages), 0);
  // As it was, read another way, and changed on a device that did not see it go.
  const json again = {{{"flight", flight("f1", 700)}},
                      {{"flight", flight("f2", 711)}, {"base", 1}},
                      {{"flight", flight("f1", 700)}}};
  EXPECT_THAT(done(merge(pages, again)), testing::ElementsAre("added", "added", "same"));
  const json items = pages.get("/api/flights?sort=name").body().at("items");
  ASSERT_EQ(items.size(), 2);
  EXPECT_THAT((std::vector{items[0]["flight"]["duration_s"].get<double>(),
                           items[1]["flight"]["duration_s"].get<double>()}),
              testing::UnorderedElementsAre(700, 711));
}

TEST(Flights, WhatIsWithdrawnNamesFlightAndRevision) {
  const Pages pages;
  EXPECT_THAT(pages.ask("POST", "/api/flights/withdraw", {{"flights", {{{"id", "f1"}}}}}).fields(),
              testing::ElementsAre("flights[1]"));
  EXPECT_THAT(pages.ask("POST", "/api/flights/withdraw", {{"flights", "f1"}}).fields(),
              testing::ElementsAre("flights"));
  const Reply other = pages.ask("POST", "/api/flights/withdraw",
                                {{"flights", json::array()}, {"workshop_id", "another"}});
  EXPECT_EQ(other.status, 409);
}

TEST(Flights, OfAnotherWorkshopAreNotTaken) {
  const Pages pages, other;
  const std::string id = pages.get("/api/health").body()["workshop_id"];
  EXPECT_EQ(pages.get("/api/flights").body()["workshop_id"], id);
  EXPECT_NE(other.get("/api/health").body()["workshop_id"], id);
  const json body = {{"flights", {{{"flight", flight("f1", 700)}}}}, {"workshop_id", id}};
  const Reply refused = other.ask("POST", "/api/flights/merge", body);
  EXPECT_EQ(refused.status, 409);
  EXPECT_THAT(refused.fields(), testing::ElementsAre("workshop_id"));
  EXPECT_EQ(total(other), 0);
  EXPECT_THAT(done(pages.ask("POST", "/api/flights/merge", body)), testing::ElementsAre("added"));
}

TEST(Flights, TheWholeLogGoesOutAsTheFileThatLearnReads) {
  const Pages pages;
  json second = flight("f2", 741);
  second["time"] = "2026-11-21T14:31";
  second["flag"] = "aborted;steered";
  merge(pages, {{{"flight", second}}, {{"flight", flight("f1", 768.6)}}});
  EXPECT_EQ(pages.get("/api/flights/csv").text,
            "id,time,propeller,turns_wound,turns_at_launch,turns_left,duration_s,flag,notes\n"
            "f1,2026-11-21T14:05,P14,1960,1790,281,768.6,steered,pause at 3 min\n"
            "f2,2026-11-21T14:31,P14,1960,1790,281,741,aborted;steered,pause at 3 min\n");
}

}  // namespace
}  // namespace propwright::server::test
