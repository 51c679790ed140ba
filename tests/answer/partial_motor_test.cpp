// What a half and a quarter motor say of the full one, held against flights of the program's own.
#include <gtest/gtest.h>

#include "jobs.h"
#include "propwright/predict/predict.h"
#include "propwright/rubber/partial.h"

namespace propwright::answer {
namespace {

/// An example under a roof that no flight reaches, with a share of its motor and a spacer.
flight::Flight flown_with(const std::string& example, double share, double relaxation_per_s) {
  brief::Job job = support::example(example);
  const double launch_turns = example == "lantern46" ? 1608 : 994;  // of tests/desk/examples.json
  job.hall.roof_height_m = 110;
  job.motor.spacer_mass_kg = (1 - share) * job.motor.mass_kg.value();
  job.motor.mass_kg = share * *job.motor.mass_kg;
  job.motor.loop_length_m *= share;
  job.launch.margin_m.reset();
  job.launch.turns = share * launch_turns;
  job.launch.wait_s = 0;
  job.launch.relaxation_per_s = relaxation_per_s;
  return predict::predict(job, support::attachments(job)).value().flight;
}

rubber::FullEstimate said_by(const flight::Flight& part, double share, double relaxation_per_s) {
  return rubber::full_from_partial({.share = share,
                                    .duration_s = part.duration_s,
                                    .top_height_m = part.top_height_m,
                                    .launch_height_m = part.history.front().height_m,
                                    .relaxation_per_s = relaxation_per_s})
      .value();
}

TEST(PartialMotor, WithoutRelaxationHalfAndQuarterPredictFullWithinAHundredth) {
  const flight::Flight full = flown_with("lantern46", 1, 0);
  for (const double share : {0.5, 0.25}) {
    const flight::Flight part = flown_with("lantern46", share, 0);
    const auto said = said_by(part, share, 0);
    // Same torques and weights: what the sink rate does over the last metres is all that is
    // approximate in time; a hundredth is a third of that stretch. The rise scales exactly, to the
    // integrator's accuracy.
    EXPECT_NEAR(said.duration_s / full.duration_s, 1, 0.01) << share;
    EXPECT_NEAR((said.top_height_m - 1.6) / (full.top_height_m - 1.6), 1, 1e-3) << share;
    EXPECT_GT(part.duration_s / share, full.duration_s) << "partial motors read high";
  }
}

TEST(PartialMotor, WithRelaxationTheStatedDoubtHoldsTheFullFlight) {
  for (const char* example : {"lantern46", "heron55"}) {
    const double rate = 0.01 / 60;
    const flight::Flight full = flown_with(example, 1, rate);
    for (const double share : {0.5, 0.25}) {
      const auto said = said_by(flown_with(example, share, rate), share, rate);
      // One sigma of the scaling alone, without the scatter of flights.
      EXPECT_NEAR(said.duration_s, full.duration_s, said.model_sigma_relative * said.duration_s)
          << example << " " << share;
      EXPECT_NEAR(said.top_height_m, full.top_height_m, said.top_sigma_m)
          << example << " " << share;
    }
  }
}

}  // namespace
}  // namespace propwright::answer
