// docs/commands.md tells of every command, option and JSON key there is.
#include <gtest/gtest.h>

#include <regex>
#include <set>

#include "program.h"

namespace propwright::desk::test {
namespace {

const std::string& handbook() {
  static const std::string text = read(PROPWRIGHT_SOURCE_DIR "/docs/commands.md");
  return text;
}

bool told(const std::string& name) {
  return handbook().find("`" + name + "`") != std::string::npos;
}

std::set<std::string> options_in(const std::string& help) {
  const std::regex option("--[a-z][a-z-]*");
  return {std::sregex_token_iterator(help.begin(), help.end(), option),
          std::sregex_token_iterator()};
}

void collect_keys(const nlohmann::json& json, std::set<std::string>& keys) {
  for (const auto& [key, member] : json.items()) {
    if (json.is_object()) keys.insert(key);
    if (member.is_structured()) collect_keys(member, keys);
  }
}

const char* const handbook_commands[] = {
    "open", "packet", "predict", "shape", "form",  "spars",   "bench", "pair",
    "flex", "rotor",  "rubber",  "wind",  "learn", "verdict", "air",   "workshop"};

TEST(Handbook, HasAChapterForEveryCommand) {
  for (const std::string command : handbook_commands) {
    EXPECT_NE(handbook().find("\n## " + command + "\n"), std::string::npos) << command;
  }
}

TEST(Handbook, TellsOfEveryOption) {
  for (const std::string command : handbook_commands) {
    const auto options = options_in(run(command + " --help").out);
    // The least: --help, --json and one of its own. Fewer, and the help was not understood.
    EXPECT_GE(options.size(), 3) << command;
    for (const std::string& option : options) {
      const bool everywhere = option == "--help";
      EXPECT_TRUE(everywhere || told(option)) << command << " " << option;
    }
  }
}

TEST(Handbook, KnowsNoOptionThatIsNotThere) {
  std::set<std::string> all{"--version"};
  for (const std::string command : handbook_commands)
    all.merge(options_in(run(command + " --help").out));
  for (const std::string& option : options_in(handbook())) {
    EXPECT_TRUE(all.contains(option)) << option;
  }
}

TEST(Handbook, TellsOfEveryJsonKey) {
  const Folder folder;
  const std::string test = folder.file(
      "test.csv",
      "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n300,0.002,0.001\n600,0.003,0.0018\n"
      "900,0.005,0.005\n");
  const std::string records =
      folder.file("records.json", R"({"format":"propwright workshop","format_version":1})");
  const std::string file = (folder.path() / "w.sqlite").string();
  const std::string backup = (folder.path() / "backup.sqlite").string();
  const std::string calls[] = {
      "packet examples/lantern46.toml --no-interval -o '" + (folder.path() / "p").string() + "'",
      "predict examples/lantern46.toml --samples 50",
      "rotor examples/lantern46.toml --speed '0.9 m/s' --rev '90 rpm'",
      "shape examples/heron55.toml --no-flight --form '900 mm' --cylinder '6 in'",
      "form examples/lantern46.toml --cylinder '4 in'",
      "form --reset --made-on '580 mm' --at '90 mm' --angle '47 deg'",
      "bench examples/bench/lantern46.toml",
      "spars examples/bench/spars-batch-7.csv --rig examples/bench/rig-2.toml",
      "rubber '" + test + "' --section '2.6 mm2' --length '230 mm' --mass '0.55 g'",
      "rubber examples/floor/box7.toml",
      "wind examples/lantern46.toml examples/floor/box7.toml --temperature '16 degC' --roof '9 m'",
      "learn examples/flights/lantern46-two-propellers.csv --job examples/lantern46.toml",
      "verdict examples/flights/lantern46-two-propellers.csv",
      "air --temperature '15 degC'",
      "air --temperature 15",
      "workshop import '" + records + "' --workshop '" + file + "'",
      "workshop check --workshop '" + file + "'",
      "workshop backup '" + backup + "' --workshop '" + file + "'",
      "workshop restore '" + backup + "' --workshop '" + file + "'"};
  std::set<std::string> keys;
  for (const std::string& call : calls) {
    const Outcome answer = run(call + " --json");
    ASSERT_TRUE(answer.status == 0 || answer.status == 3) << answer.out << answer.err;
    collect_keys(answer.json(), keys);
  }
  EXPECT_GT(keys.size(), 90);
  for (const std::string& key : keys) EXPECT_TRUE(told(key)) << key;
}

}  // namespace
}  // namespace propwright::desk::test
