#include "propwright/flex/parts.h"

#include <gtest/gtest.h>

#include <cmath>

#include "flex_blade.h"

namespace propwright::flex {
namespace {

constexpr double root = 0.006, tip = 0.195, hub = 0.034;

SparPart square_spar(double length, double position = 0.4) {
  const spar::Section in{.width_m = 2e-3, .depth_m = 2e-3}, out{.width_m = 1e-3, .depth_m = 1e-3};
  return {.taper = spar::taper(in, {}, out, length),
          .root_radius_m = root,
          .position = position,
          .wood = {.density_kg_m3 = 90, .modulus_Pa = 2e9}};
}

Parts spar_alone() {
  Parts parts;
  for (int i = 0; i <= 20; ++i) {
    const double r = hub + (tip - hub) * i / 20;
    parts.plan.push_back({r, flex_test::chord_m(r), flex_test::angle_rad(r), 0.06});
  }
  parts.spar = square_spar(tip - root);
  return parts;
}

Parts built_up(double spar_length = tip - root) {
  Parts parts = spar_alone();
  parts.spar = square_spar(spar_length);
  parts.built_up = BuiltUpPart{.edge_size_m = 0.7e-3,
                               .rib_count = 8,
                               .rib_depth_m = 1.2e-3,
                               .rib_thickness_m = 0.6e-3,
                               .wood = {.density_kg_m3 = 80}};
  parts.film = {.mass_kg_m2 = 0.6e-3, .sides = 1};
  return parts;
}

TEST(Parts, BareSparIsItsOwnSection) {
  const BladeBeam beam = beam_of(spar_alone()).value();
  EXPECT_DOUBLE_EQ(beam.rows.front().radius_m, root);
  EXPECT_NEAR(beam.rows.front().flapwise_Nm2, 2e9 * 16e-12 / 12, 1e-12);
  // Square bar: J = 0.1406 a^4 (Timoshenko & Goodier), G = 0.044 E.
  EXPECT_NEAR(beam.rows.front().torsion_Nm2, 0.044 * 2e9 * 0.1406 * 16e-12, 1e-3 * 2e-4);
  EXPECT_NEAR(beam.rows.back().flapwise_Nm2, 2e9 * 1e-12 / 12, 1e-12);
  for (const BeamRow& row : beam.rows) {
    if (row.radius_m > hub + 1e-9) {
      EXPECT_NEAR(row.behind_quarter_m, 0.15 * std::max(flex_test::chord_m(row.radius_m), 1e-3),
                  3e-4);
    }
  }
}

// Square taper under an end load: P L^3/(3 k EI_root), 24 rows of a straight EI between.
TEST(Parts, BareSparBendsAsATaperedCantilever) {
  const BladeBeam beam = beam_of(spar_alone()).value();
  const double length = tip - root, closed = std::pow(length, 3) / (3 * 0.5 * 2e9 * 16e-12 / 12);
  EXPECT_NEAR(bend_compliance(beam, tip), closed, 3e-3 * closed);
}

TEST(Parts, MissingModulusIsTheUsualOneOfTheDensity) {
  Parts parts = spar_alone();
  parts.spar->wood = {.density_kg_m3 = 160};
  // 3.4 GPa at 160 kg/m3 (USDA Wood Handbook).
  EXPECT_NEAR(beam_of(parts).value().rows.front().flapwise_Nm2, 3.4e9 * 16e-12 / 12, 1e-9);
}

TEST(Parts, FilmOnOneSideClosesNoTube) {
  Parts open = built_up(), closed = built_up();
  closed.film.sides = 2;
  Parts bare = built_up();
  bare.film = {};
  const double radius = 0.14;
  EXPECT_DOUBLE_EQ(twist_compliance(beam_of(open).value(), radius),
                   twist_compliance(beam_of(bare).value(), radius));
  EXPECT_LT(twist_compliance(beam_of(closed).value(), radius),
            0.8 * twist_compliance(beam_of(open).value(), radius));
}

// Without film nothing carries shear to the edges: both EI are the sums of the parts' own.
TEST(Parts, EdgesWithoutFilmAddOnlyTheirOwnStiffness) {
  Parts bare = built_up();
  bare.film = {};
  const double edge = 21.25e6 * 80 * std::pow(0.7e-3, 4) / 12;
  const BladeBeam with = beam_of(bare).value(), without = beam_of(spar_alone()).value();
  EXPECT_NEAR(with.rows.back().flapwise_Nm2, without.rows.back().flapwise_Nm2 + 2 * edge, 1e-12);
  const BladeBeam covered = beam_of(built_up()).value();
  EXPECT_LT(bend_compliance(covered, 0.15), bend_compliance(with, 0.15));
}

TEST(Parts, FullyConnectedEdgesReachTheBoomsOfTheTextbook) {
  Parts parts = built_up();
  parts.film = {.mass_kg_m2 = 50, .sides = 1};  // so much film that nothing slips
  for (PlanRow& row : parts.plan) row.camber = 0;
  parts.spar->position = 0.5;
  const BladeBeam beam = beam_of(parts).value();
  const double e = 21.25e6 * 80, area = 0.49e-6;
  for (const BeamRow& row : beam.rows) {
    if (row.radius_m < 0.1 || row.radius_m > 0.12) continue;
    const double c = flex_test::chord_m(row.radius_m);
    const double side = 2e-3 - 1e-3 * (row.radius_m - root) / (tip - root);
    const double closed =
        2e9 * std::pow(side, 4) / 12 + 2 * (e * std::pow(0.7e-3, 4) / 12 + e * area * c * c / 4);
    EXPECT_NEAR(row.chordwise_Nm2, closed, 1e-3 * closed);
  }
}

// An arched sheet: c t^3/12 + 4/45 c t h^2, the second moment of a parabola.
TEST(Parts, ArchStiffensASheet) {
  Parts parts = spar_alone();
  parts.spar.reset();
  parts.sheet = SheetPart{.thickness_m = 0.4e-3, .wood = {.density_kg_m3 = 100}};
  const BladeBeam beam = beam_of(parts).value();
  EXPECT_DOUBLE_EQ(beam.rows.front().radius_m, hub);
  const double c = flex_test::chord_m(hub), h = 0.06 * c, t = 0.4e-3, e = 2.125e9;
  const double slices = 20000;
  double moment = 0;  // of the parabola about its mean, by slices
  for (int i = 0; i < slices; ++i) {
    const double s = (i + 0.5) / slices, z = 4 * h * s * (1 - s) - 2.0 / 3 * h;
    moment += z * z * t * c / slices;
  }
  EXPECT_NEAR(beam.rows.front().flapwise_Nm2, e * (c * t * t * t / 12 + moment), 1e-9);
  // It twists about its middle: a quarter of the chord behind the quarter point.
  EXPECT_NEAR(beam.rows.front().behind_quarter_m, 0.25 * c, 1e-12);
}

TEST(Parts, TestsOfTheFinishedBladeScaleIt) {
  const BladeBeam beam = beam_of(built_up()).value();
  const TwistCheck twist{.radius_m = 0.15, .torque_Nm = 2e-5, .angle_rad = 0.1};
  const BendCheck bend{.radius_m = 0.17, .load_N = 5e-3, .deflection_m = 6e-3};
  const BladeBeam turned = scaled_to(beam, twist).value(), bent = scaled_to(turned, bend).value();
  EXPECT_NEAR(twist_compliance(bent, 0.15), 0.1 / 2e-5, 1e-9 * 5000);
  EXPECT_NEAR(bend_compliance(bent, 0.17), 6e-3 / 5e-3, 1e-9);
  EXPECT_FALSE(scaled_to(beam, TwistCheck{.radius_m = 0.15, .torque_Nm = 2, .angle_rad = 0.1}));
}

// A uniform stick under an end load breaks at the root: P = rupture I/(z L); its energy is that of
// the bent cantilever, P^2 L^3/(6 EI).
TEST(TipStrike, UniformStickIsTheCantilever) {
  Parts parts = spar_alone();
  const spar::Section stick{.width_m = 2e-3, .depth_m = 2e-3};
  parts.spar->taper = spar::taper(stick, {}, stick, tip - root);
  const TipStrike strike = tip_strike(beam_of(parts).value(), Strike::flapwise).value();
  const double length = tip - root, inertia = 16e-12 / 12, rupture = 0.135e6 * 90;
  const double load = rupture * inertia / (1e-3 * length);
  EXPECT_NEAR(strike.load_N, load, 1e-9);
  EXPECT_DOUBLE_EQ(strike.break_radius_m, root);
  EXPECT_NEAR(strike.energy_J, load * load * std::pow(length, 3) / (6 * 2e9 * inertia), 1e-9);
}

// Stress of a square taper of k < 2/3 under an end load is greatest at k L/(2 (1 - k)) from the tip
// (closed form): here half way.
TEST(TipStrike, ThinTaperBreaksOutboard) {
  const TipStrike strike = tip_strike(beam_of(spar_alone()).value(), Strike::flapwise).value();
  EXPECT_NEAR(strike.break_radius_m, tip - 0.5 * (tip - root), 0.03 * (tip - root));
}

TEST(TipStrike, SparThatStopsShortIsLighterAndItsTipWeaker) {
  const auto full = tip_strike(beam_of(built_up()).value(), Strike::flapwise).value();
  const auto stopped =
      tip_strike(beam_of(built_up(0.7 * (tip - root))).value(), Strike::flapwise).value();
  EXPECT_LT(stopped.mass_kg, full.mass_kg);
  EXPECT_LT(stopped.load_N, full.load_N);
  EXPECT_NEAR(stopped.break_radius_m, root + 0.7 * (tip - root), 1e-3);
}

TEST(Parts, TipWithoutWoodIsRefused) {
  Parts parts = spar_alone();
  parts.spar = square_spar(0.1);
  const auto made = beam_of(parts);
  ASSERT_FALSE(made);
  EXPECT_NE(made.error().front().message.find("outer part"), std::string::npos);
}

TEST(Parts, BeamFitsTheRotorAndFlares) {
  const auto flex = FlexRotor::make(flex_test::make_rotor(), beam_of(built_up()).value()).value();
  const auto state = flex.solve({0.8, 1.6}, flex_test::air).value();
  EXPECT_TRUE(state.strength.known);
  EXPECT_GT(state.strength.margin, 1);
}

}  // namespace
}  // namespace propwright::flex
