// Learning and the verdict as the pages ask for them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <sstream>
#include <thread>

#include "pages.h"

namespace propwright::server::test {
namespace {

using testing::Contains;

std::string file_of_flights(const std::string& name) {
  std::ifstream file(std::string(PROPWRIGHT_SOURCE_DIR) + "/examples/flights/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

/// The example's own job as the pages have it, the other as the text of its file.
json flown_question() {
  const json own = document();
  return {
      {"csv", file_of_flights("lantern46-two-propellers.csv")},
      {"jobs",
       {own, {{"job", file_of_flights("lantern46-b.toml")}, {"attachments", own["attachments"]}}}}};
}

/// A few flights as the pages log them.
json few_flights() {
  json flights = json::array();
  const double seconds[] = {700, 712, 705, 690, 720, 715};
  for (int i = 0; i < 6; ++i) {
    flights.push_back({{"id", "f" + std::to_string(i)},
                       {"propeller", i % 3 == 1 ? "P14" : "P12"},
                       {"duration_s", seconds[i]}});
  }
  flights[5]["flag"] = "steered";
  return flights;
}

TEST(VerdictRoutes, LearnAnswersAsDescribed) {
  const Pages pages;
  json question = flown_question();
  question["next"] = false;
  const Reply reply = pages.ask("POST", "/api/learn", question);
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_EQ(reply.body().at("flights").at("used"), 38);
}

TEST(VerdictRoutes, VerdictWithAndWithoutJobsAnswersAsDescribed) {
  const Pages pages;
  const Reply whole = pages.ask("POST", "/api/verdict", flown_question());
  ASSERT_EQ(whole.status, 200) << whole.text;
  EXPECT_EQ(whole.body().at("decision"), "best");
  const Reply plain = pages.ask("POST", "/api/verdict", {{"flights", few_flights()}});
  ASSERT_EQ(plain.status, 200) << plain.text;
  EXPECT_EQ(plain.body().at("decision"), "cannot_tell_yet");
  EXPECT_EQ(plain.body().at("shares").at(5).at("weight"), 0.5);
  const Reply none = pages.ask("POST", "/api/verdict", {{"flights", json::array()}});
  ASSERT_EQ(none.status, 200) << none.text;
  EXPECT_TRUE(none.body().at("leader").is_null());
}

/// Processor time of the whole program, s.
double processor_time_s() {
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

TEST(VerdictRoutes, WhatIsAskedAgainIsNotLearnedAgain) {
  const Pages pages;
  json question = flown_question();
  double begun = processor_time_s();
  ASSERT_EQ(pages.ask("POST", "/api/verdict", question).status, 200);
  const double first = processor_time_s() - begun;
  question["thresholds"] = {{"sure", "90 %"}};
  begun = processor_time_s();
  ASSERT_EQ(pages.ask("POST", "/api/verdict", question).status, 200);
  EXPECT_LT(processor_time_s() - begun, 0.5 * first);
}

TEST(VerdictRoutes, LearningStopsWhenThePageHasGone) {
  Pages pages;
  const json question = flown_question();
  double begun = processor_time_s();
  ASSERT_EQ(pages.send("POST", "/api/learn", question.dump()).status, 200);
  const double whole = processor_time_s() - begun;
  json other = question;
  other["learning"] = {{"tail_freedom", 5}};
  const std::string body = other.dump();
  begun = processor_time_s();
  {
    const int socket_ = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(pages.server().port()));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    ASSERT_EQ(connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address), 0);
    const std::string request =
        "POST /api/learn HTTP/1.1\r\nHost: " + pages.host() +
        "\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(body.size()) +
        "\r\n\r\n" + body;
    std::size_t sent = 0;
    while (sent < request.size()) {
      const auto now = send(socket_, request.data() + sent, request.size() - sent, 0);
      ASSERT_GT(now, 0);
      sent += static_cast<std::size_t>(now);
    }
    close(socket_);
  }
  double before = -1;
  while (processor_time_s() - before > 0.002) {
    before = processor_time_s();
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  EXPECT_LT(processor_time_s() - begun, 0.5 * whole);
}

// As many as may be asked for also fit in the question.
TEST(VerdictRoutes, ALogOfThousandsIsTakenWhole) {
  json flights = json::array();
  for (int i = 0; i < 5000; ++i) {
    flights.push_back({{"id", "log-" + std::to_string(i)},
                       {"time", "2026-11-21T14:05"},
                       {"propeller", i % 3 == 1 ? "P14" : "P12"},
                       {"duration_s", 700 + i % 17},
                       {"notes", std::string(200, 'n')}});
  }
  const json question{{"flights", flights}};
  ASSERT_GT(question.dump().size(), std::size_t{1} << 20);
  const Reply answer = Pages().send("POST", "/api/verdict", question.dump());
  EXPECT_EQ(answer.status, 200) << answer.text.substr(0, 300);
}

TEST(VerdictRoutes, SheetIsPagesAndWantsItsDate) {
  const Pages pages;
  json question{{"flights", few_flights()}, {"date", "2026-11-26"}, {"each", 20}};
  const Reply reply = pages.ask("POST", "/api/verdict/sheet", question);
  ASSERT_EQ(reply.status, 200) << reply.text;
  EXPECT_EQ(reply.header("Content-Type"), "application/pdf");
  EXPECT_EQ(reply.text.substr(0, 4), "%PDF");
  question.erase("date");
  question["paper"] = "a5";
  question["each"] = 1000;
  const Reply wrong = pages.send("POST", "/api/verdict/sheet", question.dump());
  EXPECT_EQ(wrong.status, 422);
  for (const char* field : {"date", "paper", "each"}) {
    EXPECT_THAT(wrong.fields(), Contains(field));
  }
}

TEST(VerdictRoutes, OnePropellerMakesNoFairTest) {
  const Pages pages;
  const json question{{"flights", {{{"id", "a"}, {"propeller", "P14"}, {"duration_s", 700}}}},
                      {"date", "2026-11-26"}};
  const Reply reply = pages.ask("POST", "/api/verdict/sheet", question);
  EXPECT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(), Contains("propellers"));
}

TEST(VerdictRoutes, ProblemsNameTheirPlace) {
  const Pages pages;
  json question = flown_question();
  question["jobs"][1]["job"] = document("lantern46")["job"];
  question["beliefs"] = {{"scatter_median", "300 %"}};
  const Reply reply = pages.send("POST", "/api/verdict", question.dump());
  EXPECT_EQ(reply.status, 422);
  EXPECT_THAT(reply.fields(), Contains("propeller.name"));
  EXPECT_THAT(reply.fields(), Contains("beliefs.scatter_median"));
  const Reply flights =
      pages.send("POST", "/api/learn", R"({"jobs": [], "flights": [{"duration_s": "long"}]})");
  EXPECT_THAT(flights.fields(), Contains("flights[1].duration_s"));
  EXPECT_EQ(pages.send("POST", "/api/learn", R"({"rope": 1})").status, 422);
}

}  // namespace
}  // namespace propwright::server::test
