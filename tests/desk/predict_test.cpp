#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "program.h"

namespace propwright::desk::test {
namespace {

const std::string job = "predict examples/lantern46.toml ";

TEST(Predict, GivesTheKeysOfTheContract) {
  const Outcome predict = run(job + "--json --samples 60");
  ASSERT_EQ(predict.status, 0) << predict.out;
  const auto json = predict.json();
  for (const char* key : {"duration_s", "duration_sigma_s", "bound_s", "top_height_m", "top_time_s",
                          "turns_wound", "turns_at_launch", "turns_left", "launch_torque_Nm",
                          "mean_rev_per_s", "cruise_speed_m_s", "touches", "touch_probability"}) {
    EXPECT_TRUE(json.at(key).is_number()) << key;
  }
  const auto interval = json.at("duration_interval_s");
  ASSERT_EQ(interval.size(), 3);
  EXPECT_LE(interval[0], interval[1]);
  EXPECT_LE(interval[1], interval[2]);
  for (const char* key : {"time_s", "height_m", "rev_per_s", "torque_Nm", "speed_m_s", "turns"}) {
    EXPECT_TRUE(json.at("history").at(0).at(key).is_number()) << key;
  }
  EXPECT_TRUE(json.at("warnings").is_array());
  EXPECT_GT(json.at("bound_s").get<double>(), json.at("duration_s").get<double>());
}

TEST(Predict, PartsOfTheEnergyAddUp) {
  const auto energy = run(job + "--json --no-interval").json().at("energy_J");
  double sum = 0;
  for (const auto& [key, part] : energy.items()) {
    if (key != "at_break") sum += part.get<double>();
  }
  const double whole = energy.at("at_break");
  EXPECT_NEAR(sum / whole, 1, 1e-12);  // rounding of twelve summands
  EXPECT_LT(std::abs(energy.at("residual").get<double>()), 1e-6 * whole);  // the contract
}

TEST(Predict, SameSeedSameBytes) {
  const Outcome first = run(job + "--json --samples 60 --seed 5");
  EXPECT_EQ(first.out, run(job + "--json --samples 60 --seed 5").out);
  EXPECT_NE(first.out, run(job + "--json --samples 60 --seed 6").out);
}

TEST(Predict, WithoutIntervalItsKeysAreNull) {
  const auto json = run(job + "--json --no-interval").json();
  EXPECT_TRUE(json.at("duration_sigma_s").is_null());
  EXPECT_TRUE(json.at("duration_interval_s").is_null());
  EXPECT_TRUE(json.at("duration_s").is_number());
}

TEST(Predict, BeginsWithTheHeadline) {
  const Outcome people = run(job + "--samples 60");
  ASSERT_EQ(people.status, 0) << people.err;
  const auto headline = run(job + "--samples 60 --json").json().at("headline").get<std::string>();
  EXPECT_THAT(people.out, testing::StartsWith(headline + "\n"));
  EXPECT_THAT(headline, testing::ContainsRegex("^[0-9]+ min [0-9]+ s ± [0-9]+ s, .* turns? left$"));
  EXPECT_THAT(people.out, testing::HasSubstr("airframe drag"));
}

TEST(Predict, SpeaksTheUnitsOfTheJob) {
  const Outcome inch = run("predict examples/sparrow16.toml --no-interval");
  ASSERT_EQ(inch.status, 0) << inch.err;
  EXPECT_THAT(inch.out, testing::HasSubstr(" ft/s"));
  EXPECT_THAT(inch.out, testing::Not(testing::HasSubstr(" mm")));
}

TEST(Predict, RefusesSamplesOutOfRange) {
  const Outcome wrong = run(job + "--samples 10 --seed x --json");
  EXPECT_EQ(wrong.status, 3);
  EXPECT_EQ(problem_of(wrong, "--samples").at("allowed"), "whole numbers from 50 to 100000");
  EXPECT_EQ(problem_of(wrong, "--seed").at("value"), "x");
}

TEST(Predict, CtrlCStopsItWithStatus130) {
  // More samples than any machine is through with before its first word of progress; the shell's
  // kill stands for the keyboard.
  const Folder folder;
  const std::string err = "'" + (folder.path() / "progress").string() + "'";
  const Outcome stopped = run("predict examples/lantern46.toml --samples 100000 --json 2>" + err +
                              " & pid=$!; until grep -q samples " + err +
                              "; do sleep 0.1; done; kill -INT $pid; wait $pid");
  EXPECT_EQ(stopped.status, 130);
  EXPECT_EQ(stopped.json().at("problems").size(), 1);
}

TEST(Predict, FlexingBladeTellsItsShapeAndStrength) {
  const auto json = run(job + "--flex --json --no-interval").json();
  EXPECT_THAT(json.at("headline").get<std::string>(), testing::EndsWith(", blade flexing"));
  for (const char* when : {"launch", "cruise"}) {
    const auto state = json.at("flex").at(when);
    EXPECT_GT(state.at("tip").at("out_of_disc_m").get<double>(), 0) << when;
    EXPECT_GT(state.at("strength").at("margin").get<double>(), 1) << when;
    EXPECT_EQ(state.at("stations").size(), 24) << when;
  }
  EXPECT_THAT(run(job + "--flex --no-interval").out, testing::HasSubstr("tip at launch"));
}

TEST(Predict, RigidBladeHasNothingToTellOfFlexing) {
  EXPECT_TRUE(run(job + "--rigid --json --no-interval").json().at("flex").is_null());
  EXPECT_EQ(run(job + "--rigid --json --no-interval").out, run(job + "--json --no-interval").out);
}

}  // namespace
}  // namespace propwright::desk::test
