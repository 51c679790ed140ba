#include <gtest/gtest.h>

#include <cmath>

#include "asbuilt_design.h"
#include "propwright/asbuilt/comparison.h"

namespace propwright::asbuilt {
namespace {

using asbuilt_test::flexing_design;
using asbuilt_test::off_by;
using asbuilt_test::rigid_design;
using base::degree_rad;

constexpr rotor::Condition cruise{1.1, 1.6};

void expect_no_difference(const PairState& s) {
  EXPECT_EQ(s.difference.thrust_N, 0);
  EXPECT_EQ(s.difference.torque_Nm, 0);
  EXPECT_EQ(s.rocking_Nm, 0);
  EXPECT_EQ(s.shared_thrust_N, 0);
  EXPECT_EQ(s.independent_thrust_N, 0);
  EXPECT_EQ(s.shaking_N, 0);
}

TEST(PairComparison, EqualBladesDifferByExactlyNothing) {
  const BladeDeviation d = off_by(Aspect::angle, 0.7 * degree_rad);
  expect_no_difference(compare_at(rigid_design(), d, d, cruise).value());
  const PairState flexing = compare_at(flexing_design(), d, d, cruise).value();
  expect_no_difference(flexing);
  EXPECT_EQ(*flexing.difference.tip_bend_m, 0);
  EXPECT_EQ(*flexing.difference.flare_rad, 0);
}

// As designed, the stations in the mean's inflow are the solution itself: the shared annulus gives
// back the loads of the blades (without the arms), up to the camber's rounding and the solver's own
// tolerance.
TEST(PairComparison, BladesAsDesignedCarryHalfTheRotorEach) {
  const Design design = rigid_design();
  rotor::Blade bare = design.blade;
  bare.arm_diameter_m = 0;
  const rotor::Loads blades = rotor::Rotor::make(bare, design.family, design.options)
                                  .value()
                                  .solve_all({cruise}, design.flow)
                                  .value()
                                  .front();
  const PairState s = compare_at(design, {}, {}, cruise).value();
  EXPECT_NEAR(s.blades[0].thrust_N / (blades.thrust_N / 2), 1, 1e-3);
  EXPECT_NEAR(s.torque_Nm / blades.torque_Nm, 1, 1e-3);
}

TEST(PairComparison, SwappedBladesSwapTheSigns) {
  const Design design = flexing_design();
  const BladeDeviation a = off_by(Aspect::angle, degree_rad), b = off_by(Aspect::torsion, -0.2);
  const PairState ab = compare_at(design, a, b, cruise).value();
  const PairState ba = compare_at(design, b, a, cruise).value();
  EXPECT_DOUBLE_EQ(ab.difference.thrust_N, -ba.difference.thrust_N);
  EXPECT_DOUBLE_EQ(ab.rocking_Nm, -ba.rocking_Nm);
  EXPECT_DOUBLE_EQ(*ab.difference.flare_rad, -*ba.difference.flare_rad);
}

TEST(PairComparison, SteeperBladePullsMoreAndSharedAnnulusMoreThanHalfDiscs) {
  const PairState s = compare_at(rigid_design(), off_by(Aspect::angle, 0.5 * degree_rad),
                                 off_by(Aspect::angle, -0.5 * degree_rad), cruise)
                          .value();
  EXPECT_GT(s.independent_thrust_N, 0);
  // Its own induction takes back part of a blade's extra load; in a shared annulus none.
  EXPECT_GT(s.shared_thrust_N, s.independent_thrust_N);
  EXPECT_GT(s.difference.thrust_N, s.independent_thrust_N);
  EXPECT_LT(s.difference.thrust_N, s.shared_thrust_N);
  // Thrust acts somewhere between hub and tip.
  const double arm = s.rocking_Nm / s.difference.thrust_N;
  EXPECT_GT(arm, 0.034);
  EXPECT_LT(arm, 0.195);
}

TEST(PairComparison, SofterBladeBendsAndTwistsMore) {
  const Design design = flexing_design();
  const PairState s =
      compare_at(design, off_by(Aspect::flapwise, std::log(0.7)), {}, cruise).value();
  EXPECT_GT(std::abs(*s.blades[0].tip_bend_m), std::abs(*s.blades[1].tip_bend_m));
  // Small bends of one beam go as 1/EI; the tension of rotation takes its part whatever EI is.
  const double ratio = *s.blades[0].tip_bend_m / *s.blades[1].tip_bend_m;
  EXPECT_LT(ratio, 1 / 0.7);
  EXPECT_GT(ratio, 1 / 0.85);
}

TEST(PairComparison, ImbalanceIsTheDifferenceOfTheMomentsAndShakesWithRevsSquared) {
  const Design design = rigid_design();
  BladeDeviation a, b;
  a.moment_kgm = Measured{13.6e-6, 0.03e-6};
  b.moment_kgm = Measured{13.2e-6, 0.04e-6};
  const Imbalance found = imbalance_of(design, a, b);
  EXPECT_NEAR(found.moment_kgm->value, 0.4e-6, 1e-18);
  EXPECT_NEAR(found.moment_kgm->sigma, 0.05e-6, 1e-18);
  EXPECT_FALSE(found.from_masses);
  const PairState slow = compare_at(design, a, b, {1.1, 1.5}).value();
  const PairState fast = compare_at(design, a, b, {1.1, 3.0}).value();
  EXPECT_DOUBLE_EQ(fast.shaking_N, 4 * slow.shaking_N);
}

TEST(PairComparison, ImbalanceFromMassesSitsAtTheDesignsCentre) {
  const Design design = rigid_design();
  const Imbalance found =
      imbalance_of(design, off_by(Aspect::mass, 3e-6), off_by(Aspect::mass, -3e-6));
  EXPECT_TRUE(found.from_masses);
  EXPECT_NEAR(found.moment_kgm->value, 6e-6 * 0.09, 1e-18);
}

TEST(PairComparison, UnmeasuredMassesTellNoImbalance) {
  EXPECT_FALSE(imbalance_of(rigid_design(), off_by(Aspect::mass, 3e-6), {}).moment_kgm);
}

TEST(PairComparison, TorquesRunFromLevelFlightToLaunch) {
  const Design design = rigid_design();
  const flight::Flight flown = flight::fly(design.setup).value();
  const auto states = compare(design, off_by(Aspect::angle, 0.01), {}, flown.cruise_torque_Nm,
                              flown.launch_torque_Nm, 4)
                          .value();
  ASSERT_EQ(states.size(), 4U);
  for (std::size_t i = 1; i < states.size(); ++i) {
    EXPECT_GT(states[i].torque_Nm, states[i - 1].torque_Nm);
  }
}

}  // namespace
}  // namespace propwright::asbuilt
