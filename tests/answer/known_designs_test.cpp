// What a design's flaws cost is worked out once for it.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "jobs.h"
#include "propwright/answer/pair_answer.h"

namespace propwright::answer {
namespace {

LoadedJob lantern_job() {
  const brief::Job job = support::example("lantern46");
  return {"job", job, support::attachments(job)};
}

TEST(KnownDesigns, AreKeptUntilTheDesignChanges) {
  KnownDesigns designs;
  const auto first = designs.of(lantern_job());
  ASSERT_TRUE(first);
  EXPECT_EQ(*designs.of(lantern_job()), *first) << "the very same, not worked out again";
  LoadedJob other = lantern_job();
  other.job.propeller.pitch_m = 1.01 * other.job.propeller.pitch_m.value();
  const auto second = designs.of(other);
  ASSERT_TRUE(second);
  EXPECT_NE(*second, *first);
  EXPECT_EQ(*designs.of(lantern_job()), *first) << "two at a time";
  EXPECT_NE(tolerance_card(**first).perfect_s, tolerance_card(**second).perfect_s);
}

TEST(KnownDesigns, GiveTheAnswerOfOneWorkedOutAnew) {
  KnownDesigns designs;
  const Json built = Json::parse(R"({"blade": [{"angle": [{"radius": "150 mm", "angle": "43 deg"}]},
                                               {"length": "194 mm"}]})");
  const auto kept = designs.of(lantern_job());
  const auto anew = known_design(lantern_job());
  ASSERT_TRUE(kept && anew);
  const auto one = pair_answer(lantern_job(), **kept, built, "as_built");
  const auto other = pair_answer(lantern_job(), **anew, built, "as_built");
  ASSERT_TRUE(one) << base::to_line(one.error().front());
  ASSERT_TRUE(other);
  EXPECT_EQ(pair_document(*one), pair_document(*other));
}

double sigma_of(const ToleranceCard& card, asbuilt::Aspect aspect) {
  for (const asbuilt::Tolerance& t : card.tolerances) {
    if (t.aspect == aspect) return t.sigma_s;
  }
  return 0;
}

// What flights told of drag and energy together narrows what a flaw costs, as it narrows the
// prediction. A direction of which all is left open changes nothing but the sides flown.
TEST(KnownDesigns, WhatFlightsToldTogetherNarrowsTheSecondsOfAFlaw) {
  const auto card_with = [](std::vector<brief::LearnedDirection> directions) {
    LoadedJob loaded = lantern_job();
    brief::Learned& l = loaded.job.learned;
    l.airframe_drag = {1.05, 0.08};
    l.rubber_energy = {0.97, 0.06};
    l.directions = std::move(directions);
    const auto known = known_design(loaded);
    return known ? tolerance_card(**known) : ToleranceCard{};
  };
  const double half = std::sqrt(0.5);
  const ToleranceCard tied =
      card_with({{.left = 0.05, .airframe_drag = half, .rubber_energy = -half}});
  const ToleranceCard loose =
      card_with({{.left = 1, .airframe_drag = half, .rubber_energy = -half}});
  const ToleranceCard single = card_with({});
  for (const asbuilt::Aspect aspect : {asbuilt::Aspect::angle, asbuilt::Aspect::mass}) {
    EXPECT_GT(sigma_of(tied, aspect), 0);
    EXPECT_LT(sigma_of(tied, aspect), 0.95 * sigma_of(loose, aspect));
    EXPECT_NEAR(sigma_of(loose, aspect), sigma_of(single, aspect), 0.1 * sigma_of(single, aspect));
  }
}

TEST(KnownDesigns, WhatDoesNotFlyIsNotKept) {
  KnownDesigns designs;
  LoadedJob wrong = lantern_job();
  wrong.job.propeller.blades = 3;
  EXPECT_FALSE(designs.of(wrong));
  EXPECT_TRUE(designs.of(lantern_job()));
}

}  // namespace
}  // namespace propwright::answer
