// The embedded files are the files of data/, byte for byte.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <stdexcept>
#include <string>

#include "propwright/data/data.h"

namespace propwright::data {
namespace {

const std::filesystem::path data_folder = std::filesystem::path(PROPWRIGHT_SOURCE_DIR) / "data";

std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

TEST(Embedded, EveryFileHasTheBytesOfTheTree) {
  ASSERT_FALSE(names().empty());
  for (const auto name : names()) {
    EXPECT_TRUE(file(name) == bytes_of(data_folder / name)) << name;
    EXPECT_FALSE(file(name).empty()) << name;
  }
}

TEST(Embedded, EveryTableAndFontOfTheTreeIsThere) {
  std::set<std::string> embedded;
  for (const auto name : names()) embedded.emplace(name);
  for (const auto& entry : std::filesystem::recursive_directory_iterator(data_folder)) {
    const auto extension = entry.path().extension();
    if (extension != ".csv" && extension != ".ttf" && extension != ".toml") continue;
    const auto name = std::filesystem::relative(entry.path(), data_folder).generic_string();
    EXPECT_EQ(embedded.count(name), 1U) << name;
  }
}

TEST(Embedded, UnknownNameIsABugAndThrows) {
  EXPECT_THROW(file("no_such_table.csv"), std::out_of_range);
  EXPECT_THROW(file(""), std::out_of_range);
}

}  // namespace
}  // namespace propwright::data
