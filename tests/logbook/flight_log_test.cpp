#include "propwright/logbook/flight_log.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace propwright::logbook {
namespace {

Log read(const std::string& csv) {
  auto log = read_csv(csv, "log.csv");
  EXPECT_TRUE(log) << (log ? "" : base::to_line(log.error().front()));
  return log ? *log : Log{};
}

bool asks_about(const base::Problems& questions, const std::string& column) {
  return std::any_of(questions.begin(), questions.end(),
                     [&](const base::Problem& question) { return question.field == column; });
}

TEST(FlightLog, EmptyCellIsNotKnownRatherThanNought) {
  const Log log = read("propeller,duration_s,turns_left\nA,600,\nB,,12\n");
  ASSERT_EQ(log.flights.size(), 2u);
  EXPECT_FALSE(log.flights[0].turns_left);
  EXPECT_FALSE(log.flights[1].duration_s);
  EXPECT_EQ(log.flights[1].turns_left, 12);
  EXPECT_TRUE(log.questions.empty());
}

TEST(FlightLog, ATimeIsADayThereIsAndATimeOfIt) {
  for (const char* time : {"2026-11-21", "2026-11-21T14:05", "2026-11-21T00:00:59", "2024-02-29"}) {
    EXPECT_TRUE(is_time(time)) << time;
  }
  for (const char* time :
       {"", "yesterday", "21.11.2026 14:05", "2026-02-29", "2026-13-01", "2026-11-21 14:05",
        "2026-11-21T24:00", "2026-11-21T14:60", "2026-11-21T14:5", "2026-11-21T14:05:60",
        "2026-11-21T14:05:09.5", "+026-11-21", "2026-1 -21"}) {
    EXPECT_FALSE(is_time(time)) << time;
  }
}

TEST(FlightLog, ATimeThatIsNoneIsQuestionedAndCanBeKeptAsUnknown) {
  const Log log = read("time,propeller,duration_s\n21.11.2026 14:05,A,600\n,A,610\n");
  ASSERT_EQ(log.questions.size(), 1u);
  EXPECT_EQ(log.questions[0].field, "time");
  EXPECT_EQ(log.questions[0].value, "21.11.2026 14:05");
  EXPECT_EQ(log.questions[0].line, 2);
  EXPECT_EQ(without_questioned(log.flights[0]).time, "");
  EXPECT_EQ(without_questioned(log.flights[0]).duration_s, 600);
}

TEST(FlightLog, WrittenAndReadBackIsTheSame) {
  Flight first;
  first.id = "f-1";
  first.time = "2026-11-21T14:05";
  first.propeller = "Lantern, \"wide\"";
  first.duration_s = 741.25;
  first.turns_wound = 1500;
  first.turns_at_launch = 1490.5;
  first.humidity = 0.45;
  first.steered = true;
  first.hung_up = true;
  first.reason = "#4 girder";
  Flight second;
  second.propeller = "B";
  second.duration_s = 1.0 / 3;
  second.aborted = true;
  const std::vector<Flight> flights{first, second};
  Log log = read(write_csv(flights));
  ASSERT_EQ(log.flights.size(), 2u);
  for (Flight& flight : log.flights) flight.line = 0;
  EXPECT_EQ(log.flights, flights);
}

TEST(FlightLog, EveryColumnIsWrittenAndReadBack) {
  Flight flight;
  double value = 1;
  for (const Column& column : columns()) {
    if (column.number != nullptr) flight.*column.number = value += 0.125;
    if (column.text != nullptr) flight.*column.text = std::string(column.name);
  }
  flight.left_out = true;
  const auto log = read_csv(write_csv({flight}), "log.csv");
  ASSERT_TRUE(log);
  flight.line = 2;
  EXPECT_EQ(log->flights.front(), flight);
  EXPECT_TRUE(log->unknown_columns.empty());
}

TEST(FlightLog, TurnsOutAreTakenFromTurnsIn) {
  const Log log = read("propeller,turns_wound,turns_backed_off\nA,1500,120\n");
  EXPECT_EQ(log.flights[0].turns_at_launch, 1380);
}

TEST(FlightLog, FlaggedFlightsAreKeptAndSayWhyNoFitUsesThem) {
  const Log log = read(
      "propeller,duration_s,flag,reason\nA,600,steered,\nA,40,aborted,stab slipped\n"
      "A,300,hang-up,\nA,500,steered;left_out,drift\n");
  ASSERT_EQ(log.flights.size(), 4u);
  EXPECT_TRUE(log.flights[0].steered);
  EXPECT_EQ(why_left_out(log.flights[0]), "");
  EXPECT_EQ(why_left_out(log.flights[1]), "aborted: stab slipped");
  EXPECT_EQ(why_left_out(log.flights[2]), "hung up");
  EXPECT_EQ(why_left_out(log.flights[3]), "left out: drift");
  EXPECT_TRUE(log.questions.empty());
}

TEST(FlightLog, UnknownFlagLeavesTheFlightOutAndIsQuestioned) {
  const Log log = read("propeller,duration_s,flag\nA,600,gusty\n");
  EXPECT_EQ(why_left_out(log.flights[0]), "left out: gusty");
  ASSERT_EQ(log.questions.size(), 1u);
  EXPECT_EQ(log.questions[0].field, "flag");
  EXPECT_EQ(log.questions[0].line, 2);
}

TEST(FlightLog, TurnsLeftAboveTurnsAtLaunchAreQuestionedWithLineAndColumn) {
  const Log log =
      read("# invented\npropeller,turns_at_launch,turns_left\nA,1400,100\nA,140,1000\n");
  ASSERT_EQ(log.questions.size(), 1u);
  EXPECT_EQ(log.questions[0].file, "log.csv");
  EXPECT_EQ(log.questions[0].line, 4);
  EXPECT_EQ(log.questions[0].field, "turns_left");
  EXPECT_EQ(log.questions[0].value, "1000");
  EXPECT_FALSE(without_questioned(log.flights[1]).turns_left);
  EXPECT_EQ(without_questioned(log.flights[1]).turns_at_launch, 140);
}

TEST(FlightLog, SlipsOfTheUnitAreQuestionedWithTheRightNumber) {
  const Log log =
      read("propeller,temperature_K,humidity,pressure_Pa,model_mass_kg\nA,21,55,1008,3.02\n");
  ASSERT_EQ(log.questions.size(), 4u);
  EXPECT_THAT(log.questions[0].remedy, testing::HasSubstr("294.15"));
  EXPECT_THAT(log.questions[1].remedy, testing::HasSubstr("100800"));
  EXPECT_THAT(log.questions[2].remedy, testing::HasSubstr("0.55"));
  EXPECT_THAT(log.questions[3].remedy, testing::HasSubstr("0.00302"));
}

TEST(FlightLog, AHumidityUnderAHundredthIsQuestioned) {
  Flight flight;
  flight.humidity = 0.005;
  const base::Problems asked = questions(flight);
  ASSERT_EQ(asked.size(), 1u);
  EXPECT_EQ(asked[0].field, "humidity");
  EXPECT_THAT(asked[0].remedy, testing::HasSubstr("50 % is 0.5"));
  EXPECT_FALSE(without_questioned(flight).humidity);
  for (const double sound : {0.0, 0.01, 0.5, 1.0}) {
    flight.humidity = sound;
    EXPECT_TRUE(questions(flight).empty()) << sound;
  }
}

TEST(FlightLog, ImpossibleTimesHeightsAndTorquesAreQuestioned) {
  Flight flight;
  flight.duration_s = 20;
  flight.turns_wound = 1500;
  flight.turns_at_launch = 1600;
  flight.turns_left = 100;
  flight.top_time_s = 30;
  flight.top_height_m = 9;
  flight.roof_m = 8;
  flight.torque_wound_Nm = 0.002;
  flight.launch_torque_Nm = 0.003;
  flight.mean_rev_per_s = 1;
  flight.mean_rev_time_s = 30;
  const base::Problems asked = questions(flight);
  for (const char* column : {"duration_s", "turns_at_launch", "top_time_s", "top_height_m",
                             "launch_torque_Nm", "mean_rev_per_s", "mean_rev_time_s"}) {
    EXPECT_TRUE(asks_about(asked, column)) << column;
  }
  EXPECT_TRUE(questions(without_questioned(without_questioned(flight))).empty());
}

TEST(FlightLog, APartialMotorThatFliesAsLongAsAFullOneCouldIsQuestioned) {
  Flight flight;
  flight.duration_s = 7200;
  EXPECT_TRUE(questions(flight).empty());
  flight.motor_part = 0.25;
  const base::Problems asked = questions(flight);
  ASSERT_EQ(asked.size(), 1u);
  EXPECT_EQ(asked[0].field, "duration_s");
  EXPECT_EQ(asked[0].allowed, "1 to 1800");
  EXPECT_FALSE(without_questioned(flight).duration_s);
  flight.duration_s = 1800;
  EXPECT_TRUE(questions(flight).empty());
}

TEST(FlightLog, TextThatIsNoNumberIsAProblemAndAllAreTold) {
  const auto log = read_csv("propeller,duration_s,turns_left\nA,ten,\nB,600,few\n", "log.csv");
  ASSERT_FALSE(log);
  ASSERT_EQ(log.error().size(), 2u);
  EXPECT_EQ(log.error()[0].line, 2);
  EXPECT_EQ(log.error()[1].field, "turns_left");
}

TEST(FlightLog, ColumnsOfAnotherTableAreRefusedAndStrangersAreTold) {
  EXPECT_FALSE(read_csv("a,b\n1,2\n", "log.csv"));
  EXPECT_FALSE(read_csv("", "log.csv"));
  EXPECT_FALSE(read_csv("propeller,duration_s,duration_s\nA,1,2\n", "log.csv"));
  const Log log = read("propeller,duration_s,colour\nA,600,red\n");
  EXPECT_THAT(log.unknown_columns, testing::ElementsAre("colour"));
}

}  // namespace
}  // namespace propwright::logbook
