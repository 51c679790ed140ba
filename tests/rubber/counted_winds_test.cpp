// A motor that the log and an entry by hand tell of counts once.
#include <gmock/gmock.h>

#include "propwright/rubber/breaking.h"

namespace propwright::rubber {
namespace {

using ::testing::ElementsAre;

constexpr auto yes = Counted::yes, twice = Counted::told_twice;

Wind by_hand(double turns, bool broke = true, const std::string& motor = "") {
  return {turns, 4.26e-6, 0.368, broke, motor, false};
}
Wind logged(double turns, bool broke = true, const std::string& motor = "") {
  return {turns, 4.26e-6, 0.368, broke, motor, true};
}

TEST(CountedWinds, ABreakEnteredByHandAtTheSameTurnsCountsOnce) {
  EXPECT_THAT(counted_winds({by_hand(1905), by_hand(1948), logged(1905, true, "31")}),
              ElementsAre(yes, yes, twice));
  // Another turn is another motor; so is one that held.
  EXPECT_THAT(counted_winds({by_hand(1905), logged(1906)}), ElementsAre(yes, yes));
  EXPECT_THAT(counted_winds({by_hand(1905), logged(1905, false, "31")}), ElementsAre(yes, yes));
}

TEST(CountedWinds, OneEntryStandsForOneMotorOnly) {
  EXPECT_THAT(counted_winds({by_hand(1900), logged(1900, true, "31"), logged(1900, true, "32")}),
              ElementsAre(yes, twice, yes));
  // Two that are logged are two, and so are two entered.
  EXPECT_THAT(counted_winds({logged(1900), logged(1900)}), ElementsAre(yes, yes));
  EXPECT_THAT(counted_winds({by_hand(1900), by_hand(1900)}), ElementsAre(yes, yes));
}

TEST(CountedWinds, TwoOfOneNameAreOneMotorWhateverTheTurns) {
  EXPECT_THAT(counted_winds({by_hand(1900, true, "No. 31"), logged(1910, true, "no 31")}),
              ElementsAre(yes, twice));
  // Of one that broke and one that held the break tells more, of two that held the greater.
  EXPECT_THAT(counted_winds({by_hand(1800, false, "31"), logged(1910, true, "31")}),
              ElementsAre(twice, yes));
  EXPECT_THAT(counted_winds({by_hand(1950, true, "31"), logged(1900, false, "31")}),
              ElementsAre(yes, twice));
  EXPECT_THAT(counted_winds({by_hand(1800, false, "31"), logged(1850, false, "31")}),
              ElementsAre(twice, yes));
  // Named otherwise, the same turns are those of two motors.
  EXPECT_THAT(counted_winds({by_hand(1900, true, "30"), logged(1900, true, "31")}),
              ElementsAre(yes, yes));
}

TEST(CountedWinds, ANameUsedAgainIsMatchedByItsTurnsFirst) {
  EXPECT_THAT(counted_winds(
                  {by_hand(1950, true, "31"), logged(1880, true, "31"), logged(1950, true, "31")}),
              ElementsAre(yes, yes, twice));
}

TEST(CountedWinds, ALoggedWindNobodyCanBelieveIsLeftOutAndOneByHandIsAProblem) {
  const std::vector<Wind> winds{by_hand(1905), logged(190)};
  EXPECT_THAT(counted_winds(winds), ElementsAre(yes, Counted::unbelievable));
  EXPECT_TRUE(breaking_statistics(winds, 0.05).has_value());
  const auto refused = breaking_statistics({by_hand(1905), by_hand(190)}, 0.05);
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().front().field, "winds[1].turns");
}

TEST(CountedWinds, StatisticsAreThoseOfTheCountedAlone) {
  const auto both =
      breaking_statistics({by_hand(1905), by_hand(1948), logged(1948, true, "32"),
                           logged(1990, true, "33"), logged(1850, false, "34"), logged(190)},
                          0.05);
  const auto alone = breaking_statistics(
      {by_hand(1905), by_hand(1948), by_hand(1990), by_hand(1850, false)}, 0.05);
  ASSERT_TRUE(both && alone);
  EXPECT_EQ(both->broke, 3);
  EXPECT_EQ(both->broke_logged, 1);
  EXPECT_EQ(both->held_logged, 1);
  EXPECT_EQ(alone->broke_logged, 0);
  // The same winds in the same order: to the last digit.
  EXPECT_EQ(both->safe_kappa, alone->safe_kappa);
  EXPECT_EQ(both->risk_high, alone->risk_high);
}

}  // namespace
}  // namespace propwright::rubber
