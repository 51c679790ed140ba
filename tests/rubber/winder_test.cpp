#include "propwright/rubber/winder.h"

#include <gtest/gtest.h>

namespace propwright::rubber {
namespace {

TEST(Winder, WholeTurnsOfTheCrankNeverPassTheTurnsOfTheMotor) {
  EXPECT_EQ(crank_turns(895, 10), 89);
  EXPECT_EQ(crank_turns(899.9, 10), 89);
  EXPECT_EQ(crank_turns(900, 10), 90);
  EXPECT_EQ(crank_turns(895.9, 1), 895);
  for (const double ratio : {1.0, 4.7, 10.0, 15.0, 20.0}) {
    for (double turns = 1; turns < 2000; turns += 7.3) {
      EXPECT_LE(crank_turns(turns, ratio) * ratio, turns + 1e-5 * ratio);
      EXPECT_GT((crank_turns(turns, ratio) + 1) * ratio, turns);
    }
  }
}

TEST(Winder, RoundingErrorOfAProductIsNoTurnLess) {
  EXPECT_EQ(crank_turns(89 * 4.7, 4.7), 89);
  EXPECT_EQ(crank_turns(0.1 * 30, 0.1), 30);
}

}  // namespace
}  // namespace propwright::rubber
