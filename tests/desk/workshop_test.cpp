// The records of a user from the command line.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <set>

#include "program.h"

namespace propwright::desk::test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::IsEmpty;

const char* const one_hall =
    R"({"format":"propwright workshop","format_version":1,"halls":[{"id":"h1","name":"Sports hall",)"
    R"("revision":1,"created_at":"2026-01-01T00:00:00.000Z",)"
    R"("updated_at":"2026-01-01T00:00:00.000Z","section":{"hall":{"roof_height":"8.5 m"}}}]})";

class WorkshopCommand : public testing::Test {
 protected:
  WorkshopCommand() { folder.file("one.json", one_hall); }
  std::string path(const std::string& name) const { return (folder.path() / name).string(); }
  /// `words` with our workshop file.
  Outcome act(const std::string& words) const {
    return run("workshop " + words + " --workshop '" + path("w.sqlite") + "'");
  }
  std::string listing() const {
    std::set<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder.path())) {
      names.insert(entry.path().filename());
    }
    std::string line;
    for (const std::string& name : names) line += name + " ";
    return line;
  }
  const Folder folder;
};

TEST_F(WorkshopCommand, ImportsChecksAndExports) {
  const Outcome imported = act("import '" + path("one.json") + "' --json");
  ASSERT_EQ(imported.status, 0) << imported.err;
  EXPECT_EQ(imported.json()["records"][0], nlohmann::json({{"table", "halls"}, {"count", 1}}));
  EXPECT_EQ(imported.json()["skipped"], 0);
  EXPECT_EQ(act("import '" + path("one.json") + "' --json").json()["skipped"], 1);

  const Outcome checked = act("check");
  EXPECT_EQ(checked.status, 0) << checked.err;
  EXPECT_THAT(checked.out, HasSubstr("is sound: 1 record"));

  ASSERT_EQ(act("export '" + path("all.json") + "'").status, 0);
  const Outcome exported = act("export");
  EXPECT_EQ(exported.out, read(path("all.json")));
  EXPECT_EQ(exported.json()["halls"][0]["name"], "Sports hall");
}

TEST_F(WorkshopCommand, RestoresABackupAndKeepsWhatItReplaces) {
  act("import '" + path("one.json") + "'");
  ASSERT_EQ(act("backup '" + path("b.sqlite") + "'").status, 0);
  EXPECT_EQ(act("backup '" + path("b.sqlite") + "'").status, 5);  // nothing is overwritten
  const std::string before = act("export").out;
  std::string two = one_hall;
  two.replace(two.find("h1"), 2, "h2");
  act("import '" + folder.file("two.json", two) + "'");
  EXPECT_NE(act("export").out, before);
  const Outcome restored = act("restore '" + path("b.sqlite") + "' --json");
  ASSERT_EQ(restored.status, 0) << restored.err;
  EXPECT_EQ(act("export").out, before);
  EXPECT_TRUE(fs::exists(restored.json()["replaced_kept_as"].get<std::string>()));
}

TEST_F(WorkshopCommand, RestoresOverADamagedFile) {
  act("import '" + path("one.json") + "'");
  act("backup '" + path("b.sqlite") + "'");
  const std::string before = act("export").out;
  folder.file("w.sqlite", read(path("w.sqlite")).substr(0, 10000));
  const Outcome checked = act("check --json");
  EXPECT_EQ(checked.status, 5);
  EXPECT_THAT(problem_of(checked, "").dump(), HasSubstr("cut short"));
  EXPECT_EQ(act("restore '" + path("b.sqlite") + "'").status, 0);
  EXPECT_EQ(act("export").out, before);
}

TEST_F(WorkshopCommand, ABadExportIsStatus3WithThePlaceOfEveryProblem) {
  std::string bad = one_hall;
  bad.replace(bad.find("Sports hall"), 11, "");
  bad.replace(bad.find("\"revision\":1"), 12, "\"revision\":0");
  const std::string file = folder.file("bad.json", bad);
  const Outcome refused = act("import '" + file + "' --json");
  EXPECT_EQ(refused.status, 3);
  EXPECT_EQ(problem_of(refused, "halls[0].name")["file"], file);
  problem_of(refused, "halls[0].revision");
  EXPECT_EQ(act("export --json").json()["halls"].size(), 0);
}

TEST_F(WorkshopCommand, TakesInASavedLogOnceAndNamesWhatDiffers) {
  const std::string two =
      R"({"flights":[{"id":"f1","time":"2026-11-21T14:05","propeller":"P14","duration_s":768.6},)"
      R"({"id":"f2","time":"2026-11-21T14:31","propeller":"P14","duration_s":741}]})";
  const std::string json = "import-flights '" + folder.file("log.json", two) + "' --json";
  const Outcome first = act(json);
  ASSERT_EQ(first.status, 0) << first.err;
  EXPECT_EQ(first.json()["records"][0], nlohmann::json({{"table", "flights"}, {"count", 2}}));
  const Outcome again = act(json);
  EXPECT_EQ(again.json()["records"][0]["count"], 0);
  EXPECT_EQ(again.json()["skipped"], 2);
  EXPECT_TRUE(again.json()["differing"].empty());

  std::string changed = two;
  changed.replace(changed.find("741"), 3, "744");
  const Outcome differs = act("import-flights '" + folder.file("log.json", changed) + "'");
  EXPECT_EQ(differs.status, 0);
  EXPECT_THAT(differs.out, HasSubstr("1 differ from what is there and were left out"));
  EXPECT_THAT(differs.out, HasSubstr("f2"));
  EXPECT_EQ(act("export").json()["flights"][1]["section"]["flight"]["duration_s"], 741);

  // A log file without ids: its lines are the same flights when they come again.
  const std::string csv = folder.file("log.csv", "propeller,duration_s\nP9,330\nP9,319\n");
  EXPECT_EQ(act("import-flights '" + csv + "' --json").json()["records"][0]["count"], 2);
  EXPECT_EQ(act("import-flights '" + csv + "' --json").json()["skipped"], 2);
}

// Two flights that are alike to the last figure are two, however often the file comes.
TEST_F(WorkshopCommand, TakesInFlightsThatAreAlike) {
  const std::string csv = folder.file("log.csv", "propeller,duration_s\nP9,312\nP9,330\nP9,312\n");
  EXPECT_EQ(act("import-flights '" + csv + "' --json").json()["records"][0]["count"], 3);
  EXPECT_EQ(act("import-flights '" + csv + "' --json").json()["skipped"], 3);
}

// Older programs gave the rows of a CSV file the ids that flights of a JSON file without ids get.
TEST_F(WorkshopCommand, KnowsTheRowsAgainThatAnOlderProgramTookIn) {
  const std::string older = folder.file(
      "older.json", R"({"flights":[{"propeller":"P9","duration_s":312},{"propeller":"P9",)"
                    R"("duration_s":330},{"propeller":"P9","duration_s":312}]})");
  EXPECT_EQ(act("import-flights '" + older + "' --json").json()["records"][0]["count"], 3);
  const std::string csv =
      folder.file("log.csv", "propeller,duration_s\nP9,312\nP9,330\nP9,312\nP9,341\n");
  const nlohmann::json again = act("import-flights '" + csv + "' --json").json();
  EXPECT_EQ(again["skipped"], 3);
  EXPECT_EQ(again["records"][0]["count"], 1);
  EXPECT_THAT(again["differing"], IsEmpty());
}

// What is hashed and how is held by tests/logbook/row_ids.json, here and in the pages.
TEST_F(WorkshopCommand, GivesARowTheIdThatThePagesGiveIt) {
  const std::string csv =
      folder.file("log.csv",
                  "\xEF\xBB\xBF# winter, first half\r\n#;propeller;duration_s;Wer\r\n"
                  "1; P9 ;312,5;J\u00f6rg\r\n");
  const nlohmann::json told = act("import-flights '" + csv + "' --json").json();
  EXPECT_EQ(told["unknown_columns"], nlohmann::json({"#", "Wer"}));
  EXPECT_EQ(told["passed_over"], nlohmann::json({1}));
  EXPECT_EQ(act("export").json()["flights"][0]["id"], "log-2e801e2bb2f8e4e5");
  EXPECT_THAT(act("import-flights '" + csv + "'").out, HasSubstr("Line 1 passed over"));
}

TEST_F(WorkshopCommand, TellsWhatOfALogItDoubtsAndDoesNotKnow) {
  const std::string csv = folder.file(
      "log.csv",
      "time,propeller,duration_s,temperature_K,comments\n2026-11-21T14:05,P9,312,21,calm\n"
      "21.11.2026 14:30,P9,9999,294,\n");
  const nlohmann::json told = act("import-flights '" + csv + "' --json").json();
  EXPECT_EQ(told["unknown_columns"], nlohmann::json({"comments"}));
  ASSERT_EQ(told["questions"].size(), 3) << told.dump(1);
  EXPECT_EQ(told["questions"][0]["line"], 2);
  EXPECT_EQ(told["questions"][0]["field"], "temperature_K");
  EXPECT_EQ(told["questions"][1]["field"], "time");
  EXPECT_EQ(told["questions"][1]["value"], "21.11.2026 14:30");
  EXPECT_EQ(told["questions"][2]["field"], "duration_s");
  const std::string text = act("import-flights '" + csv + "'").out;
  EXPECT_THAT(text, HasSubstr("Kept as written, but questioned"));
  EXPECT_THAT(text, HasSubstr("comments"));
}

TEST_F(WorkshopCommand, ALogThatCannotBeReadIsStatus3AndNothingIsTaken) {
  const std::string bad = folder.file(
      "bad.json", R"({"flights":[{"id":"f1","duration_s":700},{"id":"f2","duration_s":"12:48"}]})");
  const Outcome refused = act("import-flights '" + bad + "' --json");
  EXPECT_EQ(refused.status, 3);
  EXPECT_EQ(problem_of(refused, "flights[2].duration_s")["file"], bad);
  const Outcome none = act("import-flights '" + folder.file("no.json", "{}") + "' --json");
  EXPECT_EQ(none.status, 3);
  problem_of(none, "flights");
  EXPECT_EQ(act("import-flights").status, 2);
  EXPECT_EQ(listing(), "bad.json no.json one.json ");
}

TEST_F(WorkshopCommand, ALogInAnotherEncodingIsStatus3WithItsLine) {
  const std::string csv = folder.file("log.csv", "propeller,duration_s\nP9,312\nJ\xF6rg,330\n");
  const Outcome refused = act("import-flights '" + csv + "' --json");
  EXPECT_EQ(refused.status, 3);
  EXPECT_EQ(refused.json()["problems"][0]["line"], 3);
}

TEST_F(WorkshopCommand, AMissingFileIsStatus5AndIsNotMade) {
  for (const char* const words : {"check", "export", "backup '/nowhere/b.sqlite'"}) {
    const Outcome missing = act(words);
    EXPECT_EQ(missing.status, 5) << words;
    EXPECT_THAT(missing.err, HasSubstr("no such file"));
    EXPECT_THAT(missing.out, IsEmpty());
  }
  EXPECT_EQ(act("import '" + path("none.json") + "'").status, 5);
  EXPECT_EQ(listing(), "one.json ");
}

TEST_F(WorkshopCommand, WrongUsageIsStatus2) {
  const Outcome misspelt = act("backpu x --json");
  EXPECT_EQ(misspelt.status, 2);
  EXPECT_EQ(problem_of(misspelt, "ACTION")["remedy"], "did you mean backup?");
  EXPECT_EQ(act("backup").status, 2);
  EXPECT_EQ(act("check somewhere.sqlite").status, 2);
  EXPECT_EQ(act("export a b").status, 2);
  EXPECT_EQ(run("workshop").status, 2);
}

TEST_F(WorkshopCommand, TheUsualPlaceIsTheUsersDataFolder) {
  const std::string data = path("data"), home = path("home");
  setenv("XDG_DATA_HOME", data.c_str(), 1);
  EXPECT_EQ(run("workshop import '" + path("one.json") + "'").status, 0);
  EXPECT_TRUE(fs::exists(data + "/propwright/workshop.sqlite"));
  unsetenv("XDG_DATA_HOME");
  const std::string own_home = std::getenv("HOME") == nullptr ? "" : std::getenv("HOME");
  setenv("HOME", home.c_str(), 1);
  EXPECT_EQ(run("workshop import '" + path("one.json") + "'").status, 0);
  EXPECT_TRUE(fs::exists(home + "/.local/share/propwright/workshop.sqlite"));
  unsetenv("HOME");
  const Outcome nowhere = run("workshop check --json");
  EXPECT_EQ(nowhere.status, 3);
  problem_of(nowhere, "--workshop");
  setenv("HOME", own_home.c_str(), 1);
}

}  // namespace
}  // namespace propwright::desk::test
