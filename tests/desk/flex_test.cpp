#include <gtest/gtest.h>

#include "program.h"

namespace propwright::desk::test {
namespace {

TEST(Flex, TellsAsManyStatesAsAskedForUpToTheLaunchTorque) {
  const Outcome flex = run("flex examples/lantern46.toml --states 3 --json");
  ASSERT_EQ(flex.status, 0) << flex.err;
  const auto json = flex.json();
  ASSERT_EQ(json.at("states").size(), 3U);
  EXPECT_DOUBLE_EQ(json.at("states").back().at("motor_torque_Nm").get<double>(),
                   json.at("flexing").at("launch_torque_Nm").get<double>());
  EXPECT_FALSE(json.at("flies_flexing").get<bool>());
}

TEST(Flex, FliesAsPredictDoes) {
  const auto flex = run("flex examples/lantern46.toml --json").json();
  const auto predicted = run("predict examples/lantern46.toml --flex --samples 50 --json").json();
  EXPECT_NEAR(flex.at("flexing").at("duration_s").get<double>(),
              predicted.at("duration_s").get<double>(), 1e-6);
}

TEST(Flex, PrintsItsTables) {
  const Outcome flex = run("flex examples/lantern46.toml");
  ASSERT_EQ(flex.status, 0) << flex.err;
  for (const char* words : {"rigid blade", "What the tip bears", "Flare chosen on purpose"}) {
    EXPECT_NE(flex.out.find(words), std::string::npos) << words;
  }
}

TEST(Flex, NumberOfStatesHasBounds) {
  EXPECT_EQ(run("flex examples/lantern46.toml --states 1").status, 3);
}

}  // namespace
}  // namespace propwright::desk::test
