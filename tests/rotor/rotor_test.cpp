#include "propwright/rotor/rotor.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "blades.h"
#include "propwright/rotor/map.h"

namespace propwright {
namespace {

using rotor::Rotor;
using section::Family;
using support::helical_blade;
using support::room_air;

Rotor usual(const rotor::Options& options = {}) {
  return Rotor::make(helical_blade(), Family::thin_arc(), options).value();
}

TEST(Rotor, WalkingThroughConditionsAgreesWithSolvingEachAlone) {
  const Rotor rotor = usual();
  std::vector<rotor::Condition> conditions;
  for (int i = 0; i <= 60; ++i) conditions.push_back({1.4 * i / 60, 1.6});
  const auto walked = rotor.solve_all(conditions, room_air).value();
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    const auto alone = rotor.solve(conditions[i], room_air)->loads;
    // Both stop at steps of 3e-4 corrected to first order: 1e-6 of the greatest loads here.
    EXPECT_NEAR(walked[i].thrust_N, alone.thrust_N, 1e-6) << conditions[i].speed_m_s;
    EXPECT_NEAR(walked[i].torque_Nm, alone.torque_Nm, 1e-7) << conditions[i].speed_m_s;
  }
}

TEST(Rotor, TwentyFourStationsAreWithinTwoThousandthsOfTwoHundred) {
  const auto coarse = usual().solve({1.1, 1.7}, room_air)->loads;
  const auto fine = usual({.stations = 200}).solve({1.1, 1.7}, room_air)->loads;
  EXPECT_NEAR(coarse.thrust_N / fine.thrust_N, 1, 2e-3);
  EXPECT_NEAR(coarse.torque_Nm / fine.torque_Nm, 1, 2e-3);
}

TEST(Rotor, StandingStillIsPlainSectionDrag) {
  const Rotor rotor = usual();
  const auto result = rotor.solve({1.0, 0}, room_air).value();
  EXPECT_LT(result.loads.thrust_N, 0);
  for (const auto& s : result.stations) {
    EXPECT_EQ(s.state, rotor::State::stopped);
    EXPECT_DOUBLE_EQ(s.inflow_rad, base::pi / 2);
    const double drag = 0.5 * 1.2 * 2 * s.chord_m * s.cd;
    EXPECT_NEAR(s.thrust_N_per_m, -drag, 1e-12);
  }
  // All its drag is section drag: thrust times speed is the profile power.
  EXPECT_NEAR(-result.loads.thrust_N * 1.0, result.loads.profile_power_W, 1e-12);
}

TEST(Rotor, RunsSmoothlyFromStaticToWindmill) {
  const Rotor rotor = usual();
  double before_thrust = 0, before_step = 0;
  bool windmill = false, stalled = false;
  for (int i = 0; i <= 400; ++i) {
    const double v = 4.0 * i / 400;
    const auto result = rotor.solve({v, 1.6}, room_air).value();
    for (const auto& s : result.stations) {
      windmill |= s.state == rotor::State::windmill;
      stalled |= s.state == rotor::State::stalled || s.state == rotor::State::bistable;
    }
    const double step = result.loads.thrust_N - before_thrust;
    // No jump of more than 1 mN against the neighbouring step (the thrust spans about 100 mN).
    if (i > 1) {
      EXPECT_LT(std::abs(step - before_step), 1e-3) << v << " m/s";
    }
    before_step = step;
    before_thrust = result.loads.thrust_N;
  }
  EXPECT_TRUE(windmill);
  EXPECT_TRUE(stalled);
}

TEST(Rotor, EntersTheBrakedWakeWithoutAJump) {
  // Four wide blades of low pitch and much negative lift brake the wake past 40 %.
  rotor::Blade wide = helical_blade(0.195, 0.12, 0.09);
  wide.blades = 4;
  const Rotor rotor = Rotor::make(wide, support::fixed_polar()).value();
  std::vector<double> induction;
  bool braked = false;
  for (int i = 0; i <= 300; ++i) {
    const auto result = rotor.solve({0.8 + 2.0 * i / 300, 5}, room_air).value();
    const auto& s = result.stations[12];
    braked |= s.state == rotor::State::braked;
    induction.push_back(s.axial_induction);
  }
  EXPECT_TRUE(braked);
  for (std::size_t i = 1; i < induction.size(); ++i) {
    EXPECT_LT(std::abs(induction[i] - induction[i - 1]), 0.02) << i;
  }
}

TEST(Rotor, ExactFactorGivesLessThrustThanPrandtlAtHighAdvanceRatio) {
  // Prandtl overstates what two blades carry (aero.md B2): 18-25 % of mass, a few per cent of
  // thrust.
  const auto exact = usual().solve({1.0, 1.7}, room_air)->loads.thrust_N;
  const auto prandtl =
      usual({.tip_factor = rotor::TipFactor::prandtl}).solve({1.0, 1.7}, room_air)->loads.thrust_N;
  const auto none =
      usual({.tip_factor = rotor::TipFactor::none}).solve({1.0, 1.7}, room_air)->loads.thrust_N;
  EXPECT_LT(exact, prandtl);
  EXPECT_LT(prandtl, none);
}

TEST(Rotor, ArmsAndHubLossCostThrust) {
  rotor::Blade blade = helical_blade();
  const double clean =
      Rotor::make(blade, Family::thin_arc())->solve({1.0, 1.7}, room_air)->loads.thrust_N;
  blade.arm_diameter_m = 0.002;
  const auto armed = Rotor::make(blade, Family::thin_arc())->solve({1.0, 1.7}, room_air)->loads;
  EXPECT_LT(armed.thrust_N, clean);
  const double hub = usual({.hub_loss = true}).solve({1.0, 1.7}, room_air)->loads.thrust_N;
  EXPECT_LT(hub, clean);
}

TEST(Rotor, VariedRotorEqualsOneMadeAnew) {
  const section::Shift shift{0.05, 0.01, -0.04, 0.1};
  rotor::Blade turned = helical_blade();
  for (auto& row : turned.rows) row.angle_rad += 0.02;
  const auto anew = Rotor::make(turned, Family::thin_arc(), {}, shift)->solve({1.0, 1.6}, room_air);
  const auto varied = usual().varied(Family::thin_arc(), shift, 0.02).solve({1.0, 1.6}, room_air);
  // The angle between rows is a curve through turned rows or a turned curve: the same but for
  // rounding.
  EXPECT_NEAR(varied->loads.thrust_N, anew->loads.thrust_N, 1e-9);
  EXPECT_NEAR(varied->loads.torque_Nm, anew->loads.torque_Nm, 1e-10);
}

TEST(Rotor, ZeroThrustAdvanceRatioIsAZero) {
  const Rotor rotor = usual();
  const double j = rotor::zero_thrust_advance_ratio(rotor, room_air, 1.6).value();
  EXPECT_NEAR(rotor.solve({j * 1.6 * 0.39, 1.6}, room_air)->loads.thrust_N, 0, 1e-6);
  EXPECT_GT(j, 1.5);  // near pitch over diameter, 1.79
  EXPECT_LT(j, 2.2);
}

TEST(Rotor, CoefficientsAreUndefinedAtRest) {
  const auto c = rotor::coefficients({1, 1, 0}, {1, 0}, 0.4, 1.2);
  EXPECT_FALSE(c.defined);
  EXPECT_FALSE(c.efficiency_defined);
}

TEST(RotorProblems, AreReportedTogetherAndNameTheRow) {
  rotor::Blade blade = helical_blade();
  blade.rows[3].chord_m = -0.01;
  blade.rows[5].radius_m = blade.rows[4].radius_m;
  blade.blades = 7;
  const auto made = Rotor::make(blade, Family::thin_arc(), {.stations = 2});
  ASSERT_FALSE(made.has_value());
  std::string all;
  for (const auto& problem : made.error()) all += base::to_line(problem) + "\n";
  EXPECT_THAT(all, testing::HasSubstr("row 4: chord"));
  EXPECT_THAT(all, testing::HasSubstr("row 6: radius"));
  EXPECT_THAT(all, testing::HasSubstr("blades"));
  EXPECT_THAT(all, testing::HasSubstr("stations"));
}

TEST(RotorProblems, RefuseAConditionOutOfRange) {
  EXPECT_FALSE(usual().solve({-1, 1}, room_air).has_value());
  EXPECT_FALSE(usual().solve({1, std::nan("")}, room_air).has_value());
  EXPECT_FALSE(usual().solve({1, 1}, {0, 1.8e-5}).has_value());
}

TEST(Map, AgreesWithDirectSolutionNearItsMiddleSpeed) {
  const Rotor rotor = usual();
  const rotor::Map map = rotor::make_map(rotor, room_air, 1.0).value();
  for (double v = 0.82; v < 1.25; v += 0.06) {
    for (double n = 0.3; n < 3.3; n += 0.17) {
      const double w2 = v * v + std::pow(0.7 * 2 * base::pi * n * 0.195, 2);
      const double force = 0.5 * 1.2 * w2 * base::pi * 0.195 * 0.195;
      const auto direct = rotor.solve({v, n}, room_air)->loads;
      const auto mapped = map.at(v, n).loads;
      // Cubic between 2-degree nodes; the worst places are the stall and the brake's onset.
      EXPECT_NEAR(mapped.thrust_N, direct.thrust_N, 2e-3 * force) << v << " m/s " << n << " rev/s";
      EXPECT_NEAR(mapped.torque_Nm, direct.torque_Nm, 2e-3 * force * 0.195);
    }
  }
}

TEST(Map, DerivativesMatchDifferences) {
  const rotor::Map map = rotor::make_map(usual(), room_air, 1.0).value();
  const double h = 1e-5;
  for (const double v : {0.85, 1.0, 1.17}) {
    for (const double n : {0.6, 1.13, 1.71, 2.6}) {
      const auto at = map.at(v, n);
      const auto slope = [&](auto member, double dv, double dn) {
        return (map.at(v + dv, n + dn).loads.*member - map.at(v - dv, n - dn).loads.*member) /
               (2 * h);
      };
      // Central differences of a C1 cubic: the error is h^2 times the third derivative, and
      // rounding.
      EXPECT_NEAR(at.thrust_by_speed, slope(&rotor::Loads::thrust_N, h, 0), 1e-6);
      EXPECT_NEAR(at.thrust_by_rev, slope(&rotor::Loads::thrust_N, 0, h), 1e-6);
      EXPECT_NEAR(at.torque_by_speed, slope(&rotor::Loads::torque_Nm, h, 0), 1e-6);
      EXPECT_NEAR(at.torque_by_rev, slope(&rotor::Loads::torque_Nm, 0, h), 1e-6);
    }
  }
}

}  // namespace
}  // namespace propwright
