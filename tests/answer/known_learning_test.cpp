// What flights taught is learned once for all who ask at the same time or later.
#include "propwright/answer/known_learning.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <nlohmann/json.hpp>
#include <thread>

#include "jobs.h"
#include "propwright/answer/flights_answer.h"

namespace propwright::answer {
namespace {

Json one_job(const std::string& file) {
  return {{"job", support::example_text(file)},
          {"attachments", {{"rubber_test_csv", support::example_text("box7-bench-test.csv")}}}};
}

Json flights_and_jobs() {
  return {{"csv", support::example_text("flights/lantern46-two-propellers.csv")},
          {"jobs", {one_job("lantern46.toml"), one_job("flights/lantern46-b.toml")}}};
}

Json flights_and_jobs_without_next() {
  Json question = flights_and_jobs();
  question["next"] = false;
  return question;
}

TEST(KnownLearning, LearnAndVerdictOfTheSameFlightsLearnOnce) {
  KnownLearning known;
  const auto verdict = verdict_document(flights_and_jobs(), &known);
  const auto learned = learn_document(flights_and_jobs_without_next(), &known);
  Json stricter = flights_and_jobs();
  stricter["thresholds"]["sure"] = "99 %";
  const auto again = verdict_document(stricter, &known);
  ASSERT_TRUE(verdict && learned && again);
  EXPECT_EQ(known.times_learned(), 1);
  EXPECT_EQ(*verdict, *verdict_document(flights_and_jobs())) << "as one learned anew";
  EXPECT_EQ(*learned, *learn_document(flights_and_jobs_without_next()));
}

TEST(KnownLearning, WhatEntersLearningIsLearnedAnew) {
  KnownLearning known;
  ASSERT_TRUE(verdict_document(flights_and_jobs(), &known));
  Json heavier_tail = flights_and_jobs();
  heavier_tail["learning"]["tail_freedom"] = 3;
  ASSERT_TRUE(verdict_document(heavier_tail, &known));
  EXPECT_EQ(known.times_learned(), 2);
  Json one_more = flights_and_jobs();
  one_more["csv"] = one_more["csv"].get<std::string>() + "l46-99,,,,L46-A,,,,1820,1700" +
                    std::string(15, ',') + "\n";
  ASSERT_TRUE(verdict_document(one_more, &known));
  EXPECT_EQ(known.times_learned(), 3);
  Json as_sheet = flights_and_jobs();
  as_sheet["learn"] = false;
  ASSERT_TRUE(verdict_document(as_sheet, &known));
  ASSERT_TRUE(verdict_document(flights_and_jobs(), &known));
  EXPECT_EQ(known.times_learned(), 3);
}

TEST(KnownLearning, WhoAsksAtTheSameTimeWaitsForTheFirst) {
  KnownLearning known;
  std::atomic<bool> second_waits = false;
  base::Expected<Json> first = base::fail(base::Problems()), second = first;
  std::thread one([&] {
    first = learn_document(flights_and_jobs_without_next(), &known, [&](double) {
      while (!second_waits) std::this_thread::yield();
      return true;
    });
  });
  while (known.times_learned() == 0) std::this_thread::yield();
  std::thread other([&] {
    second = verdict_document(flights_and_jobs(), &known, [&](double) {
      second_waits = true;
      return true;
    });
  });
  one.join();
  other.join();
  EXPECT_TRUE(first && second);
  EXPECT_EQ(known.times_learned(), 1);
}

TEST(KnownLearning, GoesOnForTheOtherWhenTheFirstHasGone) {
  KnownLearning known;
  std::atomic<bool> second_waits = false;
  base::Expected<Json> first = base::fail(base::Problems()), second = first;
  std::thread one([&] {
    first = learn_document(flights_and_jobs_without_next(), &known, [&](double) {
      while (!second_waits) std::this_thread::yield();
      return false;
    });
  });
  while (known.times_learned() == 0) std::this_thread::yield();
  std::thread other([&] {
    second = verdict_document(flights_and_jobs(), &known, [&](double) {
      second_waits = true;
      return true;
    });
  });
  one.join();
  other.join();
  EXPECT_FALSE(first);
  EXPECT_TRUE(second);
  EXPECT_EQ(known.times_learned(), 1);
}

TEST(KnownLearning, IsGivenUpWhenNobodyWaits) {
  KnownLearning known;
  int told = 0;
  const auto gone = learn_document(flights_and_jobs(), &known, [&](double share) {
    EXPECT_GE(share, 0);
    EXPECT_LE(share, 1);
    return ++told < 3;
  });
  ASSERT_FALSE(gone);
  EXPECT_THAT(gone.error().front().message, testing::HasSubstr("stopped"));
  EXPECT_EQ(told, 3);
  // Nothing half done is kept.
  const auto anew = learn_document(flights_and_jobs_without_next(), &known);
  ASSERT_TRUE(anew);
  EXPECT_EQ(*anew, *learn_document(flights_and_jobs_without_next()));
  EXPECT_EQ(known.times_learned(), 2);
}

TEST(KnownLearning, NextPropellersAreGivenUpToo) {
  KnownLearning known;
  ASSERT_TRUE(learn_document(flights_and_jobs_without_next(), &known));
  int told = 0;
  const auto gone = learn_document(flights_and_jobs(), &known, [&](double share) {
    EXPECT_GE(share, 0.5);
    ++told;
    return false;
  });
  EXPECT_FALSE(gone);
  EXPECT_EQ(told, 1);
}

TEST(KnownLearning, ForgetsTheOldest) {
  KnownLearning known;
  Json question = flights_and_jobs();
  question["jobs"].erase(1);
  question["csv"] = "propeller,turns_at_launch,duration_s\nL46-A,1672,447\nL46-A,1697,467\n";
  for (int i = 0; i < 8; ++i) {
    question["learning"]["tail_freedom"] = 3 + i;
    ASSERT_TRUE(verdict_document(question, &known));
  }
  EXPECT_EQ(known.times_learned(), 8);
  ASSERT_TRUE(verdict_document(question, &known));
  EXPECT_EQ(known.times_learned(), 8) << "the latest is kept";
  question["learning"]["tail_freedom"] = 3;
  ASSERT_TRUE(verdict_document(question, &known));
  EXPECT_EQ(known.times_learned(), 9) << "the first is not";
}

}  // namespace
}  // namespace propwright::answer
