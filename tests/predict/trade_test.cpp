// Directions every builder expects when one thing changes (common practice), on the first example.
#include <gtest/gtest.h>

#include <cmath>

#include "jobs.h"
#include "propwright/predict/predict.h"

namespace propwright::predict {
namespace {

Nominal predicted(const brief::Job& job) {
  auto nominal = predict(job, support::attachments(job));
  EXPECT_TRUE(nominal) << base::to_line(nominal.error().front());
  return std::move(nominal).value();
}

/// The example as it is, launched by its margin.
brief::Job by_margin() {
  brief::Job job = support::example("lantern46");
  job.launch.turns.reset();
  job.launch.torque_Nm.reset();
  job.launch.margin_m = 0.5;
  return job;
}

/// The same, launched with the turns of that flight under a roof out of reach.
brief::Job by_turns() {
  brief::Job job = by_margin();
  job.launch.turns = std::floor(predicted(job).flight.turns_at_launch);
  job.launch.margin_m.reset();
  job.hall.roof_height_m = 100;
  return job;
}

/// Strip of another width, the loop cut so that the rubber weighs the same.
brief::Job strip_wider_by(brief::Job job, double factor) {
  job.motor.strip_width_m = *job.motor.strip_width_m * factor;
  job.motor.loop_length_m /= factor;
  return job;
}

TEST(Trade, MorePitchTurnsSlower) {
  brief::Job job = by_turns();
  const double revs = predicted(job).flight.mean_rev_per_s;
  job.propeller.pitch_m = *job.propeller.pitch_m * 1.1;
  EXPECT_LT(predicted(job).flight.mean_rev_per_s, revs);
}

TEST(Trade, LargerDiameterTurnsSlower) {
  brief::Job job = by_turns();
  const double revs = predicted(job).flight.mean_rev_per_s;
  job.propeller.diameter_m *= 1.08;
  EXPECT_LT(predicted(job).flight.mean_rev_per_s, revs);
}

TEST(Trade, MorePitchClimbsLessOnTheSameTurns) {
  brief::Job job = by_turns();
  const double top = predicted(job).flight.top_height_m;
  job.propeller.pitch_m = *job.propeller.pitch_m * 1.1;
  EXPECT_LT(predicted(job).flight.top_height_m, top);
}

TEST(Trade, WiderStripOfEqualMassHasMoreTorqueAndFewerTurns) {
  brief::Job job = by_margin();
  const rubber::Motor motor = predicted(job).setup.motor;
  const rubber::Motor wider = predicted(strip_wider_by(job, 1.15)).setup.motor;
  EXPECT_NEAR(wider.mass_kg, motor.mass_kg, 1e-12);
  EXPECT_LT(wider.breaking_turns, motor.breaking_turns);
  for (const double share : {0.2, 0.5, 0.8, 0.9}) {
    EXPECT_GT(rubber::torque_Nm(wider, share * wider.breaking_turns),
              rubber::torque_Nm(motor, share * motor.breaking_turns));
  }
}

TEST(Trade, ThinnerStripBacksOffFewerTurnsForTheSameMargin) {
  const auto backed_off = [](const brief::Job& job) {
    const flight::Flight flight = predicted(job).flight;
    return (flight.turns_wound - flight.turns_at_launch) / flight.turns_wound;
  };
  const brief::Job job = by_margin();
  EXPECT_LT(backed_off(strip_wider_by(job, 0.9)), backed_off(job));
  EXPECT_GT(backed_off(strip_wider_by(job, 1.1)), backed_off(job));
}

TEST(Trade, ColdRubberGivesLessEnergyAndTime) {
  brief::Job job = by_turns();
  const flight::Flight warm = predicted(job).flight;
  job.motor.temperature_K = 283.15;
  const flight::Flight cold = predicted(job).flight;
  EXPECT_LT(cold.energy.at_break, warm.energy.at_break);
  EXPECT_LT(cold.duration_s, warm.duration_s);
}

TEST(Trade, HeavierModelFliesShorterAndFaster) {
  brief::Job job = by_turns();
  const flight::Flight light = predicted(job).flight;
  job.model.mass_kg *= 1.1;
  const flight::Flight heavy = predicted(job).flight;
  EXPECT_LT(heavy.duration_s, light.duration_s);
  EXPECT_GT(heavy.cruise_speed_m_s, light.cruise_speed_m_s);
}

TEST(Trade, HigherRoofFliesLonger) {
  brief::Job job = by_margin();
  const double before = predicted(job).flight.duration_s;
  job.hall.roof_height_m += 2;
  const flight::Flight higher = predicted(job).flight;
  EXPECT_GT(higher.duration_s, before);
}

TEST(Trade, ThinAirFliesFasterTurnsFasterAndShorter) {
  brief::Job job = by_turns();
  const flight::Flight low = predicted(job).flight;
  job.air.pressure_Pa = 80000;
  job.air.pressure_is_reduced = false;
  const flight::Flight high = predicted(job).flight;
  EXPECT_GT(high.cruise_speed_m_s, low.cruise_speed_m_s);
  EXPECT_GT(high.mean_rev_per_s, low.mean_rev_per_s);
  EXPECT_LT(high.duration_s, low.duration_s);
}

TEST(Trade, DraggierBodyFliesShorter) {
  brief::Job job = by_turns();
  const double before = predicted(job).flight.duration_s;
  job.model.body_drag_area_m2 += 3e-4;
  EXPECT_LT(predicted(job).flight.duration_s, before);
}

TEST(Trade, TighterCircleFliesShorter) {
  brief::Job job = by_turns();
  job.model.circle_radius_m = 6;
  const double before = predicted(job).flight.duration_s;
  job.model.circle_radius_m = 3;
  EXPECT_LT(predicted(job).flight.duration_s, before);
}

// Out of reach of a roof: under one, a livelier batch may only mean more turns backed off.
TEST(Trade, MoreRubberEnergyFliesLongerOnTheSameTurns) {
  brief::Job job = support::example("sparrow16");
  const double turns = std::floor(predicted(job).flight.turns_at_launch);
  job.launch.margin_m.reset();
  job.launch.turns = turns;
  job.hall.roof_height_m = 100;
  const double before = predicted(job).flight.duration_s;
  job.rubber.energy_J_per_kg *= 1.15;
  EXPECT_GT(predicted(job).flight.duration_s, before);
}

// A blade set this coarsely stands broadside to the air of a glide (some 45 degrees off it);
// turning freely it runs with it.
TEST(Trade, FreewheelingPropellerGlidesLongerThanOneThatStands) {
  brief::Job job = by_turns();
  job.motor.loop_length_m *= 0.3;  // a motor that runs out high up
  if (job.motor.mass_kg) job.motor.mass_kg = *job.motor.mass_kg * 0.3;
  job.launch.turns = std::floor(0.3 * *job.launch.turns);
  job.propeller.hub.freewheels = false;
  const flight::Flight stands = predicted(job).flight;
  job.propeller.hub.freewheels = true;
  const flight::Flight turns = predicted(job).flight;
  ASSERT_EQ(stands.turns_left, 0);
  EXPECT_GT(turns.history.back().rev_per_s, 0);
  EXPECT_GT(turns.history.back().climb_m_s, stands.history.back().climb_m_s);
  EXPECT_GT(turns.duration_s, stands.duration_s);
}

}  // namespace
}  // namespace propwright::predict
