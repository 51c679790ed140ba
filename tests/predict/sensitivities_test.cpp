#include <gtest/gtest.h>

#include <cmath>

#include "jobs.h"
#include "propwright/predict/predict.h"

namespace propwright::predict {
namespace {

class SensitivitiesOf : public testing::TestWithParam<const char*> {
 protected:
  brief::Job job = support::example(GetParam());
  brief::Attachments attachments = support::attachments(job);
};

TEST_P(SensitivitiesOf, GiveTheSigmaOfSampling) {
  const auto nominal = predict(job, attachments);
  ASSERT_TRUE(nominal);
  const Sensitivities quick = sensitivities(job, *nominal);
  const auto sampled =
      spread(job, attachments, *nominal, {.samples = 1000, .seed = 1, .progress = {}});
  ASSERT_TRUE(sampled);
  // 1000 samples know their own sigma to 2.2 % (1/sqrt(2 n)); the rest is what the
  // doubts do together at the roof, which the header allows.
  EXPECT_NEAR(quick.sigma_s, sampled->sigma_s, 0.15 * sampled->sigma_s);
}

TEST_P(SensitivitiesOf, AddInSquaresLargestFirst) {
  const auto nominal = predict(job, attachments);
  ASSERT_TRUE(nominal);
  const Sensitivities all = sensitivities(job, *nominal);
  ASSERT_EQ(all.doubts.size(), 11);
  double sum = 0;
  for (std::size_t i = 0; i < all.doubts.size(); ++i) {
    sum += all.doubts[i].sigma_s * all.doubts[i].sigma_s;
    EXPECT_LE(all.doubts[i].sigma_s, all.doubts[i > 0 ? i - 1 : 0].sigma_s);
  }
  EXPECT_NEAR(std::sqrt(sum), all.sigma_s, 1e-9 * all.sigma_s);  // rounding of the sum
}

INSTANTIATE_TEST_SUITE_P(Examples, SensitivitiesOf,
                         testing::Values("lantern46", "sparrow16", "heron55"));

TEST(Sensitivities, WithoutDoubtThereIsNone) {
  brief::Job job = support::example("lantern46");
  const auto nominal = predict(job, support::attachments(job));
  ASSERT_TRUE(nominal);
  job.doubts = {.polar_scale = 0,
                .airframe_drag = 0,
                .trim_lift = 0,
                .rubber_energy = 0,
                .rubber_turns = 0,
                .blade_angle_rad = 0,
                .temperature_K = 0,
                .circle_radius = 0};
  EXPECT_EQ(sensitivities(job, *nominal).sigma_s, 0);
}

}  // namespace
}  // namespace propwright::predict
