#include <gtest/gtest.h>

#include <cmath>

#include "program.h"

namespace propwright::desk::test {
namespace {

// Torque rising evenly with turns: areas are triangles.
const std::string straight =
    "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n200,0.0012,0.0006\n400,0.0024,0.0012\n"
    "600,0.0036,0.0018\n800,0.0048,0.0024\n1000,0.006,0.006\n";
const std::string motor = " --section '2.6 mm2' --length '230 mm' --mass '0.55 g'";

TEST(Rubber, GivesTheKeysOfTheContract) {
  const Folder folder;
  const Outcome test =
      run("rubber '" + folder.file("test.csv", straight) + "'" + motor + " --json");
  ASSERT_EQ(test.status, 0) << test.out;
  const auto json = test.json();
  // kappa = N sqrt(A)/L with the last row as breaking turns; only rounding is left.
  EXPECT_NEAR(json.at("turns_constant").get<double>(), 1000 * std::sqrt(2.6e-6) / 0.230, 1e-9);
  // k_Q from the torque at breaking turns.
  EXPECT_NEAR(json.at("torque_constant_Pa").get<double>() * std::pow(2.6e-6, 1.5), 0.006, 1e-12);
  EXPECT_GT(json.at("energy_out_J_per_kg").get<double>(), 0);
  EXPECT_GT(json.at("returned_over_stored").get<double>(), 0);
  EXPECT_LT(json.at("returned_over_stored").get<double>(), 1);
  ASSERT_EQ(json.at("curve").size(), 41);
  EXPECT_EQ(json.at("curve").front().at("x"), 0.0);
  EXPECT_EQ(json.at("curve").back().at("x"), 1.0);
  EXPECT_NEAR(json.at("curve").back().at("q").get<double>(), 1, 1e-12);
  // A point of the test itself: 800 turns of 1000.
  EXPECT_NEAR(json.at("curve").at(32).at("torque_unwinding_Nm").get<double>(), 0.0024, 1e-12);
}

TEST(Rubber, BreakingTurnsMayBeGiven) {
  const Folder folder;
  const std::string words =
      "rubber '" + folder.file("test.csv", straight) + "'" + motor + " --json";
  const Outcome test = run(words + " --breaking-turns 1010 --temperature '70 degF'");
  ASSERT_EQ(test.status, 0) << test.out;
  EXPECT_NEAR(test.json().at("breaking_turns").get<double>(), 1010, 1e-9);
  const Outcome below = run(words + " --breaking-turns 900");
  EXPECT_EQ(below.status, 3);
  EXPECT_EQ(problem_of(below, "--breaking-turns").at("value"), "900");
}

TEST(Rubber, ReportsTheMotorAndTheRows) {
  const Folder folder;
  const std::string path = folder.file("test.csv", straight);
  const Outcome light =
      run("rubber '" + path + "' --section '2.6 mm2' --length '230 mm' --mass '0.2 g' --json");
  EXPECT_EQ(light.status, 3);
  problem_of(light, "--mass");
  const Outcome wrong =
      run("rubber '" + folder.file("bad.csv", straight + "900,x,0.1\n") + "'" + motor + " --json");
  EXPECT_EQ(wrong.status, 3);
  EXPECT_EQ(wrong.json().at("problems").at(0).at("line"), 8);
}

}  // namespace
}  // namespace propwright::desk::test
