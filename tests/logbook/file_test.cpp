// The flight log file: what goes out comes back, rows have the ids that the pages give them, no row
// is lost unseen.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "propwright/logbook/flight_log.h"
#include "propwright/logbook/row_id.h"

namespace propwright::logbook {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Log read_text(const std::string& csv) {
  auto log = read_csv(csv, "log.csv");
  EXPECT_TRUE(log) << (log ? "" : base::to_line(log.error().front()));
  return log ? *log : Log{};
}

/// Words with all that a CSV file could trip over.
rc::Gen<std::string> any_text() {
  const std::vector<std::string> parts{"a",    "B",  "9",  " ",    "  ", ",", ";", "\t",    "\n",
                                       "\r\n", "\r", "\"", "\"\"", "#",  "'", "=", "\u00f6"};
  return rc::gen::map(rc::gen::container<std::vector<std::string>>(rc::gen::elementOf(parts)),
                      [](const std::vector<std::string>& words) {
                        std::string text;
                        for (const std::string& word : words) text += word;
                        return text;
                      });
}

rc::Gen<std::optional<double>> any_number() {
  return rc::gen::map(rc::gen::arbitrary<rc::Maybe<double>>(), [](const rc::Maybe<double>& number) {
    return number && std::isfinite(*number) ? std::optional(*number) : std::nullopt;
  });
}

Flight any_flight() {
  Flight flight;
  for (const Column& column : columns()) {
    if (column.number != nullptr) flight.*column.number = *any_number();
    if (column.text != nullptr) flight.*column.text = *any_text();
  }
  for (bool Flight::*flag :
       {&Flight::aborted, &Flight::steered, &Flight::hung_up, &Flight::left_out}) {
    flight.*flag = *rc::gen::arbitrary<bool>();
  }
  flight.propeller += "P";  // a flight of which nothing at all is known is none
  return flight;
}

RC_GTEST_PROP(FlightLogFile, EveryFieldOfAnyFlightComesBackAsItWas, ()) {
  std::vector<Flight> flights(*rc::gen::inRange<std::size_t>(1, 5));
  for (Flight& flight : flights) flight = any_flight();
  auto log = read_csv(write_csv(flights), "log.csv");
  RC_ASSERT(log.has_value());
  RC_ASSERT(log->passed_over.empty());
  for (Flight& flight : log->flights) flight.line = 0;
  RC_ASSERT(log->flights == flights);
}

TEST(FlightLogFile, LinesAfterACellOfSeveralLinesAreCountedRight) {
  const Log log = read_text("propeller,duration_s,notes\nA,600,\"one\ntwo\n\"\nB,9999,\n");
  ASSERT_EQ(log.flights.size(), 2u);
  EXPECT_EQ(log.flights[0].notes, "one\ntwo\n");
  EXPECT_EQ(log.flights[1].line, 5);
  ASSERT_EQ(log.questions.size(), 1u);
  EXPECT_EQ(log.questions[0].line, 5);
}

TEST(FlightLogFile, AQuoteThatNothingClosesIsAProblemWithItsLine) {
  const auto log = read_csv("propeller,duration_s\nA,600\n\"B,610\nC,620\n", "log.csv");
  ASSERT_FALSE(log);
  EXPECT_EQ(log.error().back().line, 3);
  EXPECT_THAT(log.error().back().message, HasSubstr("nothing closes it"));
}

TEST(FlightLogFile, LettersOfAnotherEncodingAreAProblemWithTheirLine) {
  for (const char* const word : {"J\xF6rg", "\xED\xA0\x80", "\xE2\x82"}) {
    const auto log =
        read_csv(std::string("reason,propeller\n\u00f6,A\n") + word + ",B\n", "log.csv");
    ASSERT_FALSE(log);
    EXPECT_EQ(log.error().front().line, 3);
    EXPECT_THAT(log.error().front().remedy, HasSubstr("UTF-8"));
  }
}

TEST(FlightLogFile, AColumnOfFlightNumbersMayBeHeadedByItsSign) {
  for (const char* const head : {"#", "# No.", "#nr", "\"#\""}) {
    const Log log = read_text(std::string("# winter, first half\n") + head +
                              ",propeller,duration_s\n1,A,600\n#2,B,610\n# lunch\n");
    ASSERT_EQ(log.flights.size(), 2u) << head;
    EXPECT_EQ(log.flights[1].propeller, "B") << head;
    EXPECT_EQ(log.flights[1].line, 4) << head;
    EXPECT_THAT(log.passed_over, ElementsAre(1, 5)) << head;
    ASSERT_EQ(log.unknown_columns.size(), 1u) << head;
  }
}

TEST(FlightLogFile, RowsBeginningWithTheSignAreFlightsInABuildersOwnColumns) {
  const Log log = read_text("Flight,propeller,duration_s\n#1,A,600\n#2,B,610\n# lunch,,\n");
  EXPECT_EQ(log.flights.size(), 2u);
  EXPECT_THAT(log.passed_over, ElementsAre(4));
}

TEST(FlightLogFile, LinesWithTheSignAreRemarksAmongItsOwnColumns) {
  const Log log = read_text("propeller,duration_s\n# calm, \"cold\nA,600\n\"#4\",610\n");
  ASSERT_EQ(log.flights.size(), 2u);
  EXPECT_EQ(log.flights[0].line, 3);
  EXPECT_EQ(log.flights[1].propeller, "#4");
  EXPECT_THAT(log.passed_over, ElementsAre(2));
}

TEST(FlightLogFile, EmptyRowsOfASpreadsheetAreNoFlights) {
  EXPECT_EQ(read_text("propeller;duration_s\nA;600,5\n;\n ; \nB;610\n").flights.size(), 2u);
}

TEST(FlightLogFile, WordsKeepTheirCommasWhereNumbersHaveDecimalOnes) {
  const Log log = read_text("propeller;duration_s\n12,5;600,5\n");
  EXPECT_EQ(log.flights[0].propeller, "12,5");
  EXPECT_EQ(log.flights[0].duration_s, 600.5);
}

TEST(FlightLogFile, RowsHaveTheIdsThatThePagesGiveThem) {
  std::ifstream stream(PROPWRIGHT_SOURCE_DIR "/tests/logbook/row_ids.json");
  const auto fixture = nlohmann::json::parse(stream);
  const auto& cases = fixture.at("cases");
  ASSERT_GE(cases.size(), 4u);
  for (const auto& each : cases) {
    const Log log = read_text(each.at("csv"));
    EXPECT_EQ(log.row_ids, each.at("ids").get<std::vector<std::string>>()) << each.at("what");
  }
}

TEST(RowIds, CountRowsThatAreAlikeAndTellCellsApart) {
  RowIds ids;
  const std::string first = ids.next({"A", "600"});
  EXPECT_NE(ids.next({"A", "600"}), first);
  EXPECT_NE(ids.next({"A,600"}), first);
  EXPECT_NE(ids.next({"A", "600", ""}), first);
  EXPECT_EQ(RowIds().next({" A\u00a0", "600\r"}), first);
  EXPECT_TRUE(is_entry_id(first));
}

// Old tables of other encodings: what is no UTF-8 is one mark, as a browser reads it.
TEST(RowIds, TakeBytesThatAreNoTextForTheSignOfNone) {
  EXPECT_EQ(RowIds().next({"J\xF6rg"}), RowIds().next({"J\uFFFDrg"}));
  EXPECT_EQ(RowIds().next({"\xE2\x82"}), RowIds().next({"\uFFFD"}));
  EXPECT_EQ(RowIds().next({"\xED\xA0\x80"}), RowIds().next({"\uFFFD\uFFFD\uFFFD"}));
}

TEST(TurnsBackedOff, OfWhichNobodyKnowsFromHowManyAreAskedAboutAndKept) {
  const Log log = read_text("propeller,turns_backed_off,notes\nA,120,calm\nB,90.5,\n");
  ASSERT_EQ(log.questions.size(), 2u);
  EXPECT_EQ(log.questions[0].field, "turns_backed_off");
  EXPECT_EQ(log.questions[0].line, 2);
  EXPECT_EQ(log.questions[0].value, "120");
  EXPECT_EQ(log.flights[0].notes, "calm; turns backed off 120, turns wound not known");
  EXPECT_EQ(log.flights[1].notes, "turns backed off 90.5, turns wound not known");
}

TEST(TurnsBackedOff, AndTurnsAtLaunchTellTheTurnsWound) {
  const Log log = read_text("propeller,turns_at_launch,turns_backed_off\nA,1380,120\n");
  EXPECT_EQ(log.flights[0].turns_wound, 1500);
  EXPECT_THAT(log.questions, IsEmpty());
}

TEST(TurnsBackedOff, ThatDoNotFitTheOthersAreAskedAbout) {
  const Log log = read_text(
      "propeller,turns_wound,turns_at_launch,turns_backed_off\nA,1500,1380,120\nB,1500,1400,150\n");
  ASSERT_EQ(log.questions.size(), 1u);
  EXPECT_EQ(log.questions[0].line, 3);
  EXPECT_EQ(log.flights[1].turns_at_launch, 1400);
}

}  // namespace
}  // namespace propwright::logbook
