// Wires of torque meters: what builders posted of theirs (indoor-construction mailing-list archive
// 2005-2019), and the handbook's torque per turn (round-wire formula with G 79.3 GPa, spring-trade
// data sheet).
#include <gtest/gtest.h>

#include "propwright/base/constants.h"
#include "propwright/rubber/torque_meter.h"

namespace propwright::rubber {
namespace {

constexpr double wire_inch_m = 0.0254;
constexpr double ozf_in_Nm = 0.45359237 / 16 * base::gravity_m_s2 * wire_inch_m;
constexpr double gf_cm_Nm = 1e-5 * base::gravity_m_s2;

TEST(TorqueWireArchive, PostedMetersLieWithinNinePercent) {
  // Diameter and length in inches, torque per turn. They spread by -8 to +8 %: a diameter told to a
  // thousandth of an inch alone, 1 to 2 % of it here, counts fourfold.
  const struct {
    double diameter_in, length_in, per_turn_Nm;
  } posted[] = {{0.012, 4.46, 0.55 * ozf_in_Nm},
                {0.015, 4.92, 1.17 * ozf_in_Nm},
                {0.016, 11, 45 * gf_cm_Nm},
                {0.011, 7.4, 0.24 * ozf_in_Nm}};
  for (const auto& meter : posted) {
    const auto rate = wire_rate({.diameter_m = meter.diameter_in * wire_inch_m,
                                 .length_m = meter.length_in * wire_inch_m})
                          .value();
    const double per_turn_Nm = 2 * base::pi * rate.rate_Nm_rad;
    EXPECT_NEAR(per_turn_Nm / meter.per_turn_Nm, 1, 0.09) << meter.diameter_in;
    // What the program says of its own doubt covers half of that as one sigma.
    EXPECT_GT(rate.sigma_Nm_rad / rate.rate_Nm_rad, 0.045) << meter.diameter_in;
  }
}

TEST(TorqueWireArchive, HandbookTorquePerTurnOfHundredMillimetres) {
  // Diameter in inches, N mm per turn; told to seven digits.
  const double handbook[][2] = {{0.006, 0.26387},  {0.010, 2.03605},  {0.013, 5.81515},
                                {0.016, 13.34344}, {0.020, 32.57675}, {0.032, 213.49501}};
  for (const auto& [diameter_in, per_turn] : handbook) {
    const auto rate = wire_rate({.diameter_m = diameter_in * wire_inch_m, .length_m = 0.1}).value();
    EXPECT_NEAR(1e3 * 2 * base::pi * rate.rate_Nm_rad / per_turn, 1, 3e-5) << diameter_in;
  }
}

}  // namespace
}  // namespace propwright::rubber
