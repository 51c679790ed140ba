// What a design's flaws cost is worked out once for it.
#include <gtest/gtest.h>

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

TEST(KnownDesigns, WhatDoesNotFlyIsNotKept) {
  KnownDesigns designs;
  LoadedJob wrong = lantern_job();
  wrong.job.propeller.blades = 3;
  EXPECT_FALSE(designs.of(wrong));
  EXPECT_TRUE(designs.of(lantern_job()));
}

}  // namespace
}  // namespace propwright::answer
