// Whatever stands in a file, reading it ends in a job or in problems, never in a crash.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "sample_job.h"

namespace propwright::brief {
namespace {

std::string mutated(std::string text, std::mt19937& random) {
  const auto below = [&](std::size_t n) { return n == 0 ? 0 : random() % n; };
  const int changes = 1 + static_cast<int>(below(4));
  for (int i = 0; i < changes; ++i) {
    const std::size_t at = below(text.size());
    switch (below(5)) {
      case 0:
        text[at] = static_cast<char>(below(256));
        break;
      case 1:
        text.erase(at, 1 + below(30));
        break;
      case 2:
        text.insert(at, text.substr(below(text.size()), below(40)));
        break;
      case 3:
        text[at] = "\"[]=.#{}\n\\0e-"[below(13)];
        break;
      default:
        std::swap(text[at], text[below(text.size())]);
    }
  }
  return text;
}

void expect_job_or_problems(const std::string& text) {
  const auto job = read_job(text, "mutated.toml");
  if (job) {
    // An accepted job must survive being written.
    const auto again = read_job(write_job(*job), "written.toml");
    ASSERT_TRUE(again.has_value()) << text << "\n" << to_line(again.error().front());
    EXPECT_TRUE(*again == *job) << text;
    return;
  }
  ASSERT_FALSE(job.error().empty());
  for (const auto& problem : job.error()) {
    EXPECT_FALSE(problem.message.empty());
    EXPECT_FALSE(problem.remedy.empty()) << to_line(problem);
    EXPECT_EQ(problem.file, "mutated.toml");
  }
}

TEST(Mutation, ExamplesWithRandomChangesGiveAJobOrProblems) {
  std::mt19937 random(20251);
  for (const char* name : {"lantern46", "heron55", "sparrow16"}) {
    const std::string text = example_text(name);
    for (int i = 0; i < 700; ++i) expect_job_or_problems(mutated(text, random));
  }
}

TEST(Mutation, TruncatedExampleGivesProblemsOrAJob) {
  const std::string text = file_text("examples/lantern46.toml");
  for (std::size_t length = 0; length < text.size(); length += 37) {
    expect_job_or_problems(text.substr(0, length));
  }
}

TEST(Mutation, DeepNestingIsRefused) {
  expect_job_or_problems(std::string("a = ").append(5000, '[').append(5000, ']'));
  expect_job_or_problems(std::string("[").append(3000, 'x').append("]"));
}

}  // namespace
}  // namespace propwright::brief
