// docs/workshop-export.schema.json says what import says, by an independent validator.
#include <gtest/gtest.h>

#include <cstdio>
#include <sstream>

#include "faults.h"

namespace propwright::workshop::test {
namespace {

/// "sound" or "unsound" for each file.
std::vector<std::string> verdicts(const std::string& files) {
  const std::string command = "/usr/bin/python3 '" PROPWRIGHT_SOURCE_DIR
                              "/tests/workshop/validate.py' '" PROPWRIGHT_SOURCE_DIR
                              "/docs/workshop-export.schema.json' " +
                              files;
  FILE* pipe = popen(command.c_str(), "r");
  std::string out;
  char block[4096];
  for (std::size_t got = 0; (got = fread(block, 1, sizeof block, pipe)) > 0;)
    out.append(block, got);
  EXPECT_EQ(pclose(pipe), 0);
  std::istringstream lines(out);
  std::vector<std::string> result;
  for (std::string line; std::getline(lines, line);) result.push_back(line);
  return result;
}

TEST(Schema, AgreesWithImport) {
  const Folder folder;
  const Json sound = Json::parse(filled_export());
  std::string files;
  const auto add = [&](const Json& json, const std::string& name) {
    write(folder / name, json.dump());
    files += " '" + (folder / name).string() + "'";
  };
  add(sound, "sound.json");
  add(Json::parse(value_of(in_memory().export_json())), "empty.json");
  int number = 0;
  for (const Fault& fault : faults) {
    Json unsound = sound;
    fault.make(unsound);
    add(unsound, std::to_string(number++) + ".json");
  }
  const auto found = verdicts(files);
  ASSERT_EQ(found.size(), std::size(faults) + 2);
  EXPECT_EQ(found[0], "sound");
  EXPECT_EQ(found[1], "sound");
  for (std::size_t i = 0; i < std::size(faults); ++i) {
    EXPECT_EQ(found[i + 2], faults[i].beyond_schema ? "sound" : "unsound")
        << faults[i].path << ", fault " << i;
  }
}

}  // namespace
}  // namespace propwright::workshop::test
