// Jobs whose blades bend and twist.
#include <gtest/gtest.h>

#include <cmath>

#include "jobs.h"
#include "propwright/predict/predict.h"

namespace propwright::predict {
namespace {

brief::Job flexing(const char* name) {
  brief::Job job = support::example(name);
  job.propeller.flex.fly = true;
  return job;
}

base::Expected<Nominal> flown(const brief::Job& job) {
  return predict(job, support::attachments(job));
}

class FlexingExample : public testing::TestWithParam<const char*> {};

TEST_P(FlexingExample, FliesWithAnotherBladeButNotAnotherModel) {
  const auto rigid = flown(support::example(GetParam()));
  const auto flex = flown(flexing(GetParam()));
  ASSERT_TRUE(rigid);
  ASSERT_TRUE(flex) << base::to_line(flex.error().front());
  EXPECT_FALSE(rigid->flexing);
  ASSERT_TRUE(flex->flexing);
  EXPECT_EQ(flex->bound_s, rigid->bound_s);
  EXPECT_NE(flex->flight.duration_s, rigid->flight.duration_s);
  EXPECT_NEAR(flex->flight.duration_s / rigid->flight.duration_s, 1, 0.5);
  EXPECT_EQ(flex->assembly.notes.size(),
            rigid->assembly.notes.size() + 1 + (flex->flex_limit ? 1U : 0U));
}
INSTANTIATE_TEST_SUITE_P(All, FlexingExample, testing::Values("lantern46", "heron55", "sparrow16"));

// A tenth of a second is what the two maps' own errors of 1e-5 come to at most.
TEST(FlexingBlade, StiffEnoughIsTheRigidOne) {
  brief::Job job = flexing("lantern46");
  job.propeller.spar.modulus_Pa = 1e18;
  job.propeller.build.wood_modulus_Pa = 1e18;
  const auto flex = flown(job), rigid = flown(support::example("lantern46"));
  ASSERT_TRUE(flex && rigid);
  EXPECT_NEAR(flex->flight.duration_s, rigid->flight.duration_s, 0.1);
  EXPECT_NEAR(flex->flight.top_height_m, rigid->flight.top_height_m, 0.002);
}

TEST(FlexingBlade, TestsOfTheBladeDecideItsStiffness) {
  brief::Job soft = flexing("lantern46"), stiff = soft;
  for (auto* job : {&soft, &stiff}) {
    job->propeller.flex.twist_mass_kg = 0.2e-3;
    job->propeller.flex.twist_arm_m = 0.02;
    job->propeller.flex.twist_radius_m = 0.15;
  }
  soft.propeller.flex.twist_angle_rad = 0.10;
  stiff.propeller.flex.twist_angle_rad = 0.02;
  const auto a = flown(soft), b = flown(stiff);
  ASSERT_TRUE(a && b);
  const auto twist = [](const Nominal& n) {
    const rotor::Flow flow{n.assembly.air.density_kg_m3, n.assembly.air.viscosity_Pa_s};
    const flight::Instant& at = n.flight.history.front();
    return std::abs(n.flexing->solve({at.speed_m_s, at.rev_per_s}, flow).value().tip.twist_rad);
  };
  EXPECT_GT(twist(*a), 1.5 * twist(*b));
}

TEST(FlexingBlade, DoubtsOfTheBladeCountInTheSensitivities) {
  const brief::Job job = flexing("lantern46");
  const auto nominal = flown(job);
  ASSERT_TRUE(nominal);
  const Sensitivities all = sensitivities(job, *nominal);
  double stiffness_s = 0, moment_s = 0;
  for (const Sensitivity& s : all.doubts) {
    if (s.key == "blade_stiffness") stiffness_s = s.sigma_s;
    if (s.key == "blade_moment") moment_s = s.sigma_s;
  }
  EXPECT_GT(stiffness_s, 0);
  EXPECT_GT(moment_s, 0);
  EXPECT_EQ(all.doubts.size(),
            sensitivities(job, flown(support::example("lantern46")).value()).doubts.size() + 2);
}

TEST(FlexingBlade, SpreadFliesItToo) {
  const brief::Job job = flexing("lantern46");
  const auto nominal = flown(job);
  ASSERT_TRUE(nominal);
  const auto result = spread(job, {}, *nominal, {.samples = 60, .progress = {}});
  ASSERT_TRUE(result);
  EXPECT_GT(result->sigma_s, 0);
  EXPECT_LT(result->failed, 12);
}

TEST(FlexingBlade, TooSoftABladeIsRefusedWithACure) {
  brief::Job job = flexing("lantern46");
  job.propeller.spar_position = 0.7;
  job.propeller.spar.modulus_Pa = 0.2e9;
  const auto nominal = flown(job);
  ASSERT_FALSE(nominal);
  EXPECT_EQ(nominal.error().front().kind, base::Kind::no_solution);
  EXPECT_NE(nominal.error().front().remedy.find("spar"), std::string::npos);
}

}  // namespace
}  // namespace propwright::predict
