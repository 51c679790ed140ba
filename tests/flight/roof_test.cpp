#include <gtest/gtest.h>

#include <cmath>

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

}  // namespace
}  // namespace propwright::flight
