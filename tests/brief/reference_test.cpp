// The reference in docs/ is the one the table of fields makes.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>
#include <set>

#include "fields.h"
#include "sample_job.h"

namespace propwright::brief {
namespace {

TEST(Reference, DocsJobFileIsUpToDate) {
  EXPECT_TRUE(file_text("docs/job-file.md") == job_file_reference())
      << "docs/job-file.md differs from the table of fields; write it anew with\n"
         "test_brief --gtest_also_run_disabled_tests --gtest_filter=Reference.DISABLED_Write";
}

TEST(Reference, DISABLED_Write) {
  std::ofstream(std::string(PROPWRIGHT_SOURCE_DIR) + "/docs/job-file.md", std::ios::binary)
      << job_file_reference();
}

TEST(Reference, NamesEveryField) {
  const std::string text = job_file_reference();
  for (const auto& field : job_fields()) {
    EXPECT_NE(text.find(fmt::format("`{}`", key_of(field.name))), std::string::npos) << field.name;
  }
}

TEST(FieldTable, NamesAreUniqueAndMeaningsAreSentences) {
  std::set<std::string> names;
  for (const auto& field : job_fields()) {
    EXPECT_TRUE(names.insert(field.name).second) << field.name;
    EXPECT_EQ(field.meaning.back(), '.') << field.name;
  }
}

TEST(FieldTable, DefaultsLieWithinTheirRange) {
  const Job job;
  for (const auto& field : job_fields()) {
    // Sizes of an outline default to "not given", which is outside the range on purpose.
    if (field.required || section_of(field.name) == "propeller.outline") continue;
    const auto value = field.get(job);
    if (!value || !std::holds_alternative<double>(*value)) continue;
    EXPECT_GE(std::get<double>(*value), field.low) << field.name;
    EXPECT_LE(std::get<double>(*value), field.high) << field.name;
  }
}

TEST(FieldTable, EmptyOptionalSaysWhatItMeans) {
  const Job job;
  for (const auto& field : job_fields()) {
    if (!field.required && !field.get(job)) {
      EXPECT_FALSE(field.when_absent.empty()) << field.name;
    }
  }
}

}  // namespace
}  // namespace propwright::brief
