#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

#include "program.h"

namespace propwright::desk::test {
namespace {

const std::string blade_csv =
    "# a blade\nradius_m,chord_m,angle_deg,camber\n0.03,0.02,70,0.06\n0.08,0.05,52,0.06\n"
    "0.12,0.055,42,0.06\n0.16,0.045,35,0.06\n0.19,0.01,31,0.06\n";
const std::string air = " --blades 2 --density '1.2 kg/m3' --viscosity '1.8e-5 Pa.s' ";

TEST(Rotor, GivesEveryCombinationOfSpeedsAndRevs) {
  const Outcome rotor =
      run("rotor examples/lantern46.toml --speed '0.8 m/s' --speed '1 m/s' --rev '90 rpm' "
          "--rev '2 rev/s' --rev '0 rpm' --json");
  ASSERT_EQ(rotor.status, 0) << rotor.out;
  EXPECT_EQ(rotor.json().at("points").size(), 6);
}

TEST(Rotor, PointsHaveTheKeysOfTheContract) {
  const Outcome rotor =
      run("rotor examples/lantern46.toml --speed '0.9 m/s' --rev '90 rpm' --json");
  ASSERT_EQ(rotor.status, 0) << rotor.out;
  const auto point = rotor.json().at("points").at(0);
  for (const char* key : {"speed_m_s", "rev_per_s", "advance_ratio", "thrust_N", "torque_Nm",
                          "efficiency", "ct", "cp"}) {
    EXPECT_TRUE(point.at(key).is_number()) << key;
  }
  for (const char* key : {"radius_m", "inflow_deg", "alpha_deg", "re", "cl", "cd", "thrust_N_per_m",
                          "torque_Nm_per_m"}) {
    EXPECT_TRUE(point.at("stations").at(0).at(key).is_number()) << key;
  }
  EXPECT_TRUE(point.at("stations").at(0).at("state").is_string());
  const double n = point.at("rev_per_s"), v = point.at("speed_m_s");
  const double d = rotor.json().at("diameter_m"), rho = rotor.json().at("density_kg_m3");
  // The definitions, from the numbers of the same document; only rounding is left.
  const double ct = point.at("thrust_N").get<double>() / (rho * n * n * std::pow(d, 4));
  EXPECT_NEAR(point.at("ct").get<double>() / ct, 1, 1e-12);
  const double efficiency = point.at("thrust_N").get<double>() * v /
                            (2 * std::numbers::pi * n * point.at("torque_Nm").get<double>());
  EXPECT_NEAR(point.at("efficiency").get<double>() / efficiency, 1, 1e-12);
}

TEST(Rotor, WhatIsNotDefinedIsNull) {
  const Outcome still = run("rotor examples/lantern46.toml --speed '1 m/s' --rev '0 rpm' --json");
  ASSERT_EQ(still.status, 0) << still.out;
  for (const char* key : {"advance_ratio", "ct", "cp", "efficiency"}) {
    EXPECT_TRUE(still.json().at("points").at(0).at(key).is_null()) << key;
  }
  const Outcome braking =
      run("rotor examples/lantern46.toml --speed '9 m/s' --rev '60 rpm' --json");
  ASSERT_EQ(braking.status, 0) << braking.out;
  EXPECT_LT(braking.json().at("points").at(0).at("thrust_N").get<double>(), 0);
  EXPECT_TRUE(braking.json().at("points").at(0).at("efficiency").is_null());
}

TEST(Rotor, MapRunsFromStaticToJustPastZeroThrust) {
  const Outcome map = run("rotor examples/lantern46.toml --map --rev '90 rpm' --json");
  ASSERT_EQ(map.status, 0) << map.out;
  const auto points = map.json().at("points");
  ASSERT_EQ(points.size(), 40);
  EXPECT_EQ(points.front().at("advance_ratio"), 0.0);
  int sign_changes = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    sign_changes += (points[i - 1].at("thrust_N").get<double>() > 0) !=
                    (points[i].at("thrust_N").get<double>() > 0);
  }
  EXPECT_EQ(sign_changes, 1);
  EXPECT_LT(points.back().at("thrust_N").get<double>(), 0);
}

TEST(Rotor, CsvHasTheSamePointsAndNoStations) {
  const Outcome csv = run("rotor examples/lantern46.toml --map --rev '90 rpm' --csv");
  const auto points =
      run("rotor examples/lantern46.toml --map --rev '90 rpm' --json").json().at("points");
  std::istringstream lines(csv.out);
  std::string line;
  std::getline(lines, line);
  EXPECT_EQ(line, "speed_m_s,rev_per_s,advance_ratio,thrust_N,torque_Nm,efficiency,ct,cp");
  std::size_t row = 0;
  for (; std::getline(lines, line); ++row) {
    const auto speed = std::stod(line.substr(0, line.find(',')));
    EXPECT_EQ(speed, points.at(row).at("speed_m_s").get<double>());
  }
  EXPECT_EQ(row, points.size());
}

TEST(Rotor, FineGivesBothModesAndTheirDifference) {
  const std::string at = "rotor examples/lantern46.toml --speed '0.9 m/s' --rev '90 rpm' ";
  const Outcome fine = run(at + "--fine --json");
  ASSERT_EQ(fine.status, 0) << fine.out;
  const auto point = fine.json().at("points").at(0);
  const auto quick = run(at + "--json").json().at("points").at(0);
  EXPECT_EQ(point.at("model"), "fine");
  for (const char* key : {"thrust_N", "torque_Nm", "efficiency"}) {
    EXPECT_EQ(point.at("quick").at(key), quick.at(key)) << key;
    const double difference = point.at(key).get<double>() - quick.at(key).get<double>();
    EXPECT_NEAR(point.at("difference").at(key).get<double>(), difference, 1e-15) << key;
    EXPECT_NE(difference, 0) << key;
    // Cruise: the models agree to 1 % (docs/method.md).
    EXPECT_LT(std::abs(difference), 0.01 * quick.at(key).get<double>()) << key;
  }
  EXPECT_FALSE(quick.contains("model"));
  EXPECT_NE(run(at + "--fine").out.find("quick thrust mN"), std::string::npos);
}

TEST(Rotor, FineSaysWhereItHasNoAnswer) {
  const std::string job = "rotor examples/lantern46.toml --rev '90 rpm' --fine ";
  const Outcome stalled = run(job + "--speed '0 m/s' --json");
  EXPECT_EQ(stalled.status, 4);
  const std::string field = stalled.json().at("problems").at(0).at("field");
  EXPECT_NE(field.find("blade station"), std::string::npos);
  const Outcome both = run(job + "--speed '0 m/s' --speed '0.9 m/s' --json");
  ASSERT_EQ(both.status, 0) << both.out;
  const auto points = both.json().at("points");
  EXPECT_EQ(points.at(0).at("model"), "quick");
  EXPECT_TRUE(points.at(0).at("difference").is_null());
  EXPECT_EQ(points.at(1).at("model"), "fine");
  EXPECT_NE(both.json().at("warnings").dump().find("0.000 m/s"), std::string::npos);
}

TEST(Rotor, FineTakesTablesAndWritesCsv) {
  const Folder folder;
  const std::string at = "rotor --blade '" + folder.file("blade.csv", blade_csv) + "'" + air +
                         "--speed '0.9 m/s' --rev '1.5 rev/s' --fine ";
  const Outcome csv = run(at + "--csv");
  ASSERT_EQ(csv.status, 0) << csv.out;
  EXPECT_NE(csv.out.find(",model,quick_thrust_N,"), std::string::npos);
  const std::string row = csv.out.substr(csv.out.find('\n'));
  EXPECT_NE(row.find(",fine,"), std::string::npos);
  EXPECT_EQ(std::count(row.begin(), row.end(), ','), 14);
  EXPECT_EQ(run(at + "--stations 97 --json").status, 3);
}

TEST(Rotor, TakesTablesInsteadOfAJob) {
  const Folder folder;
  const std::string blade = "--blade '" + folder.file("blade.csv", blade_csv) + "'";
  const std::string at = " --speed '0.9 m/s' --rev '1.5 rev/s' --json";
  const Outcome built_in = run("rotor " + blade + air + at);
  ASSERT_EQ(built_in.status, 0) << built_in.out;
  EXPECT_EQ(built_in.json().at("diameter_m"), 0.38);
  const std::string polar =
      folder.file("polar.csv", "alpha_deg,cl,cd\n-5,-0.2,0.07\n0,0.4,0.05\n5,0.9,0.07\n9,1,0.2\n");
  const Outcome own = run("rotor " + blade + " --polar '" + polar + "'" + air + at);
  ASSERT_EQ(own.status, 0) << own.out;
  EXPECT_NE(own.json().at("points").at(0).at("thrust_N"),
            built_in.json().at("points").at(0).at("thrust_N"));
  const Outcome longer = run("rotor " + blade + air + at + " --tip-radius '20 cm' --tip prandtl");
  ASSERT_EQ(longer.status, 0) << longer.out;
  EXPECT_EQ(longer.json().at("diameter_m"), 0.4);
}

TEST(Rotor, CamberMayBeLeftOutOfTheBladeTable) {
  const Folder folder;
  const std::string blade =
      folder.file("flat.csv", "radius_m,chord_m,angle_deg\n0.03,0.03,70\n0.15,0.03,40\n");
  const Outcome flat =
      run("rotor --blade '" + blade + "'" + air + "--speed '0.9 m/s' --rev '2 rev/s' --json");
  EXPECT_EQ(flat.status, 0) << flat.out;
}

TEST(Rotor, ReportsEveryRowAndOptionAtOnce) {
  const Folder folder;
  const std::string blade = folder.file(
      "blade.csv", "radius_m,chord_m,angle_deg,camber\n0.1,0.02,70,0.06\n0.08,0.05,52,0.06\n");
  const Outcome wrong =
      run("rotor --blade '" + blade +
          "' --blades 7 --density 1.2 --viscosity '1.8e-5 Pa.s' --speed '0.9 m/s' "
          "--rev '1.5 rev/s' --json");
  EXPECT_EQ(wrong.status, 3);
  EXPECT_EQ(problem_of(wrong, "radius_m").at("line"), 3);
  EXPECT_EQ(problem_of(wrong, "--blades").at("value"), "7");
  EXPECT_EQ(problem_of(wrong, "--density").at("value"), "1.2");
}

TEST(Rotor, OptionsThatContradictAreWrongUsage) {
  const std::string job = "rotor examples/lantern46.toml --rev '90 rpm' ";
  EXPECT_EQ(run(job + "--map --speed '1 m/s'").status, 2);
  EXPECT_EQ(run(job + "--speed '1 m/s' --blade x.csv").status, 2);
  EXPECT_EQ(run(job + "--speed '1 m/s' --density '1.2 kg/m3'").status, 2);
  EXPECT_EQ(run(job + "--map --rev '80 rpm'").status, 2);
  EXPECT_EQ(run(job + "--map --csv --json").status, 2);
  EXPECT_EQ(run(job).status, 2);
}

TEST(Rotor, AMapWithoutZeroThrustIsStatus4) {
  const Folder folder;
  // Negative angles all along: no thrust forward at any speed.
  const std::string blade = folder.file(
      "back.csv", "radius_m,chord_m,angle_deg,camber\n0.03,0.03,-60,0\n0.15,0.03,-40,0\n");
  const Outcome map = run("rotor --blade '" + blade + "'" + air + "--map --rev '2 rev/s' --json");
  EXPECT_EQ(map.status, 4) << map.out;
  EXPECT_FALSE(map.json().at("problems").at(0).at("message").get<std::string>().empty());
}

}  // namespace
}  // namespace propwright::desk::test
