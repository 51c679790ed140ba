// Torsion wires and calibration by weights.
#include "propwright/rubber/torque_meter.h"

#include <gmock/gmock.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::rubber {
namespace {

TEST(TorsionWire, HundredMillimetresOfMusicWireGiveTheHandbookTorquePerTurn) {
  // G J/L 2 pi with G = 79.3 GPa (spring-trade data sheet) and J = pi d^4/32 (Roark): 0.33 mm wire
  // (0.013 in, J 1.1671e-3 mm4) gives 5.81515 N mm per turn; six digits are told.
  const auto rate = wire_rate({.diameter_m = 0.3302e-3, .length_m = 0.1}).value();
  EXPECT_NEAR(rate.rate_Nm_rad * 2 * base::pi, 5.81515e-3, 5e-9);
}

TEST(TorsionWire, DoubtOfTheDiameterCountsFourfold) {
  const auto rate = wire_rate({.diameter_m = 0.4e-3,
                               .length_m = 0.1,
                               .diameter_sigma_m = 4e-6,
                               .length_sigma_m = 0,
                               .modulus_sigma_relative = 0})
                        .value();
  EXPECT_NEAR(rate.sigma_Nm_rad / rate.rate_Nm_rad, 0.04, 1e-12);
}

TEST(TorsionWire, GreatestTorqueStandsAtTheWorkingStress) {
  // tau = T r/J at the rim.
  const TorsionWire wire{.diameter_m = 0.5e-3, .length_m = 0.08, .working_stress_Pa = 600e6};
  const auto rate = wire_rate(wire).value();
  const double J = base::pi * std::pow(0.5e-3, 4) / 32;
  EXPECT_NEAR(rate.greatest_torque_Nm * 0.25e-3 / J, 600e6, 1e-3);
  // Twisted by theta, a wire of length L carries T = G J theta/L.
  EXPECT_NEAR(79.3e9 * J * rate.greatest_angle_rad / rate.greatest_torque_Nm, 0.08, 1e-12);
}

TEST(ScaleFit, ExactWeightsGiveTheScaleBackWithoutResidual) {
  std::vector<HungWeight> weights;
  for (const double gram : {2.0, 5.0, 10.0, 20.0}) {
    const double torque = gram * 1e-3 * base::gravity_m_s2 * 0.025;
    weights.push_back({gram * 1e-3, 0.025, 7 + torque / 4e-5});
  }
  const auto fit = fit_scale(weights, std::nullopt, 0, 0).value();
  EXPECT_NEAR(fit.torque_per_division_Nm, 4e-5, 1e-15);
  EXPECT_NEAR(fit.zero, 7, 1e-9);
  for (const double residual : fit.residual) EXPECT_NEAR(residual, 0, 1e-9);
  EXPECT_NEAR(fit.bend, 0, 1e-9);
  const auto read = scale_torque(fit, 57, 0.5);
  EXPECT_NEAR(read.torque_Nm, 50 * 4e-5, 1e-12);
  EXPECT_NEAR(read.sigma_Nm, 0.5 * 4e-5, 1e-12);
  EXPECT_NEAR(scale_reading(fit, read.torque_Nm), 57, 1e-9);
}

TEST(ScaleFit, DoubtOfTheSlopeIsThatOfALineThroughItsPoints) {
  // Three weights at -1, 0, 1 about their mean (in steps h of torque), residuals 1, -2, 1: the
  // line is unmoved, the scatter sqrt(6/1), its slope's doubt scatter/(h sqrt 2).
  const double h = 1e-3 * base::gravity_m_s2 * 0.1;
  const std::vector<HungWeight> weights{{1e-3, 0.1, 101}, {2e-3, 0.1, 198}, {3e-3, 0.1, 301}};
  const auto fit = fit_scale(weights, std::nullopt, 0, 0).value();
  EXPECT_NEAR(fit.torque_per_division_Nm, h / 100, 1e-15);
  EXPECT_NEAR(fit.residual_rms, std::sqrt(6.0), 1e-9);
  EXPECT_NEAR(fit.sigma_Nm / fit.torque_per_division_Nm, std::sqrt(6.0) / std::sqrt(2.0) / 100,
              1e-9);
}

// Inverse prediction from a line: sigma/|b| sqrt(1/n + (x - mean)^2/Sxx), any textbook of
// regression (Draper & Smith, Applied Regression Analysis, 3rd ed. 1998, section 3.2).
TEST(ScaleFit, DoubtOfATorqueIsLeastAmongTheWeightsHung) {
  const double h = 1e-3 * base::gravity_m_s2 * 0.1;
  const std::vector<HungWeight> weights{{1e-3, 0.1, 101}, {2e-3, 0.1, 198}, {3e-3, 0.1, 301}};
  const auto fit = fit_scale(weights, std::nullopt, 0, 0).value();
  const double sigma = std::sqrt(6.0), slope = 100 / h;
  for (const double steps : {-2.0, -1.0, 0.0, 1.0, 4.0}) {
    const double expected = sigma / slope * std::sqrt(1.0 / 3 + steps * steps / 2);
    const auto read = scale_torque(fit, 200 + 100 * steps, 0);
    EXPECT_NEAR(read.torque_Nm, (2 + steps) * h, 1e-12);
    EXPECT_NEAR(read.sigma_Nm, expected, 1e-9 * expected) << steps;
  }
}

TEST(ScaleFit, BentScaleIsTold) {
  std::vector<HungWeight> weights;
  for (int i = 1; i <= 6; ++i) weights.push_back({i * 1e-3, 0.05, 10.0 * i + 0.5 * i * i});
  const auto fit = fit_scale(weights, 0.0, 0.2, 0).value();
  EXPECT_THAT(fit.notes, ::testing::Contains(::testing::HasSubstr("bent")));
}

TEST(ScaleFit, TooFewOrEqualWeightsAreRefused) {
  EXPECT_FALSE(fit_scale({{1e-3, 0.05, 10}, {2e-3, 0.05, 20}}, std::nullopt, 1, 0));
  EXPECT_TRUE(fit_scale({{1e-3, 0.05, 10}}, 0.0, 1, 0));
  const auto equal =
      fit_scale({{1e-3, 0.05, 10}, {1e-3, 0.05, 11}, {1e-3, 0.05, 10}}, std::nullopt, 1, 0);
  ASSERT_FALSE(equal);
  EXPECT_EQ(equal.error()[0].field, "weights");
  const auto arm = fit_scale({{1e-3, 5, 10}}, 0.0, 1, 0);
  ASSERT_FALSE(arm);
  EXPECT_EQ(arm.error()[0].field, "weights[0].arm_m");
}

}  // namespace
}  // namespace propwright::rubber
