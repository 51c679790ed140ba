#include <gtest/gtest.h>

#include <numeric>

#include "jobs.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"

namespace propwright::answer {
namespace {

LoadedJob loaded(const std::string& name) {
  const brief::Job job = support::example(name);
  return {name + ".toml", job, support::attachments(job)};
}

TEST(Prediction, ProblemsThatNameNoFileArePutDownToTheJob) {
  base::Problem bare{.field = "motor.mass"}, attached{.file = "test.csv"};
  const base::Problems problems = in_file({bare, attached}, "lantern46.toml");
  EXPECT_EQ(problems[0].file, "lantern46.toml");
  EXPECT_EQ(problems[1].file, "test.csv");
}

TEST(Prediction, LedgerAddsToTheEnergyAtBreak) {
  const auto prediction = nominal_prediction(loaded("sparrow16"));
  ASSERT_TRUE(prediction);
  const flight::Energy& energy = prediction->nominal.flight.energy;
  const auto lines = ledger(energy);
  const double sum =
      std::accumulate(lines.begin(), lines.end(), energy.residual,
                      [](double before, const LedgerLine& line) { return before + line.energy_J; });
  EXPECT_NEAR(sum, energy.at_break, 1e-9 * energy.at_break);  // rounding of the sum
}

TEST(Prediction, StoppedSpreadLeavesThePredictionAsItWas) {
  auto prediction = nominal_prediction(loaded("lantern46"));
  ASSERT_TRUE(prediction);
  const std::size_t warnings = prediction->warnings.size();
  EXPECT_FALSE(add_spread(*prediction, {.samples = 50, .progress = [](double) { return false; }}));
  EXPECT_FALSE(prediction->spread);
  EXPECT_EQ(prediction->warnings.size(), warnings);
}

TEST(JsonText, NumberThatIsNotFiniteIsAFault) {
  air::Air air;
  air.density_kg_m3 = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(air_json(air), std::logic_error);
}

}  // namespace
}  // namespace propwright::answer
