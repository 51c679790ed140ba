// What flights taught belongs to a model, a batch of rubber, a propeller: no other job flies with
// it.
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
using testing::Not;

/// Drag, energy and blade angle, told better together than each alone.
brief::Job taught() {
  brief::Job job = support::example("lantern46");
  brief::Learned& l = job.learned;
  l.from = "34 flights";
  l.model = job.model.name;
  l.rubber = job.rubber.name;
  l.propeller = job.propeller.name;
  l.sections = job.propeller.polar_file;
  l.airframe_drag = {1.08, 0.03};
  l.rubber_energy = {0.9, 0.02};
  l.blade_angle = {-0.3 * base::degree_rad, 0.2 * base::degree_rad};
  const double third = std::sqrt(1.0 / 3);
  l.directions = {
      {.left = 0.05, .airframe_drag = third, .rubber_energy = -third, .blade_angle = third}};
  return job;
}

double seconds(const brief::Job& job) {
  const auto nominal = predict(job, support::attachments(job));
  EXPECT_TRUE(nominal);
  return nominal ? nominal->flight.duration_s : 0;
}

std::vector<std::string> notes_of(const brief::Job& job) {
  const auto nominal = predict(job, support::attachments(job));
  EXPECT_TRUE(nominal);
  return nominal ? nominal->assembly.notes : std::vector<std::string>{};
}

TEST(LearnedOwner, AnotherBoxOfRubberHasItsOwnEnergy) {
  brief::Job job = taught();
  EXPECT_THAT(notes_of(job), Not(Contains(HasSubstr("not used"))));
  EXPECT_THAT(notes_of(job), Contains(HasSubstr("energy of the rubber \u221210\u00a0%")));
  brief::Job without = job;
  without.learned.rubber_energy = {};
  without.learned.directions.clear();
  job.rubber.name = "box 9";
  EXPECT_THAT(notes_of(job), Contains("What flights taught of the rubber (box 7) is not used: this "
                                      "job has box 9."));
  EXPECT_THAT(notes_of(job), Not(Contains(HasSubstr("energy of the rubber"))));
  EXPECT_NEAR(seconds(job), seconds(without), 1e-9);
}

TEST(LearnedOwner, AnotherPropellerHasItsOwnAngleAndTheSameModel) {
  brief::Job job = taught();
  brief::Job without = job;
  without.learned.blade_angle = {};
  job.propeller.name = "L46-C";
  EXPECT_NEAR(seconds(job), seconds(without), 1e-9);
  EXPECT_THAT(notes_of(job), Contains(HasSubstr("of the propeller (L46-A) is not used")));
  EXPECT_THAT(notes_of(job), Contains(HasSubstr("drag of the model +8")));
  job.model.name = "Heavy Owl";
  EXPECT_THAT(notes_of(job), Contains(HasSubstr("of the model (Lantern 46) is not used")));
  EXPECT_THAT(notes_of(job), Not(Contains(HasSubstr("drag of the model"))));
}

TEST(LearnedOwner, NothingOfAnotherJobIsAsTheSheet) {
  brief::Job job = taught();
  job.model.name = "Heavy Owl";
  job.rubber.name = "box 9";
  job.propeller.name = "L46-C";
  job.learned.sections = "others.csv";
  brief::Job sheet = job;
  sheet.learned = {};
  EXPECT_EQ(seconds(job), seconds(sheet));
  EXPECT_THAT(notes_of(job), Not(Contains(HasSubstr("Predictions use"))));
  const auto one = predict(job, support::attachments(job));
  const auto other = predict(sheet, support::attachments(sheet));
  ASSERT_TRUE(one && other);
  EXPECT_NEAR(sensitivities(job, *one).sigma_s, sensitivities(sheet, *other).sigma_s, 1e-9);
}

// The rest keeps its own block of the covariance: what it hung together with is unknown again.
TEST(LearnedOwner, DirectionsKeepTheOwnBlockOfTheCovariance) {
  brief::Job job = taught();
  const auto moved = [](const brief::Job& of) {
    const auto nominal = predict(of, support::attachments(of));
    EXPECT_TRUE(nominal);
    std::map<std::string, double> sums;
    for (const Doubt& doubt : doubts_of(of, *nominal)) {
      Draw draw;
      if (doubt.sigma <= 0) continue;
      doubt.set(draw, 1);
      const double drag = std::log(draw.airframe_drag_factor);
      const double energy = std::log(draw.rubber_energy_factor);
      const double angle = draw.blade_turn_rad;
      sums["drag"] += drag * drag;
      sums["energy"] += energy * energy;
      sums["drag angle"] += drag * angle;
      sums["drag energy"] += drag * energy;
    }
    return sums;
  };
  auto whole = moved(job);
  job.rubber.name = "box 9";
  auto part = moved(job);
  EXPECT_NEAR(part["drag"], 0.03 * 0.03, 1e-12);
  EXPECT_NEAR(part["drag angle"], whole["drag angle"], 1e-12);
  EXPECT_LT(whole["drag angle"], -1e-7);
  EXPECT_GT(whole["drag energy"], 1e-6);
  EXPECT_NEAR(part["drag energy"], 0, 1e-15);
  EXPECT_NEAR(part["energy"], std::pow(job.doubts.rubber_energy, 2), 1e-12);
}

TEST(LearnedOwner, AnOldTableWithoutNamesIsUsedAndSaysSo) {
  brief::Job job = taught();
  const double named = seconds(job);
  for (std::string brief::Learned::*name :
       {&brief::Learned::model, &brief::Learned::rubber, &brief::Learned::propeller,
        &brief::Learned::sections}) {
    (job.learned.*name).clear();
  }
  job.rubber.name = "box 9";
  EXPECT_EQ(seconds(job), named);
  EXPECT_THAT(notes_of(job), Contains(HasSubstr("does not tell of which model, rubber")));
}

}  // namespace
}  // namespace propwright::predict
