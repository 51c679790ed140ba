#include "propwright/flex/flex.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "flex_blade.h"

namespace propwright {
namespace {

using flex_test::air;
using flex_test::make_beam;
using flex_test::make_rotor;

constexpr rotor::Condition launch{0.8, 1.7};

flex::FlexRotor blade(double position = 0.40, double stiffness = 1,
                      const flex::Options& options = {}) {
  return flex::FlexRotor::make(make_rotor(), make_beam(position, stiffness), options).value();
}

TEST(FlexRotor, RigidLimitIsTheRotorToTheLastDigit) {
  const auto state = blade(0.40, 1e18).solve(launch, air).value();
  const auto rigid = make_rotor().solve(launch, air).value();
  EXPECT_EQ(state.rotor.loads.thrust_N, rigid.loads.thrust_N);
  EXPECT_EQ(state.rotor.loads.torque_Nm, rigid.loads.torque_Nm);
  EXPECT_EQ(state.rotor.loads.profile_power_W, rigid.loads.profile_power_W);
}

// What is left between both maps is where their Newton searches began: the element solver's last
// step of up to 3e-4 rad is taken to first order, 1e-5 of the loads on a stalled blade.
TEST(FlexRotor, RigidLimitOfTheMapIsTheRigidMap) {
  const auto flexed = flex::make_map(blade(0.40, 1e18), air, 1.1).value();
  const auto rigid = rotor::make_map(make_rotor(), air, 1.1).value();
  EXPECT_FALSE(flexed.limit);
  for (const double speed : {0.8, 1.1, 1.5}) {
    for (const double revs : {0.0, 0.5, 1.5, 3.0}) {
      const auto a = flexed.map.at(speed, revs).loads, b = rigid.at(speed, revs).loads;
      EXPECT_NEAR(a.thrust_N, b.thrust_N, 1e-5 * 0.05);
      EXPECT_NEAR(a.torque_Nm, b.torque_Nm, 1e-5 * 0.005);
    }
  }
}

TEST(FlexRotor, SameShapeFromDifferentStarts) {
  const flex::FlexRotor flex = blade();
  const std::size_t n = flex.rotor().stations().size();
  const auto straight = flex.solve(launch, air).value();
  for (const double tip_start : {-0.10, -0.04, 0.03, 0.10}) {
    std::vector<double> start;
    for (const rotor::Station& s : flex.rotor().stations()) {
      start.push_back(tip_start * s.radius_m / flex_test::tip_m);
    }
    const auto state = flex.solve(launch, air, start).value();
    for (std::size_t i = 0; i < n; ++i) {
      // Two Newton searches, each settled to 2e-9 rad, over slopes good to a few per mille and an
      // element solver good to 1e-7.
      EXPECT_NEAR(state.stations[i].flare_rad, straight.stations[i].flare_rad, 2e-7);
    }
    EXPECT_NEAR(state.rotor.loads.thrust_N, straight.rotor.loads.thrust_N, 1e-7);
  }
}

TEST(FlexRotor, RootMomentsAreTheRotorsIntegrals) {
  const auto state = blade().solve(launch, air).value();
  double out = 0, in = 0, pull = 0;
  const double root = 0.006;
  const auto stations = make_rotor().stations();
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const rotor::StationResult& s = state.rotor.stations[i];
    out += stations[i].weight_m * s.thrust_N_per_m / 2 * (s.radius_m - root);
    in -= stations[i].weight_m * s.torque_Nm_per_m / 2 / s.radius_m * (s.radius_m - root);
  }
  // Centrifugal force on the bent blade takes its part off: not more than tension times deflection.
  pull = state.root.tension_N * (std::abs(state.tip.in_disc_m) + state.tip.out_of_disc_m);
  EXPECT_NEAR(state.root.out_of_disc_Nm, out, pull);
  EXPECT_NEAR(state.root.in_disc_Nm, in, pull);
  EXPECT_GT(pull, 0);
  EXPECT_LT(pull, 0.05 * out);
}

// The quarter chord's lift turns a blade up about a spar that lies behind it, and less so or down
// about one further forward.
TEST(FlexRotor, SparFurtherBackMakesMorePitch) {
  double before = -1;
  for (const double position : {0.25, 0.33, 0.40, 0.47}) {
    const auto state = blade(position).solve(launch, air).value();
    EXPECT_GT(state.tip.twist_rad, before) << position;
    before = state.tip.twist_rad;
    if (position == 0.25) {
      EXPECT_LT(state.tip.twist_rad, 0);  // the camber's moment alone
    }
  }
}

TEST(FlexRotor, BladeBendsForwardAndBackAgainstTheRotation) {
  const auto state = blade().solve(launch, air).value();
  EXPECT_GT(state.tip.out_of_disc_m, 0);
  EXPECT_LT(state.tip.in_disc_m, 0);
  ASSERT_TRUE(state.strength.known);
  EXPECT_GT(state.strength.margin, 1);
  EXPECT_LE(state.strength.margin, state.strength.root_margin);
}

TEST(FlexRotor, MomentsOfPolarsWithoutAreThoseOfThinArcs) {
  // A plain polar without cm: lift 5 per rad about -6 degrees.
  std::string csv = "alpha_deg,cl,cd\n";
  for (int a = -10; a <= 10; a += 2) {
    csv += std::to_string(a) + "," + std::to_string(0.0873 * (a + 6)) + ",0.04\n";
  }
  const auto family = section::Family::read(csv, "plain.csv").value();
  ASSERT_FALSE(family.has_cm());
  rotor::Blade rows;
  for (int i = 0; i <= 20; ++i) {
    const double r = 0.034 + (0.195 - 0.034) * i / 20;
    rows.rows.push_back({r, flex_test::chord_m(r), flex_test::angle_rad(r), 0.06});
  }
  const auto rotor = rotor::Rotor::make(rows, family).value();
  const auto with = flex::FlexRotor::make(rotor, make_beam(0.25)).value();
  const auto without = flex::FlexRotor::make(rotor, make_beam(0.25), {.moment_factor = 0}).value();
  EXPECT_LT(with.solve(launch, air).value().tip.twist_rad,
            without.solve(launch, air).value().tip.twist_rad - 0.002);
}

TEST(FlexRotor, DivergingBladeIsRefusedWithTorqueAndCure) {
  const auto state = blade(0.75, 0.1).solve({0.9, 2.5}, air);
  ASSERT_FALSE(state);
  const base::Problem& problem = state.error().front();
  EXPECT_EQ(problem.kind, base::Kind::no_solution);
  EXPECT_NE(problem.message.find("diverges"), std::string::npos) << problem.message;
  EXPECT_NE(problem.message.find("torque"), std::string::npos);
  EXPECT_NE(problem.remedy.find("spar forward"), std::string::npos);
}

// Linear loads: the factor found at a state, applied to it, leads to where the blade fails. The
// state's own loads bend the factor by what the polars' curve does: a fifth here.
TEST(FlexRotor, DivergenceFactorFallsWithSoftness) {
  const auto stiff = blade(0.45, 1).solve(launch, air).value();
  const auto soft = blade(0.45, 0.7).solve(launch, air).value();
  ASSERT_TRUE(stiff.divergence_factor && soft.divergence_factor);
  EXPECT_GT(*stiff.divergence_factor, *soft.divergence_factor);
  EXPECT_GT(*soft.divergence_factor, 1);
}

TEST(FlexRotor, ElementsConverge) {
  const auto coarse = blade(0.33).solve(launch, air).value();
  const auto fine = blade(0.33, 1, {.elements = 96}).solve(launch, air).value();
  double largest = 0;
  for (const flex::StationState& s : fine.stations) {
    largest = std::max(largest, std::abs(s.flare_rad));
  }
  // Twelve straight pieces of twist: a hundredth of the greatest.
  for (std::size_t i = 0; i < fine.stations.size(); ++i) {
    EXPECT_NEAR(coarse.stations[i].flare_rad, fine.stations[i].flare_rad, 0.01 * largest);
  }
  EXPECT_NEAR(coarse.tip.out_of_disc_m, fine.tip.out_of_disc_m, 2e-3 * fine.tip.out_of_disc_m);
  EXPECT_NEAR(coarse.rotor.loads.thrust_N, fine.rotor.loads.thrust_N,
              2e-3 * fine.rotor.loads.thrust_N);
}

// The walk stops one first-order step of up to 1e-3 rad early, which leaves 1e-4 of the loads.
TEST(FlexRotor, WalkGivesTheLoadsOfSingleStates) {
  const flex::FlexRotor flex = blade();
  std::vector<rotor::Condition> states;
  for (int i = 0; i < 30; ++i) states.push_back({0.2 + 0.04 * i, 1.8});
  const auto walked = flex.solve_all(states, air).value();
  for (std::size_t i = 0; i < states.size(); i += 3) {
    const auto single = flex.solve(states[i], air).value();
    EXPECT_NEAR(walked[i].thrust_N, single.rotor.loads.thrust_N, 3e-4 * 0.02);
    EXPECT_NEAR(walked[i].torque_Nm, single.rotor.loads.torque_Nm, 3e-4 * 0.002);
  }
}

TEST(FlexMap, GivesTheLoadsOfSingleStates) {
  const flex::FlexRotor flex = blade();
  const auto made = flex::make_map(flex, air, 1.0).value();
  for (const rotor::Condition& c : {rotor::Condition{1.0, 1.5}, {0.9, 1.7}, {1.1, 2.0}}) {
    const auto single = flex.solve(c, air).value();
    const auto loads = made.map.at(c.speed_m_s, c.rev_per_s).loads;
    // Interpolation between the map's nodes. A flexing blade's coefficients bend with speed too:
    // 1.5 % of the launch thrust of 12 mN and torque of 1.4 mN m, against 0.3 % of a rigid one.
    EXPECT_NEAR(loads.thrust_N, single.rotor.loads.thrust_N, 0.015 * 0.012);
    EXPECT_NEAR(loads.torque_Nm, single.rotor.loads.torque_Nm, 0.015 * 1.4e-3);
  }
}

TEST(FlexMap, SoftBladesMapIsCutWhereItDiverges) {
  const auto made = flex::make_map(blade(0.60, 1), air, 1.0).value();
  ASSERT_TRUE(made.limit);
  EXPECT_GT(made.limit->torque_Nm, 0);
  EXPECT_NEAR(made.map.highest_rev_per_s(made.limit->condition.speed_m_s),
              made.limit->condition.rev_per_s, 1e-9);
  EXPECT_GT(made.map.beta_low_rad(), 10 * base::degree_rad);
  EXPECT_NE(made.limit->reason, "");
}

TEST(SolveForTorque, FindsTheRevsThatTakeIt) {
  const flex::FlexRotor flex = blade();
  const auto state = flex::solve_for_torque(flex, 1.5e-3, 1.0, air).value();
  EXPECT_NEAR(state.rotor.loads.torque_Nm, 1.5e-3, 1e-6 * 1.5e-3 + 2e-7);
  EXPECT_FALSE(flex::solve_for_torque(flex, 1.5e-3, 1.0, air, 0.3));
}

RC_GTEST_PROP(FlexRotor, MoreTorsionalStiffnessMeansLessTwist, ()) {
  const double position = *rc::gen::inRange(25, 46) / 100.0;
  const double revs = *rc::gen::inRange(8, 22) / 10.0, speed = *rc::gen::inRange(6, 12) / 10.0;
  const auto soft = blade(position, 1).solve({speed, revs}, air);
  const auto stiff = blade(position, 4).solve({speed, revs}, air);
  RC_ASSERT(soft.has_value() && stiff.has_value());
  RC_ASSERT(std::abs(stiff->tip.twist_rad) <= std::abs(soft->tip.twist_rad) + 1e-3);
}

}  // namespace
}  // namespace propwright
