// Bisplinghoff, Ashley & Halfman, Aeroelasticity (1955), chapter 8 (from memory): the uniform
// cantilever wing under strip theory diverges at q = (pi/2)^2 GJ/(e c a l^2), e c the distance of
// the elastic axis behind the aerodynamic one. Below it the tip's twist from an angle of attack
// alpha of the whole wing is alpha (1/cos((pi/2) sqrt(q/q_D)) - 1).
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/flex/flex.h"

namespace propwright {
namespace {

constexpr double span = 0.2, torsion = 5e-5;

flex::BladeBeam wing() {
  flex::BladeBeam beam;
  for (const double r : {0.0, span}) {
    beam.rows.push_back(
        {.radius_m = r, .flapwise_Nm2 = 1, .chordwise_Nm2 = 1, .torsion_Nm2 = torsion});
  }
  return beam;
}

/// Moment about the elastic axis per angle and metre, spread over 400 strips.
std::vector<flex::TwistLoad> strips(double Nm_per_m_rad) {
  std::vector<flex::TwistLoad> loads;
  for (int i = 0; i < 400; ++i) {
    loads.push_back(
        {.radius_m = span * (i + 0.5) / 400, .twist_Nm_per_rad = Nm_per_m_rad * span / 400});
  }
  return loads;
}

TEST(BisplinghoffDivergence, UniformWing) {
  const double slope = 1e-3;
  const double closed = std::pow(base::pi / 2, 2) * torsion / (slope * span * span);
  // Straight pieces of twist stiffen the mode by (pi h/(4 l))^2/3: 6e-5 with 64 of them.
  const auto factor = flex::Beam::make(wing(), 64).value().divergence_factor(strips(slope));
  ASSERT_TRUE(factor);
  EXPECT_NEAR(*factor, closed, 3e-4 * closed);
  // 16 elements: sixteen times the error.
  EXPECT_NEAR(flex::Beam::make(wing(), 16).value().divergence_factor(strips(slope)).value(), closed,
              2e-3 * closed);
}

TEST(BisplinghoffDivergence, ElasticAxisAheadOfTheAerodynamicOneNeverDiverges) {
  EXPECT_FALSE(flex::Beam::make(wing(), 16).value().divergence_factor(strips(-1e-3)));
}

// Below divergence: moments of the wing's angle and its own twist, turn and turn about until they
// agree.
TEST(BisplinghoffDivergence, TwistBelowItIsTheSecant) {
  const flex::Beam beam = flex::Beam::make(wing(), 64).value();
  const double share = 0.5, alpha = 0.02;
  const double slope = share * std::pow(base::pi / 2, 2) * torsion / (span * span);
  std::vector<double> places, twist(400, 0.0);
  for (int i = 0; i < 400; ++i) places.push_back(span * (i + 0.5) / 400);
  places.push_back(span);
  double tip = 0;
  for (int turn = 0; turn < 60; ++turn) {
    std::vector<flex::PointLoad> loads;
    for (std::size_t i = 0; i < 400; ++i) {
      loads.push_back({.radius_m = places[i], .twist_Nm = slope * (alpha + twist[i]) * span / 400});
    }
    const auto points = beam.deflect(loads, 0, places).value();
    for (std::size_t i = 0; i < 400; ++i) twist[i] = points[i].twist_rad;
    tip = points.back().twist_rad;
  }
  const double closed = alpha * (1 / std::cos(base::pi / 2 * std::sqrt(share)) - 1);
  // 3e-4 of stiffness is magnified by 1/(1 - 0.5).
  EXPECT_NEAR(tip, closed, 6e-4 * closed);
}

}  // namespace
}  // namespace propwright
