#include "propwright/bench/figure.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>

namespace propwright::bench {
namespace {

TEST(Figure, RoundedReadingHasStepOverRootTwelve) {
  EXPECT_NEAR(reading_sigma(1.0, 0), 0.288675134594813, 1e-15);  // 1/sqrt(12)
  EXPECT_NEAR(reading_sigma(0, 3), 3, 1e-15);
  EXPECT_NEAR(reading_sigma(std::sqrt(12.0) * 3, 4), 5, 1e-14);
}

TEST(Figure, NetMassHasTwoRoundings) {
  Instruments instruments;
  instruments.scale_resolution_kg = 1e-6;
  EXPECT_NEAR(net_mass_sigma_kg(instruments), 1e-6 * std::sqrt(1.0 / 6), 1e-18);
}

TEST(Within, TellsYesNoAndNeither) {
  EXPECT_EQ(within({0.2, 0.1}, 1), Within::yes);
  EXPECT_EQ(within({-0.9, 0.1}, 1), Within::cannot_tell);
  EXPECT_EQ(within({-1.1, 0.1}, 1), Within::cannot_tell);
  EXPECT_EQ(within({-1.2, 0.1}, 1), Within::no);
  EXPECT_EQ(within({1, 0}, 1), Within::yes);
}

TEST(Within, SaysHowManyReadingsWouldSettleIt) {
  EXPECT_EQ(readings_to_settle({0.2, 0.1}, 1), 1);
  // 1.645 x 0.2/0.1 = 3.29; its square 10.8.
  EXPECT_EQ(readings_to_settle({0.9, 0.2}, 1), 11);
  EXPECT_EQ(readings_to_settle({1.0, 0.2}, 1), 0);   // exactly on the line: none do
  EXPECT_EQ(readings_to_settle({0.99, 0.2}, 1), 0);  // 1083 readings
}

RC_GTEST_PROP(Within, AsManyReadingsAsAdvisedDoSettleIt, ()) {
  const auto tenth = [] { return *rc::gen::inRange(1, 2000) / 1000.0; };
  const Figure difference{tenth(), tenth()};
  const int count = readings_to_settle(difference, 1.0);
  RC_PRE(count > 0);
  const auto averaged = [&](int n) {
    return within({difference.value, difference.sigma / std::sqrt(n)}, 1.0 + 1e-12);
  };
  RC_ASSERT(averaged(count) != Within::cannot_tell);
  if (count > 1) RC_ASSERT(averaged(count - 1) == Within::cannot_tell);
}

TEST(Instruments, OutOfRangeAreNamed) {
  EXPECT_TRUE(problems_of(Instruments{}).empty());
  Instruments instruments;
  instruments.scale_resolution_kg = 0;
  instruments.angle_repeatability_rad = std::numeric_limits<double>::quiet_NaN();
  const auto problems = problems_of(instruments);
  ASSERT_EQ(problems.size(), 2u);
  EXPECT_EQ(problems[0].field, "instruments.scale_resolution_kg");
  EXPECT_EQ(problems[1].field, "instruments.angle_repeatability_rad");
  for (const auto& problem : problems) {
    EXPECT_FALSE(problem.allowed.empty());
    EXPECT_FALSE(problem.remedy.empty());
  }
}

}  // namespace
}  // namespace propwright::bench
