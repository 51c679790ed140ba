// A job written and read again is the same job, to the last bit.
#include <gmock/gmock.h>
#include <rapidcheck.h>

#include "random_job.h"
#include "sample_job.h"

namespace propwright::brief {
namespace {

void expect_same(const Job& job) {
  const std::string text = write_job(job);
  const auto again = read_job(text, "written.toml");
  if (!again) {
    std::string lines = text;
    for (const auto& problem : again.error()) lines += to_line(problem) + "\n";
    RC_FAIL(lines);
  }
  RC_ASSERT(*again == job);
}

TEST(WriteJob, RandomValidJobComesBackExactly) {
  EXPECT_TRUE(rc::check([] { expect_same(random_job()); }));
}

TEST(WriteJob, ExamplesComeBackExactly) {
  for (const char* name : {"lantern46", "heron55", "sparrow16"}) {
    const Job job = read_sample(example_text(name));
    EXPECT_TRUE(read_sample(write_job(job)) == job) << name;
  }
}

TEST(WriteJob, OnlyWhatDiffersFromTheDefaultIsWritten) {
  // What the sample states, in the order of the table, in the file's own units.
  EXPECT_EQ(write_job(read_sample()), R"([job]
name = "Sample"

[hall]
roof_height = "8 m"

[model]
mass = "3 g"
wing_span = "460 mm"
wing_chord = "130 mm"

[motor]
strip_width = "2.3 mm"
loop_length = "315 mm"

[propeller]
diameter = "380 mm"
pitch = "660 mm"

[propeller.outline]
root_radius = "30 mm"
widest_chord = "58 mm"
root_chord = "16 mm"
)");
}

TEST(WriteJob, InchJobIsWrittenInInches) {
  const Job job = read_sample(example_text("sparrow16"));
  EXPECT_THAT(write_job(job), testing::HasSubstr("diameter = \"8.75 in\""));
}

}  // namespace
}  // namespace propwright::brief
