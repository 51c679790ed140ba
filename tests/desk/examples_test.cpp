// Every job of examples/ flies, and its key numbers are those of examples.json to four digits.
// After a change that is meant: PROPWRIGHT_UPDATE_EXAMPLES=1 test_desk --gtest_filter='Examples*'
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>

#include "program.h"

namespace propwright::desk::test {
namespace {

const char* const answers_path = PROPWRIGHT_SOURCE_DIR "/tests/desk/examples.json";
const char* const kept[] = {"duration_s",      "duration_sigma_s", "bound_s",
                            "top_height_m",    "top_time_s",       "turns_wound",
                            "turns_at_launch", "turns_left",       "launch_torque_Nm",
                            "mean_rev_per_s",  "cruise_speed_m_s"};

/// A number as four digits tell it.
double rounded(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.4g", value);
  return std::strtod(text, nullptr);
}

nlohmann::json answers_now() {
  nlohmann::json all;
  for (const auto& entry : std::filesystem::directory_iterator(PROPWRIGHT_SOURCE_DIR "/examples")) {
    if (entry.path().extension() != ".toml") continue;
    const Outcome predict = run("predict '" + entry.path().string() + "' --samples 100 --json");
    EXPECT_EQ(predict.status, 0) << entry.path() << predict.out;
    if (predict.status != 0) continue;
    const auto json = predict.json();
    for (const char* key : kept) all[entry.path().stem().string()][key] = rounded(json.at(key));
  }
  return all;
}

TEST(Examples, FlyAsTheyDidBefore) {
  const nlohmann::json now = answers_now();
  if (std::getenv("PROPWRIGHT_UPDATE_EXAMPLES") != nullptr) {
    std::ofstream(answers_path) << now.dump(2) << "\n";
  }
  const nlohmann::json before = nlohmann::json::parse(read(answers_path));
  ASSERT_GE(before.size(), 3);
  for (const auto& [name, answers] : before.items()) {
    ASSERT_TRUE(now.contains(name)) << name;
    for (const auto& [key, value] : answers.items()) {
      // One unit of the fourth digit: a value on the edge may round either way elsewhere.
      const double was = value, is = now.at(name).at(key);
      const double unit = std::pow(10, std::floor(std::log10(std::abs(was))) - 3);
      EXPECT_LE(std::abs(is - was), 1.01 * unit) << name << " " << key;
    }
  }
  EXPECT_EQ(now.size(), before.size()) << "an example has no stored answer";
}

}  // namespace
}  // namespace propwright::desk::test
