// Closed forms of the strength of materials (Timoshenko; Roark: cantilevers, rods in torsion) and
// of rotating beams.
#include "propwright/flex/beam.h"

#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::flex {
namespace {

constexpr double length = 0.2;

BladeBeam uniform(double flapwise = 2e-3, double chordwise = 2e-3, double torsion = 5e-5) {
  BladeBeam beam;
  for (const double r : {0.0, length}) {
    beam.rows.push_back({.radius_m = r,
                         .flapwise_Nm2 = flapwise,
                         .chordwise_Nm2 = chordwise,
                         .torsion_Nm2 = torsion});
  }
  return beam;
}

BeamPoint tip_of(const BladeBeam& beam, const std::vector<PointLoad>& loads, double rev_per_s = 0,
                 int elements = 16) {
  return Beam::make(beam, elements).value().deflect(loads, rev_per_s, {length}).value().front();
}

// Cubic elements give nodal values of a uniform beam exactly; what is left is rounding.
TEST(Cantilever, EndLoadTipIsPL3Over3EI) {
  const BeamPoint tip = tip_of(uniform(), {{.radius_m = length, .out_of_disc_N = 1e-3}});
  EXPECT_NEAR(tip.out_of_disc_m, 1e-3 * std::pow(length, 3) / (3 * 2e-3), 1e-9 * tip.out_of_disc_m);
  EXPECT_EQ(tip.in_disc_m, 0);
}

TEST(Cantilever, LoadAtAReadAtTheTip) {
  const double a = 0.125;  // a node of 16 elements
  const BeamPoint tip = tip_of(uniform(), {{.radius_m = a, .in_disc_N = 1e-3}});
  EXPECT_NEAR(tip.in_disc_m, 1e-3 * a * a * (3 * length - a) / (6 * 2e-3), 1e-9 * tip.in_disc_m);
}

// Square taper: c P L^3/(E I_root) with c = 1/(3 k). EI runs straight between 400 rows: 5e-6 off.
TEST(Cantilever, SquareTaperIsOneOverThreeK) {
  for (const double k : {0.75, 0.5, 0.25}) {
    BladeBeam beam;
    for (int i = 0; i <= 400; ++i) {
      BeamRow row = uniform().rows.front();
      row.radius_m = length * i / 400;
      row.flapwise_Nm2 = row.chordwise_Nm2 = 2e-3 * std::pow(1 - (1 - k) * i / 400, 4);
      beam.rows.push_back(row);
    }
    const BeamPoint tip = tip_of(beam, {{.radius_m = length, .out_of_disc_N = 1e-3}}, 0, 64);
    const double closed = 1e-3 * std::pow(length, 3) / (3 * k * 2e-3);
    EXPECT_NEAR(tip.out_of_disc_m, closed, 3e-5 * closed) << k;
  }
}

// A step in the middle: the flexibilities of both halves add up, M^2 integrated over each.
TEST(Cantilever, StepInStiffnessIsTakenWhereItLies) {
  BladeBeam beam = uniform();
  BeamRow inner = beam.rows.front(), outer = beam.rows.back();
  inner.radius_m = outer.radius_m = 0.13;
  outer.flapwise_Nm2 = 1e-4;
  beam.rows.insert(beam.rows.begin() + 1, {inner, outer});
  beam.rows.back().flapwise_Nm2 = 1e-4;
  const double p = 1e-4, out = length - 0.13;
  const BeamPoint tip = tip_of(beam, {{.radius_m = length, .out_of_disc_N = p}});
  const double closed =
      p * ((std::pow(length, 3) - std::pow(out, 3)) / (3 * 2e-3) + std::pow(out, 3) / (3 * 1e-4));
  EXPECT_NEAR(tip.out_of_disc_m, closed, 1e-9 * closed);
}

// 1 x 2 mm, 150 mm, 3 GPa, 0.010 N at 45 degrees to the axes: 14.0625 mm along the load, 8.4375 mm
// across it (resolved on the principal axes: 5.625 and 22.5 mm).
TEST(Cantilever, UnsymmetricalBendingLeavesTheLoadsDirection) {
  BladeBeam beam = uniform(3e9 * 1e-3 * 8e-9 / 12, 3e9 * 2e-3 * 1e-9 / 12);
  beam.rows.back().radius_m = 0.15;
  for (BeamRow& row : beam.rows) row.angle_rad = base::pi / 4;
  // In an infinitely stiff torsion tube: closed form of the untwisted beam.
  for (BeamRow& row : beam.rows) row.torsion_Nm2 = 1e6;
  const auto tip = Beam::make(beam)
                       .value()
                       .deflect({{.radius_m = 0.15, .out_of_disc_N = 0.010}}, 0, {0.15})
                       .value()
                       .front();
  EXPECT_NEAR(tip.out_of_disc_m, 14.0625e-3, 1e-9);
  // The soft direction is that of the chord, forward and up.
  EXPECT_NEAR(tip.in_disc_m, 8.4375e-3, 1e-9);
}

TEST(Cantilever, PrincipalTurnStandsForATurnOfTheBlade) {
  BladeBeam turned = uniform(2e-3, 5e-4), set = turned;
  for (BeamRow& row : turned.rows) row.principal_rad = 0.4;
  for (BeamRow& row : set.rows) row.angle_rad = 0.4;
  const std::vector<PointLoad> loads{{.radius_m = length, .out_of_disc_N = 1e-3}};
  EXPECT_NEAR(tip_of(turned, loads).in_disc_m, tip_of(set, loads).in_disc_m, 1e-12);
  EXPECT_NE(tip_of(turned, loads).in_disc_m, 0);
}

TEST(Socket, AddsItsOwnTurn) {
  BladeBeam beam = uniform();
  beam.socket = {.out_of_disc_Nm = 0.05, .in_disc_Nm = 0.1, .twist_Nm = 2e-3};
  const BeamPoint tip = tip_of(
      beam, {{.radius_m = length, .in_disc_N = 1e-3, .out_of_disc_N = 1e-3, .twist_Nm = 1e-6}});
  const double bent = 1e-3 * std::pow(length, 3) / (3 * 2e-3);
  EXPECT_NEAR(tip.out_of_disc_m, bent + 1e-3 * length * length / 0.05, 1e-9);
  EXPECT_NEAR(tip.in_disc_m, bent + 1e-3 * length * length / 0.1, 1e-9);
  EXPECT_NEAR(tip.twist_rad, 1e-6 * (length / 5e-5 + 1 / 2e-3), 1e-9);
}

// GJ running straight from a to b: T L ln(b/a)/(b - a). Gauss's rule on 16 elements: 1e-9.
TEST(TorsionRod, TaperedRodIsLogarithmic) {
  BladeBeam beam = uniform();
  beam.rows.back().torsion_Nm2 = 1e-5;
  const BeamPoint tip = tip_of(beam, {{.radius_m = length, .twist_Nm = 1e-6}});
  const double closed = 1e-6 * length * std::log(1e-5 / 5e-5) / (1e-5 - 5e-5);
  EXPECT_NEAR(tip.twist_rad, closed, 1e-7 * closed);
}

// Round taper, J as the fourth power of the diameter: T L/(GJ_root) (1 + k + k^2)/(3 k^3). 400
// rows.
TEST(TorsionRod, ConeIsTheTextbooks) {
  const double k = 0.5;
  BladeBeam beam;
  for (int i = 0; i <= 400; ++i) {
    BeamRow row = uniform().rows.front();
    row.radius_m = length * i / 400;
    row.torsion_Nm2 = 5e-5 * std::pow(1 - (1 - k) * i / 400, 4);
    beam.rows.push_back(row);
  }
  const BeamPoint tip = tip_of(beam, {{.radius_m = length, .twist_Nm = 1e-6}});
  const double closed = 1e-6 * length / 5e-5 * (1 + k + k * k) / (3 * k * k * k);
  EXPECT_NEAR(tip.twist_rad, closed, 3e-5 * closed);
}

std::vector<PointLoad> even_load(double N_per_m, int points = 400) {
  std::vector<PointLoad> loads;
  for (int i = 0; i < points; ++i) {
    loads.push_back(
        {.radius_m = length * (i + 0.5) / points, .out_of_disc_N = N_per_m * length / points});
  }
  return loads;
}

BladeBeam rotating(double stiffness) {
  BladeBeam beam = uniform(stiffness, stiffness);
  for (BeamRow& row : beam.rows) row.mass_kg_per_m = 5e-4;
  return beam;
}

// A turning string without stiffness under an even load f: T = m Omega^2 (L^2 - r^2)/2 gives
// w' = 2 f/(m Omega^2 (L + r)) and at the tip 2 f ln 2/(m Omega^2). The little stiffness left holds
// the root over sqrt(EI/T), 0.5 % of the length here, which takes as much off the tip.
TEST(RotatingBeam, TendsToTheString) {
  const double omega = 2 * base::pi * 20, f = 1e-3;
  const BeamPoint tip = tip_of(rotating(4e-6 * 5e-4 * omega * omega * 1e-4), even_load(f), 20, 128);
  const double closed = 2 * f * std::log(2.0) / (5e-4 * omega * omega);
  EXPECT_NEAR(tip.out_of_disc_m, closed, 0.01 * closed);
}

// Southwell (from memory): the stiffness of a turning beam against one pattern of load is at least
// that of the beam at rest and that of the string together; Rayleigh's principle on the work done.
// It is close to it where both bend alike.
TEST(RotatingBeam, SouthwellsLimitHolds) {
  const auto work = [&](const BladeBeam& beam, double rev_per_s) {
    const auto loads = even_load(1e-3);
    std::vector<double> radii;
    for (const PointLoad& p : loads) radii.push_back(p.radius_m);
    const auto points = Beam::make(beam, 128).value().deflect(loads, rev_per_s, radii).value();
    double sum = 0;
    for (std::size_t i = 0; i < loads.size(); ++i) {
      sum += loads[i].out_of_disc_N * points[i].out_of_disc_m;
    }
    return sum;
  };
  const double rest = work(rotating(2e-3), 0), string = work(rotating(1e-10), 12);
  const double both = work(rotating(2e-3), 12);
  EXPECT_GT(1 / both, 1 / rest + 1 / string);
  EXPECT_LT(1 / both, 1.2 * (1 / rest + 1 / string));
}

// The masses of a blade at 45 degrees are drawn into the disc by Omega^2 I/2 per metre.
TEST(RotatingBeam, MassesTurnTheBladeIntoTheDisc) {
  BladeBeam beam = uniform();
  for (BeamRow& row : beam.rows) {
    row.inertia_kg_m = 1e-7;
    row.angle_rad = base::pi / 4;
  }
  const double omega = 2 * base::pi * 2;
  const BeamPoint tip = tip_of(beam, {}, 2, 64);
  const double closed = -omega * omega * 1e-7 / 2 * length * length / (2 * 5e-5);
  // The twist, 0.036 degree, changes sin cos in the second order only.
  EXPECT_NEAR(tip.twist_rad, closed, 1e-4 * std::abs(closed));
}

// Lateral buckling of a narrow strip under an end load (Prandtl 1899, Michell 1899; Timoshenko &
// Gere, Theory of Elastic Stability): 4.0126 sqrt(EI GJ)/L^2 over the root of 1 - EI/EI_stiff. It
// needs bending to follow the twist and twist to follow bending. 48 elements: 1e-4.
TEST(LateralBuckling, NarrowStripUnderAnEndLoad) {
  const Beam beam = Beam::make(uniform(2e-5, 2.0, 5e-5), 48).value();
  const double critical = 4.0126 * std::sqrt(2e-5 * 5e-5) / (length * length);
  const auto under = [&](double load) {
    return beam.deflect({{.radius_m = length, .in_disc_N = load, .out_of_disc_N = 1e-9}}, 0,
                        {length});
  };
  EXPECT_TRUE(under(0.999 * critical));
  EXPECT_FALSE(under(1.001 * critical));
  // A small side load is magnified on the way there.
  EXPECT_GT(under(0.9 * critical).value().front().out_of_disc_m,
            3 * under(0).value().front().out_of_disc_m);
}

TEST(Beam, WhatCannotBeIsNamedRowByRow) {
  BladeBeam beam = uniform();
  beam.rows[1].torsion_Nm2 = 0;
  beam.rows[1].mass_kg_per_m = -1;
  const auto made = Beam::make(beam, 2);
  ASSERT_FALSE(made);
  ASSERT_EQ(made.error().size(), 3U);
  EXPECT_EQ(made.error()[0].field, "beam row 2: torsional stiffness");
  EXPECT_EQ(made.error()[1].field, "beam row 2: mass");
  EXPECT_EQ(made.error()[2].field, "elements");
}

}  // namespace
}  // namespace propwright::flex
