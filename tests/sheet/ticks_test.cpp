#include "ticks.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace propwright::sheet {
namespace {

TEST(Ticks, OfAHallAreEveryTwoMetres) {
  const Ticks ticks = round_ticks(0, 8.5, 4);
  EXPECT_EQ(ticks.values, (std::vector<double>{0, 2, 4, 6, 8}));
  EXPECT_EQ(ticks.decimals, 0);
}

TEST(Ticks, BelowOneHaveTheDecimalsTheyNeed) {
  const Ticks ticks = round_ticks(0, 0.19, 4);
  EXPECT_DOUBLE_EQ(ticks.step, 0.05);
  EXPECT_EQ(ticks.decimals, 2);
}

RC_GTEST_PROP(Ticks, AreRoundWithinTheRangeAndNearTheNumberWanted, ()) {
  const double low = *rc::gen::inRange(-1000, 1000) / 7.0;
  const double high = low + *rc::gen::inRange(1, 100000) / 13.0;
  const int wanted = *rc::gen::inRange(3, 10);
  const Ticks ticks = round_ticks(low, high, wanted);
  const double power = std::pow(10.0, std::floor(std::log10(ticks.step) + 1e-9));
  const double lead = ticks.step / power;
  RC_ASSERT(std::abs(lead - 1) < 1e-9 || std::abs(lead - 2) < 1e-9 || std::abs(lead - 5) < 1e-9);
  const double hair = 1e-6 * ticks.step;
  for (const double value : ticks.values) {
    RC_ASSERT(value >= low - hair);
    RC_ASSERT(value <= high + hair);
  }
  // A step of 1, 2 or 5 is at most 2.5 times the one asked for, and not below 0.9 of it.
  const double intervals = (high - low) / ticks.step;
  RC_ASSERT(intervals <= wanted / 0.9 + 1e-6);
  RC_ASSERT(intervals >= wanted / 2.5);
}

}  // namespace
}  // namespace propwright::sheet
