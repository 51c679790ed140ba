#include "propwright/asbuilt/ledger.h"

#include <gtest/gtest.h>

#include <cmath>

#include "asbuilt_design.h"

namespace propwright::asbuilt {
namespace {

using asbuilt_test::flexing_design;
using asbuilt_test::off_by;
using asbuilt_test::rigid_design;
using base::degree_rad;

const Design& rigid() {
  static const Design design = rigid_design();
  return design;
}
const Sensitivities& rigid_seconds() {
  static const Sensitivities s = sensitivities(rigid(), {}).value();
  return s;
}
const Design& flexing() {
  static const Design design = flexing_design();
  return design;
}
const Sensitivities& flexing_seconds() {
  static const Sensitivities s = sensitivities(flexing(), {}).value();
  return s;
}

BladeDeviation with(BladeDeviation d, Aspect aspect, double value, double sigma = 0) {
  const auto i = static_cast<std::size_t>(aspect);
  d.value[i] = value;
  d.sigma[i] = sigma;
  d.measured[i] = true;
  return d;
}

TEST(SecondsOfAPair, PerfectPairIsTheDesignsFlight) {
  EXPECT_DOUBLE_EQ(rigid_seconds().perfect_s, flight::fly(rigid().setup).value().duration_s);
  const Ledger l = ledger(rigid(), rigid_seconds(), {}, {}).value();
  EXPECT_DOUBLE_EQ(l.duration_s, l.perfect_s);
  EXPECT_EQ(l.sum_s, 0);
  EXPECT_TRUE(l.flaws.empty());
}

TEST(SecondsOfAPair, PerfectReadingsCostExactlyNothing) {
  BladeDeviation d;
  for (std::size_t i = 0; i < aspect_count; ++i) d = with(d, static_cast<Aspect>(i), 0);
  const Ledger l = ledger(flexing(), flexing_seconds(), d, d).value();
  EXPECT_EQ(l.sum_s, 0);
  EXPECT_EQ(l.cross_s, 0);
  for (const Flaw& flaw : l.flaws) EXPECT_EQ(flaw.seconds, 0) << flaw.key;
}

TEST(SecondsOfAPair, RigidBladesKnowNoStiffness) {
  for (const Aspect a : {Aspect::flapwise, Aspect::chordwise, Aspect::torsion, Aspect::spar_turn}) {
    EXPECT_FALSE(rigid_seconds().at(a).known);
    EXPECT_TRUE(flexing_seconds().at(a).known);
  }
}

// The parabola goes through the flights one step to either side; between them it is held against a
// flight of its own. A third order of the duration as great as the second at the full step would
// leave 1/4 of the second at half of it.
TEST(SecondsOfAPair, ParabolaAgreesWithAFlightBetweenItsPoints) {
  for (const Aspect aspect : {Aspect::angle, Aspect::twist, Aspect::length, Aspect::camber}) {
    const Seconds& s = rigid_seconds().at(aspect);
    ASSERT_TRUE(s.known);
    const double x = s.step / 2;
    const BladeDeviation d = off_by(aspect, x);
    const Ledger l = ledger(rigid(), rigid_seconds(), d, d).value();
    const double bend = std::abs(s.curvature) * s.step * s.step;
    EXPECT_NEAR(l.duration_s - l.perfect_s, s.both(x), 0.05 + bend / 4) << key_of(aspect);
  }
}

TEST(SecondsOfAPair, HeavierBladesFlyShorter) {
  const BladeDeviation d = off_by(Aspect::mass, 10e-6);
  const Ledger l = ledger(rigid(), rigid_seconds(), d, d).value();
  EXPECT_LT(l.duration_s, l.perfect_s);
  EXPECT_GT(l.flaws.front().seconds, 0);
}

// One at a time against all together: what is left over is of second order, products of two flaws.
// With flaws of half a step each, the products are at most as great as the flaws' own second
// orders, of which there are as many.
TEST(SecondsOfAPair, OneAtATimeAddsUpToAllTogetherWithinTheCrossTerms) {
  BladeDeviation a, b;
  double second_orders_s = 0;
  for (const Aspect aspect : {Aspect::angle, Aspect::length, Aspect::camber, Aspect::mass,
                              Aspect::torsion, Aspect::flapwise}) {
    const Seconds& s = flexing_seconds().at(aspect);
    a = with(a, aspect, 0.4 * s.step);
    b = with(b, aspect, -0.2 * s.step);
    second_orders_s += (std::abs(s.curvature) + std::abs(s.apart)) * s.step * s.step;
  }
  const Ledger l = ledger(flexing(), flexing_seconds(), a, b).value();
  EXPECT_DOUBLE_EQ(l.perfect_s - l.duration_s, l.sum_s + l.cross_s);
  EXPECT_LT(std::abs(l.cross_s), second_orders_s + 0.1);
}

TEST(SecondsOfAPair, BladesPulledApartCostSecondOrderOnly) {
  const Seconds& s = rigid_seconds().at(Aspect::angle);
  const Ledger l = ledger(rigid(), rigid_seconds(), off_by(Aspect::angle, s.step),
                          off_by(Aspect::angle, -s.step))
                       .value();
  EXPECT_NEAR(l.duration_s - l.perfect_s, s.pulled_apart(s.step), 1e-6);
  // Two degrees between the blades cost something, and less than both blades a degree wrong.
  EXPECT_LT(l.duration_s, l.perfect_s);
}

TEST(SecondsOfAPair, ReadingsInDoubtWidenTheInterval) {
  const BladeDeviation sure = off_by(Aspect::angle, degree_rad);
  const BladeDeviation unsure = off_by(Aspect::angle, degree_rad, 0.5 * degree_rad);
  const Flaw narrow = ledger(rigid(), rigid_seconds(), sure, sure).value().flaws.front();
  const Flaw wide = ledger(rigid(), rigid_seconds(), unsure, unsure).value().flaws.front();
  EXPECT_LT(narrow.high_s - narrow.low_s, wide.high_s - wide.low_s);
  EXPECT_NEAR(wide.high_s - wide.low_s, 2 * 1.645 * wide.sigma_s, 1e-9);
}

TEST(SecondsOfAPair, ModelsDoubtIsFoundInMovedWorlds) {
  World dragged{.setup = rigid().setup};
  dragged.setup.airframe.drag.profile_cd_min *= 1.1;
  World turned{.turn_rad = 0.5 * degree_rad, .setup = rigid().setup, .same_propeller = false};
  dragged.doubt = "drag";
  turned.doubt = "angle";
  const Sensitivities s = sensitivities(rigid(), {dragged, turned}).value();
  EXPECT_EQ(rigid_seconds().at(Aspect::angle).slope_sigma, 0);
  // On a parabola the slope of a world turned by t differs by 2 t times the curvature; half of it
  // is room for the third order.
  const Seconds& angle = s.at(Aspect::angle);
  EXPECT_GT(angle.slope_sigma, std::abs(angle.curvature) * 0.5 * degree_rad);
  EXPECT_DOUBLE_EQ(angle.slope, rigid_seconds().at(Aspect::angle).slope);
}

// A stiffer blade, less moved by its sections' moment, is that world's design.
TEST(SecondsOfAPair, AWorldOfAnotherStiffnessFliesTheStifferBlade) {
  const World stiff{
      .stiffness = 1.3, .moment = 0.8, .setup = flexing().setup, .same_propeller = false};
  const Sensitivities s = sensitivities(flexing(), {stiff}).value();
  Design there = flexing();
  for (flex::BeamRow& row : there.beam->rows) {
    row.flapwise_Nm2 *= 1.3;
    row.chordwise_Nm2 *= 1.3;
    row.torsion_Nm2 *= 1.3;
  }
  there.flex_options.moment_factor *= 0.8;
  // Mass is flown with the world's own map, one step up.
  const auto step_up = [](const Seconds& mass) { return mass.slope + mass.curvature * mass.step; };
  const double here = step_up(flexing_seconds().at(Aspect::mass));
  const double change = step_up(sensitivities(there, {}).value().at(Aspect::mass)) - here;
  EXPECT_GT(std::abs(change), 0.01 * std::abs(here));
  EXPECT_NEAR(s.at(Aspect::mass).slope_sigma, std::abs(change), 1e-6 * std::abs(change));
}

// A world of other sections is flown with its own map of the design and the aspects' changes of
// load from home. Against all of it found anew in that world, its change of slope comes within a
// quarter: it is a doubt, and one digit of it is shown.
TEST(SecondsOfAPair, DoubtOfTheSectionsIsNearlyThatOfAWorldFoundAnew) {
  const World thick{.shift = {.drag = 0.15}, .setup = rigid().setup, .same_propeller = false};
  const Sensitivities s = sensitivities(rigid(), {thick}).value();
  Design there = rigid();
  there.shift = thick.shift;
  const Sensitivities anew = sensitivities(there, {}).value();
  for (const Aspect aspect : {Aspect::angle, Aspect::camber, Aspect::length}) {
    const double h = s.at(aspect).step;
    const double change =
        std::abs(anew.at(aspect).both(h) - rigid_seconds().at(aspect).both(h)) / h;
    EXPECT_NEAR(s.at(aspect).slope_sigma, change, 0.25 * change) << key_of(aspect);
  }
}

TEST(SecondsOfAPair, TheLargestDoubtIsNamedAndTwoHalvesWeighAsOneWhole) {
  World dragged{.doubt = "drag", .setup = rigid().setup};
  dragged.setup.airframe.drag.profile_cd_min *= 1.1;
  World hardly{.doubt = "mass", .setup = rigid().setup};
  hardly.setup.airframe.mass_kg += 1e-7;
  World half = dragged;
  half.weight = 0.5;
  const Seconds whole = sensitivities(rigid(), {hardly, dragged}).value().at(Aspect::angle);
  const Seconds halves = sensitivities(rigid(), {half, hardly, half}).value().at(Aspect::angle);
  EXPECT_EQ(whole.doubt, "drag");
  EXPECT_GT(whole.slope_sigma, 0);
  EXPECT_DOUBLE_EQ(whole.slope_sigma, halves.slope_sigma);
}

TEST(SecondsOfAPair, ThreadsDoNotMatter) {
  const EachOf backwards = [](std::size_t count, const std::function<void(std::size_t)>& work) {
    for (std::size_t i = count; i-- > 0;) work(i);
  };
  World dragged{.setup = rigid().setup};
  dragged.setup.airframe.drag.profile_cd_min *= 1.1;
  const Sensitivities one = sensitivities(rigid(), {dragged}).value();
  const Sensitivities other = sensitivities(rigid(), {dragged}, backwards).value();
  for (std::size_t i = 0; i < aspect_count; ++i) {
    EXPECT_EQ(one.of[i].slope, other.of[i].slope);
    EXPECT_EQ(one.of[i].slope_sigma, other.of[i].slope_sigma);
  }
}

TEST(SecondsOfAPair, InchesAreToldInInches) {
  Design design = rigid();
  design.profile = units::Profile::inch;
  const BladeDeviation d = off_by(Aspect::length, 0.0254e-2);
  const Ledger l = ledger(design, rigid_seconds(), d, d).value();
  EXPECT_EQ(l.flaws.front().label, "both blades long by 0.010\u00A0in");
}

TEST(SecondsOfAPair, EveryFlawSaysWhatToDo) {
  BladeDeviation a, b;
  for (std::size_t i = 0; i < aspect_count; ++i) {
    const double step = flexing_seconds().of[i].step;
    a = with(a, static_cast<Aspect>(i), 0.5 * step);
    b = with(b, static_cast<Aspect>(i), -0.3 * step);
  }
  const Ledger l = ledger(flexing(), flexing_seconds(), a, b).value();
  EXPECT_EQ(l.flaws.size(), 2 * aspect_count);  // imbalance stands for the masses' difference
  for (const Flaw& flaw : l.flaws) {
    EXPECT_TRUE(flaw.advice.ends_with(".")) << flaw.advice;
    EXPECT_EQ(flaw.advice.find("{}"), std::string::npos) << flaw.advice;
    EXPECT_FALSE(flaw.label.empty());
    EXPECT_TRUE(std::isfinite(flaw.seconds + flaw.low_s + flaw.high_s));
  }
  for (std::size_t i = 1; i < l.flaws.size(); ++i) {
    EXPECT_GE(std::abs(l.flaws[i - 1].seconds), std::abs(l.flaws[i].seconds));
  }
}

TEST(ToleranceCard, HasARowForEveryAspectKnownAndCostsNothingLessThanNothing) {
  EXPECT_EQ(tolerance_card(rigid(), rigid_seconds()).size(), 5U);
  const auto card = tolerance_card(flexing(), flexing_seconds());
  EXPECT_EQ(card.size(), aspect_count);
  for (const Tolerance& t : card) {
    EXPECT_GE(t.both_s, 0) << t.label;
    EXPECT_GE(t.apart_s, 0) << t.label;
  }
}

TEST(ToleranceCard, ThreeMilligramsCostWhatTheMassLedgerSays) {
  const auto card = tolerance_card(rigid(), rigid_seconds());
  const auto mass = std::find_if(card.begin(), card.end(),
                                 [](const Tolerance& t) { return t.aspect == Aspect::mass; });
  ASSERT_NE(mass, card.end());
  EXPECT_DOUBLE_EQ(mass->both_s, -rigid_seconds().at(Aspect::mass).both(3e-6));
}

}  // namespace
}  // namespace propwright::asbuilt
