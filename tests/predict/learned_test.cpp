// What flights taught, in a job: predictions fly it, unless it is switched off.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <string>

#include "jobs.h"
#include "propwright/base/constants.h"
#include "propwright/predict/predict.h"
#include "propwright/predict/variation.h"

namespace propwright::predict {
namespace {

using testing::Contains;
using testing::HasSubstr;

base::Expected<Nominal> flown_with(const brief::Job& job) {
  return predict(job, support::attachments(job));
}

brief::Learned learned() {
  brief::Learned l;
  l.from = "34 flights";
  l.airframe_drag = {1.08, 0.03};
  l.trim_lift = {0.97, 0.02};
  l.circle_radius = {1.1, 0.05};
  l.rubber_energy = {0.96, 0.02};
  l.polar_lift_slope = {1.04, 0.03};
  l.polar_drag = {1.07, 0.04};
  l.polar_cl_max = {0.95, 0.1};
  l.polar_zero_lift = {0.2 * base::degree_rad, 0.3 * base::degree_rad};
  l.blade_angle = {-0.3 * base::degree_rad, 0.2 * base::degree_rad};
  return l;
}

Draw draw_of(const brief::Learned& l) {
  Draw d;
  d.polar = {.lift_slope = l.polar_lift_slope.factor - 1,
             .zero_lift_rad = l.polar_zero_lift.angle_rad,
             .drag = l.polar_drag.factor - 1,
             .cl_max = l.polar_cl_max.factor - 1};
  d.blade_turn_rad = l.blade_angle.angle_rad;
  d.airframe_drag_factor = l.airframe_drag.factor;
  d.trim_factor = l.trim_lift.factor;
  d.circle_factor = l.circle_radius.factor;
  d.rubber_energy_factor = l.rubber_energy.factor;
  return d;
}

// The blade's own angle and the zero-lift angle of its sections are the same to the air; the two
// ways from a job to a flight must agree.
TEST(Learned, FliesAsTheDrawItStandsFor) {
  brief::Job job = support::example("lantern46");
  const auto sheet = flown_with(job);
  ASSERT_TRUE(sheet);
  const Draw draw = draw_of(learned());
  const brief::Assembly& a = sheet->assembly;
  auto map = moved_map(*sheet, draw, {a.air.density_kg_m3, a.air.viscosity_Pa_s});
  ASSERT_TRUE(map);
  const auto moved = flight::fly(moved_setup(sheet->setup, draw, std::move(*map)));
  ASSERT_TRUE(moved);

  job.learned = learned();
  const auto flown = flown_with(job);
  ASSERT_TRUE(flown);
  EXPECT_GT(std::abs(flown->flight.duration_s - sheet->flight.duration_s), 5);
  // Another trim, another middle speed of the map: the two maps' own errors of 1e-5 are between.
  EXPECT_NEAR(flown->flight.duration_s, moved->duration_s, 0.1);
  EXPECT_NEAR(flown->flight.turns_at_launch, moved->turns_at_launch, 1e-4 * moved->turns_at_launch);
  EXPECT_THAT(flown->assembly.notes,
              Contains(HasSubstr("what 34 flights taught: drag of the model +8\u00a0%, trim "
                                 "\u22123\u00a0%")));
}

TEST(Learned, SwitchedOffItChangesNothingButANote) {
  brief::Job job = support::example("lantern46");
  const auto sheet = flown_with(job);
  job.learned = learned();
  job.learned.use = false;
  const auto flown = flown_with(job);
  ASSERT_TRUE(sheet && flown);
  EXPECT_EQ(flown->flight.duration_s, sheet->flight.duration_s);
  EXPECT_EQ(sensitivities(job, *flown).sigma_s,
            sensitivities(support::example("lantern46"), *sheet).sigma_s);
  EXPECT_THAT(flown->assembly.notes, Contains(HasSubstr("switched off")));
}

TEST(Learned, TheDoubtsLeftAreThoseOfTheInterval) {
  brief::Job job = support::example("lantern46");
  const auto sheet = flown_with(job);
  job.learned = learned();
  const auto flown = flown_with(job);
  ASSERT_TRUE(sheet && flown);
  std::map<std::string, double> sigma;
  for (const Doubt& doubt : doubts_of(job, *flown)) sigma[doubt.key] = doubt.sigma;
  EXPECT_DOUBLE_EQ(sigma.at("airframe_drag"), 0.03);
  EXPECT_DOUBLE_EQ(sigma.at("polar_drag"), 0.04);
  EXPECT_DOUBLE_EQ(sigma.at("blade_angle"), 0.2 * base::degree_rad);
  EXPECT_DOUBLE_EQ(sigma.at("rubber_turns"), job.doubts.rubber_turns)
      << "nothing was learned of it";
  brief::Job unsure = job;
  for (brief::LearnedFactor brief::Learned::*factor :
       {&brief::Learned::airframe_drag, &brief::Learned::trim_lift, &brief::Learned::rubber_energy,
        &brief::Learned::polar_drag, &brief::Learned::polar_lift_slope}) {
    (unsure.learned.*factor).doubt.reset();
  }
  const auto as_unsure = flown_with(unsure);
  ASSERT_TRUE(as_unsure);
  EXPECT_EQ(as_unsure->flight.duration_s, flown->flight.duration_s);
  const double sure = sensitivities(job, *flown).sigma_s;
  EXPECT_LT(sure, 0.9 * sensitivities(unsure, *as_unsure).sigma_s);
}

/// Moves of two parameters by each of the doubts, in units of their own sigma.
std::vector<std::pair<double, double>> moves_of_drag_and_energy(const std::vector<Doubt>& doubts,
                                                                const brief::Learned& l) {
  std::vector<std::pair<double, double>> moves;
  for (const Doubt& doubt : doubts) {
    Draw draw;
    doubt.set(draw, 1);
    moves.emplace_back(std::log(draw.airframe_drag_factor) / *l.airframe_drag.doubt,
                       std::log(draw.rubber_energy_factor) / *l.rubber_energy.doubt);
  }
  return moves;
}

// Drag and energy, told 20 times better against each other than one by one: with a share l left
// along (1, -1)/sqrt 2 their correlation is (1 - l^2)/(1 + l^2).
TEST(Learned, DirectionsTieDoubtsTogether) {
  brief::Job job = support::example("lantern46");
  job.learned = learned();
  const double left = 0.05;
  job.learned.directions = {
      {.left = left, .airframe_drag = std::sqrt(0.5), .rubber_energy = -std::sqrt(0.5)}};
  const auto flown = flown_with(job);
  ASSERT_TRUE(flown);
  double drag = 0, energy = 0, both = 0;
  const std::vector<Doubt> doubts = doubts_of(job, *flown);
  for (const auto& [d, e] : moves_of_drag_and_energy(doubts, job.learned)) {
    drag += d * d;
    energy += e * e;
    both += d * e;
  }
  EXPECT_NEAR(drag, 1, 1e-12);
  EXPECT_NEAR(energy, 1, 1e-12);
  EXPECT_NEAR(both, (1 - left * left) / (1 + left * left), 1e-12);
  EXPECT_THAT(flown->assembly.notes, testing::Not(Contains(HasSubstr("one by one"))));
  // A draw moved by all of them at once multiplies what each does.
  Draw at_once;
  for (const Doubt& doubt : doubts) doubt.set(at_once, 1);
  double sum = 0;
  for (const auto& [d, e] : moves_of_drag_and_energy(doubts, job.learned)) sum += d;
  EXPECT_NEAR(std::log(at_once.airframe_drag_factor) / *job.learned.airframe_drag.doubt, sum,
              1e-12);
}

// What is learned together of drag and energy is what the duration hangs on.
TEST(Learned, DirectionsNarrowTheInterval) {
  brief::Job job = support::example("lantern46");
  job.learned = learned();
  const auto alone = flown_with(job);
  job.learned.directions = {
      {.left = 0.05, .airframe_drag = std::sqrt(0.5), .rubber_energy = -std::sqrt(0.5)}};
  const auto tied = flown_with(job);
  ASSERT_TRUE(alone && tied);
  EXPECT_EQ(tied->flight.duration_s, alone->flight.duration_s);
  brief::Job single = job;
  single.learned.directions.clear();
  EXPECT_LT(sensitivities(job, *tied).sigma_s, 0.95 * sensitivities(single, *alone).sigma_s);
  job.learned.use = false;
  const auto off = flown_with(job);
  ASSERT_TRUE(off);
  EXPECT_EQ(sensitivities(job, *off).sigma_s,
            sensitivities(support::example("lantern46"), *off).sigma_s);
}

TEST(Learned, AFlexingBladeIsAsStiffAsItShowed) {
  brief::Job job = support::example("lantern46");
  job.propeller.flex.fly = true;
  const auto sheet = flown_with(job);
  ASSERT_TRUE(sheet);
  Draw draw;
  draw.stiffness_factor = 0.8;
  draw.moment_factor = 1.2;
  const brief::Assembly& a = sheet->assembly;
  auto map = moved_map(*sheet, draw, {a.air.density_kg_m3, a.air.viscosity_Pa_s});
  ASSERT_TRUE(map);
  const auto moved = flight::fly(moved_setup(sheet->setup, draw, std::move(*map)));
  ASSERT_TRUE(moved);
  job.learned.blade_stiffness.factor = 0.8;
  job.learned.blade_moment.factor = 1.2;
  const auto flown = flown_with(job);
  ASSERT_TRUE(flown);
  EXPECT_NE(flown->flight.duration_s, sheet->flight.duration_s);
  EXPECT_NEAR(flown->flight.duration_s, moved->duration_s, 1e-6 * moved->duration_s);
}

}  // namespace
}  // namespace propwright::predict
