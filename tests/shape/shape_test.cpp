// The best blade and the makeable ones, on the example job.
#include "propwright/shape/shape.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "propwright/base/constants.h"
#include "propwright/brief/file.h"
#include "propwright/form/form.h"
#include "propwright/predict/predict.h"

namespace propwright::shape {
namespace {

using testing::HasSubstr;

/// Heron 55 needs no other file.
brief::Job heron() {
  std::ifstream file(PROPWRIGHT_SOURCE_DIR "/examples/heron55.toml");
  std::ostringstream text;
  text << file.rdbuf();
  return brief::read_job(text.str(), "heron55.toml").value();
}

Request without_flights() {
  Request request;
  request.fly = false;
  return request;
}

OwnedForm of_pitch(double pitch_m) {
  OwnedForm form;
  form.pitch_m = pitch_m;
  return form;
}

TEST(Shape, TakesTheConditionOfTheFlightsCruise) {
  const brief::Job job = heron();
  const auto shape = shape::shape(job, {}, without_flights());
  ASSERT_TRUE(shape);
  const auto flown = predict::predict(job, {}).value().flight;
  EXPECT_EQ(shape->condition.speed_m_s, flown.cruise_speed_m_s);
  EXPECT_EQ(shape->condition.rev_per_s, flown.cruise_rev_per_s);
  EXPECT_EQ(shape->thrust_N, flown.cruise_thrust_N);
}

TEST(Shape, EveryBladeGivesTheWantedThrust) {
  Request request = without_flights();
  request.forms = {of_pitch(0.8), of_pitch(1.0)};
  request.cylinders = {{"tube", 0.15}};
  const auto shape = shape::shape(heron(), {}, request);
  ASSERT_TRUE(shape);
  ASSERT_EQ(shape->makeable.size(), 4u);
  for (const Candidate& c : shape->makeable) {
    const auto rotor = rotor::Rotor::make(c.blade, section::Family::thin_arc(), {.stations = 100});
    const auto loads = rotor->solve(shape->condition, shape->flow)->loads;
    // Set with 24 stations, checked with 100: 2e-3 (rotor tests).
    EXPECT_NEAR(loads.thrust_N / shape->thrust_N, 1, 3e-3) << to_text(c.kind);
    EXPECT_NEAR(loads.torque_Nm / c.torque_Nm, 1, 3e-3) << to_text(c.kind);
    EXPECT_GT(c.efficiency, 0.5) << to_text(c.kind);
    // Nothing is better than least loss by more than what its condition leaves out.
    EXPECT_LT(c.efficiency, shape->ideal.efficiency + 0.003) << to_text(c.kind);
  }
}

// The job's own analysis, with the open spar inside the blade, finds what the comparison tells: the
// cubics between the rows and their rounding are worth 1e-3.
TEST(Shape, BladesFlownGiveTheThrustAndTorqueTold) {
  const brief::Job job = heron();
  Request request = without_flights();
  request.forms = {of_pitch(0.8)};
  request.cylinders = {{"tube", 0.15}};
  const auto shape = shape::shape(job, {}, request);
  ASSERT_TRUE(shape);
  std::vector<Candidate> all = shape->makeable;
  all.push_back(shape->ideal);
  for (const Candidate& c : all) {
    const auto assembly = brief::assemble(with_blade(job, c, "shaped"), {});
    ASSERT_TRUE(assembly) << to_text(c.kind);
    ASSERT_GT(assembly->blade.arm_diameter_m, 0);
    const auto rotor = rotor::Rotor::make(assembly->blade, assembly->family, {.stations = 100});
    const auto loads = rotor->solve(shape->condition, shape->flow)->loads;
    EXPECT_NEAR(loads.thrust_N / shape->thrust_N, 1, 3e-3) << to_text(c.kind);
    EXPECT_NEAR(loads.torque_Nm / c.torque_Nm, 1, 3e-3) << to_text(c.kind);
  }
}

TEST(Shape, HelicalHasOnePitchAndTheFormItsOwn) {
  Request request = without_flights();
  request.forms = {of_pitch(0.8)};
  const auto shape = shape::shape(heron(), {}, request);
  ASSERT_TRUE(shape);
  const Candidate& helical = shape->makeable[0];
  const Candidate& turned = shape->makeable[1];
  for (const rotor::BladeRow& row : helical.blade.rows) {
    EXPECT_NEAR(form::local_pitch_m(row.angle_rad, row.radius_m), helical.form_pitch_m, 1e-12);
  }
  for (const rotor::BladeRow& row : turned.blade.rows) {
    EXPECT_NEAR(row.angle_rad, form::blade_angle_rad(0.8, row.radius_m) + turned.turn_rad, 1e-15);
  }
  // The form is lower than the best pitch: its blades are turned up.
  EXPECT_GT(turned.turn_rad, 0);
}

TEST(Shape, OwnedFormGivesItsCamberAndItsAnglesLessSpringback) {
  Request request = without_flights();
  OwnedForm form = of_pitch(0.8);
  form.name = "carved";
  form.camber = 0.045;
  form.angle_overbend = 1.05;
  request.forms = {form};
  const auto shape = shape::shape(heron(), {}, request);
  ASSERT_TRUE(shape);
  const Candidate& made = shape->makeable[1];
  EXPECT_EQ(made.name, "carved");
  EXPECT_EQ(made.camber, 0.045);
  for (const rotor::BladeRow& row : made.blade.rows) {
    EXPECT_NEAR(row.angle_rad, form::blade_angle_rad(0.8, row.radius_m) / 1.05 + made.turn_rad,
                1e-15);
  }
}

TEST(Shape, FormOfTheOtherHandIsANoteAndNoBlade) {
  const brief::Job job = heron();
  Request request = without_flights();
  OwnedForm same = of_pitch(0.8), other = of_pitch(0.8);
  same.hand = job.propeller.hand;
  other.hand =
      same.hand == form::Hand::clockwise ? form::Hand::anticlockwise : form::Hand::clockwise;
  other.name = "mirrored";
  request.forms = {same, other};
  const auto shape = shape::shape(job, {}, request);
  ASSERT_TRUE(shape);
  EXPECT_EQ(shape->makeable.size(), 2u);
  EXPECT_THAT(shape->notes, testing::Contains("mirrored: its blades turn the other way"));
}

TEST(Shape, FormSmallerThanTheBladeIsToldSo) {
  Request request = without_flights();
  OwnedForm small = of_pitch(0.8), large = of_pitch(0.8);
  small.from_radius_m = 0.1;
  small.to_radius_m = 0.2;
  small.width_m = 0.02;
  large.from_radius_m = 0.0;
  large.to_radius_m = 0.5;
  large.width_m = 0.3;
  request.forms = {small, large};
  const auto shape = shape::shape(heron(), {}, request);
  ASSERT_TRUE(shape);
  EXPECT_THAT(shape->makeable[1].notes,
              testing::ElementsAre(HasSubstr("begins at 100 mm"), HasSubstr("ends at 200 mm"),
                                   HasSubstr("chords up to 20 mm")));
  EXPECT_TRUE(shape->makeable[2].notes.empty());
}

TEST(Shape, OfTheBestPitchIsTurnedByNothing) {
  Request request = without_flights();
  const auto first = shape::shape(heron(), {}, request);
  ASSERT_TRUE(first);
  request.forms = {of_pitch(first->makeable.front().form_pitch_m)};
  const auto second = shape::shape(heron(), {}, request);
  ASSERT_TRUE(second);
  EXPECT_NEAR(second->makeable[1].turn_rad, 0, 1e-7);
  EXPECT_NEAR(second->makeable[1].efficiency, second->makeable[0].efficiency, 1e-7);
}

TEST(Shape, CylinderDecidesTheCamber) {
  Request request = without_flights();
  request.cylinders = {{"pipe", 0.16}, {"tube", 0.1}};
  const auto shape = shape::shape(heron(), {}, request);
  ASSERT_TRUE(shape);
  const Candidate &wide = shape->makeable[1], &narrow = shape->makeable[2];
  EXPECT_GT(narrow.camber, wide.camber);
  for (std::size_t i = 0; i < wide.blade.rows.size(); ++i) {
    EXPECT_NEAR(wide.blade.rows[i].camber,
                form::cylinder_camber(0.08, wide.skew_rad, wide.blade.rows[i].chord_m), 1e-12);
  }
}

TEST(Shape, CylinderThatCannotTwistSoMuchIsANote) {
  Request request = without_flights();
  request.cylinders = {{"barrel", 0.9}};
  const auto shape = shape::shape(heron(), {}, request);
  ASSERT_TRUE(shape);
  EXPECT_EQ(shape->makeable.size(), 1u);
  EXPECT_THAT(shape->notes, testing::Contains(HasSubstr("barrel: the cylinder cannot twist")));
}

TEST(Shape, DurationIsThatOfTheJobWithTheBlade) {
  const brief::Job job = heron();
  const auto shape = shape::shape(job, {}, {});
  ASSERT_TRUE(shape);
  const Candidate& helical = shape->makeable.front();
  const brief::Job with = with_blade(job, helical, "helical");
  // Through the job file and back: what is written flies the same.
  const auto again = brief::read_job(brief::write_job(with), "written.toml");
  ASSERT_TRUE(again) << base::to_line(again.error().front());
  const auto flown = predict::predict(*again, {});
  ASSERT_TRUE(flown) << base::to_line(flown.error().front());
  ASSERT_TRUE(helical.duration_s);
  EXPECT_EQ(flown->flight.duration_s, *helical.duration_s);
}

TEST(Shape, FreeRevsAreNoWorse) {
  Request request = without_flights();
  const auto fixed = shape::shape(heron(), {}, request);
  request.free_revs = true;
  const auto free = shape::shape(heron(), {}, request);
  ASSERT_TRUE(fixed && free);
  EXPECT_GE(free->ideal.efficiency, fixed->ideal.efficiency);
}

TEST(Shape, ThrustThatNoBladeGivesIsNoSolution) {
  Request request = without_flights();
  request.thrust_N = 1;
  const auto refused = shape::shape(heron(), {}, request);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().kind, base::Kind::no_solution);
}

}  // namespace
}  // namespace propwright::shape
