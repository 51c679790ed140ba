#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

const std::string printed_batch =
    "spars examples/bench/spars-batch-7.csv --rig examples/bench/rig-2.toml --date 2026-11-25";

TEST(SparsPrint, WritesThePagesAndTheDrawings) {
  const Folder folder;
  const std::string out = (folder.path() / "bench").string();
  const Outcome spars =
      run(printed_batch + " --json --taper '63 thou, 28 thou, 7.5 in' -o '" + out + "'");
  ASSERT_EQ(spars.status, 0) << spars.err;
  const auto json = spars.json();
  std::set<std::string> names;
  for (const auto& file : json.at("files")) {
    const std::filesystem::path path = file.at("path").get<std::string>();
    EXPECT_TRUE(std::filesystem::exists(path)) << path;
    names.insert(path.filename());
  }
  EXPECT_THAT(names,
              testing::IsSupersetOf({"bench.pdf", "deflection-card-1.svg", "sanding-block-1.svg",
                                     "taper-gauge-1.svg", "tags-1.svg"}));
  EXPECT_GE(json.at("files")[0].at("pages").get<int>(), 6);
}

TEST(BenchPrint, WritesTheTargetsOfAReplacementBlade) {
  const Folder folder;
  const std::string out = (folder.path() / "bench").string();
  const Outcome bench = run("bench replace --json --page letter --date 2026-11-25 -o '" + out +
                            "' examples/bench/lantern46.toml");
  ASSERT_EQ(bench.status, 0) << bench.err;
  const auto files = bench.json().at("files");
  ASSERT_EQ(files.size(), 1);
  EXPECT_TRUE(std::filesystem::exists(files[0].at("path").get<std::string>()));
  EXPECT_EQ(files[0].at("pages"), 1);
  const Outcome other = run("bench ledger -o '" + out + "' examples/bench/lantern46.toml");
  EXPECT_EQ(other.status, 3);
  EXPECT_THAT(other.err, HasSubstr("--output"));
}

TEST(SparsPrint, WritesNothingUnasked) {
  const Outcome spars = run(printed_batch + " --json");
  ASSERT_EQ(spars.status, 0) << spars.err;
  EXPECT_FALSE(spars.json().contains("files"));
}

TEST(SparsPrint, RefusesATaperThatCannotBeRead) {
  for (const char* taper : {"63 thou", "63 thou, 28 thou, 7.5", "63 mm, 28 thou, 7.5 in"}) {
    const Outcome spars = run(printed_batch + " --taper '" + taper + "'");
    EXPECT_EQ(spars.status, 3) << taper;
    EXPECT_THAT(spars.err, HasSubstr("--taper")) << taper;
  }
}

}  // namespace
}  // namespace propwright::desk::test
