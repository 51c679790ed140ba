#include <gtest/gtest.h>

#include <cmath>

#include "propwright/flight/climb_table.h"
#include "stand_in.h"

namespace propwright::flight {
namespace {

flight::Setup under_roof(double roof_m, Contact contact) {
  flight::Setup setup = support::light_model();
  setup.hall.roof_m = roof_m;
  setup.hall.contact = contact;
  return setup;
}

TEST(Roof, ForbiddenTouchEndsTheFlightAtTheRoof) {
  const auto flight = fly(under_roof(8, Contact::none));
  ASSERT_TRUE(flight);
  EXPECT_EQ(flight->end, End::roof);
  EXPECT_EQ(flight->touches, 1);
  EXPECT_NEAR(flight->history.back().height_m, 8, 1e-6);
  EXPECT_NEAR(flight->top_height_m, 8, 1e-6);
  EXPECT_GT(flight->turns_left, 0);
  ASSERT_FALSE(flight->warnings.empty());
  EXPECT_NE(flight->warnings.front().find("Back off"), std::string::npos);
}

TEST(Roof, LightTouchesEachCostTheStatedHeight) {
  const auto flight = fly(under_roof(8, Contact::light));
  ASSERT_TRUE(flight);
  EXPECT_EQ(flight->end, End::landed);
  int drops = 0;
  for (std::size_t i = 1; i < flight->history.size(); ++i) {
    const Instant& a = flight->history[i - 1];
    const Instant& b = flight->history[i];
    if (b.time_s == a.time_s && a.height_m > 7.999 && a.turns > 0) {
      EXPECT_NEAR(a.height_m - b.height_m, 0.5, 1e-9);
      ++drops;
    }
  }
  EXPECT_EQ(drops, flight->touches);
  EXPECT_GT(drops, 5);
  EXPECT_NEAR(flight->top_height_m, 8, 1e-6);
}

TEST(Roof, BothContactsFlyAlikeUntilTheFirstTouch) {
  const auto light = fly(under_roof(8, Contact::light));
  const auto none = fly(under_roof(8, Contact::none));
  ASSERT_TRUE(light && none);
  std::size_t i = 0;
  while (i < none->history.size() && light->history[i].time_s == none->history[i].time_s) ++i;
  EXPECT_EQ(i, none->history.size());
  EXPECT_EQ(none->duration_s, none->top_time_s);
}

TEST(Roof, OutOfReachChangesNothing) {
  const auto high = fly(under_roof(1000, Contact::light));
  const auto higher = fly(under_roof(5000, Contact::none));
  ASSERT_TRUE(high && higher);
  EXPECT_EQ(high->duration_s, higher->duration_s);
  EXPECT_EQ(high->touches, 0);
}

double seconds_under(double roof_m, bool mean_touch) {
  FlyOptions options;
  options.mean_touch = mean_touch;
  const auto flight = fly(under_roof(roof_m, Contact::light), options);
  EXPECT_TRUE(flight);
  return flight->duration_s;
}

TEST(Roof, TimeWithTheMeanTouchHasNoJumpWhereOneTouchMoreFalls) {
  double jump = 0, mean_jump = 0;
  for (double roof = 7.5; roof < 9; roof += 0.01) {
    const auto change = [&](bool mean) {
      return std::abs(seconds_under(roof + 0.01, mean) - seconds_under(roof, mean));
    };
    jump = std::max(jump, change(false));
    mean_jump = std::max(mean_jump, change(true));
  }
  // A hundredth of a metre against the half metre of a touch.
  EXPECT_LT(mean_jump, 0.04 * jump);
}

TEST(Roof, MeanTouchGivesTheMeanTimeOverWhereTouchesFall) {
  const double roof = 8.1;
  double sum = 0, least = 1e300, most = 0;
  constexpr int places = 100;
  for (int i = 0; i < places; ++i) {
    const double one = seconds_under(roof + 0.5 * ((i + 0.5) / places - 0.5), false);
    sum += one;
    least = std::min(least, one);
    most = std::max(most, one);
  }
  // How fast it sinks changes little over the half metre of a touch.
  EXPECT_NEAR(seconds_under(roof, true), sum / places, 0.03 * (most - least));
  EXPECT_GT(most - least, 1);
}

TEST(Roof, MeanTouchLeavesAFlightAloneThatIsFarFromTheRoof) {
  const auto high = fly(under_roof(1000, Contact::light));
  ASSERT_TRUE(high);
  const double top = high->top_height_m;
  EXPECT_EQ(seconds_under(top + 0.26, true), seconds_under(top + 0.26, false));
  // By less than half a touch below it loses up to that.
  const double near = seconds_under(top + 0.001, true), free = seconds_under(top + 0.001, false);
  const double lost = free - seconds_under(top - 0.001, false);
  EXPECT_NEAR(free - near, 0.5 * lost, 0.03 * lost);
}

}  // namespace
}  // namespace propwright::flight
