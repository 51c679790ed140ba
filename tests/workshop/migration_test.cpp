// From older tables to newer ones: one transaction, a backup before it, all or nothing.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include "support.h"

namespace propwright::workshop::test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

Options with(std::vector<Migration> steps) {
  Options options = test::options();
  options.migrations = std::move(steps);
  return options;
}

/// The program's own steps with one more of the test.
std::vector<Migration> and_then(const std::string& sql) {
  std::vector<Migration> steps = migrations();
  steps.push_back({steps.back().version + 1, "of the test", sql});
  return steps;
}

std::int64_t number(const fs::path& path, const std::string& sql) {
  SQLite::Database db(path.string());
  return db.execAndGet(sql).getInt64();
}

TEST(Migration, TheProgramsStepsAreNumberedFromOne) {
  const auto steps = migrations();
  ASSERT_GE(steps.size(), 2);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    EXPECT_EQ(steps[i].version, static_cast<int>(i) + 1);
    EXPECT_FALSE(steps[i].name.empty());
  }
}

TEST(Migration, AFileOfVersionZeroGetsAllStepsAfterABackup) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  {  // as a program before the first numbered step might have left it
    SQLite::Database db(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    db.exec(
        "PRAGMA application_id = 0x50725770; CREATE TABLE notes (text TEXT) STRICT;"
        "INSERT INTO notes VALUES ('of wood')");
  }
  std::vector<Migration> steps = and_then("CREATE TABLE moved AS SELECT text FROM notes");
  const Workshop workshop = open(path, with(steps));
  EXPECT_EQ(workshop.schema_version(), steps.back().version);
  const fs::path backup = workshop.migration_backup();
  EXPECT_EQ(backup.filename(), "w-before-migration-from-0-20261125T150000Z.sqlite");
  EXPECT_EQ(backup.parent_path(), path.parent_path());
  EXPECT_EQ(number(path, "SELECT count(*) FROM moved"), 1);
  EXPECT_EQ(number(path, "PRAGMA user_version"), steps.back().version);
  EXPECT_EQ(number(backup, "PRAGMA user_version"), 0);
  EXPECT_EQ(number(backup, "SELECT count(*) FROM notes"), 1);
  EXPECT_EQ(number(backup, "SELECT count(*) FROM sqlite_schema WHERE name = 'halls'"), 0);
}

TEST(Migration, RecordsOfAnOlderFileLiveOn) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  std::string id;
  {
    Workshop old = open(path, with({migrations().front()}));
    id = value_of(old.create(RecordKind::hall, hall("H"))).id;
  }
  const Workshop workshop = open(path);
  EXPECT_FALSE(workshop.migration_backup().empty());
  EXPECT_EQ(value_of(workshop.get(RecordKind::hall, id))->content.name, "H");
  EXPECT_EQ(value_of(workshop.list(RecordKind::flight)).total, 0);
  EXPECT_TRUE(value_of(workshop.check()).problems.empty());
}

TEST(Migration, FlightsOfBeforeTheFloorAreKeptAndMayJoinASession) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  const std::vector<Migration> all = migrations();
  { open(path, with({all[0], all[1], all[2], all[3]})); }
  {
    SQLite::Database db(path.string(), SQLite::OPEN_READWRITE);
    db.exec(
        "INSERT INTO flights (id, name, section, revision, created_at, updated_at, search_text) "
        "VALUES ('f1', '1', '{\"flight\":{\"time\":\"2026-11-20T19:12\"}}', 1, "
        "'2026-11-20T20:00:00.000Z', '2026-11-20T20:00:00.000Z', '1')");
  }
  Workshop workshop = open(path);
  const std::string session =
      value_of(workshop.create(RecordKind::session, {.name = "S", .section_json = "{}"})).id;
  const Record flight = value_of(workshop.get(RecordKind::flight, "f1")).value();
  Content joined = flight.content;
  joined.links["session_id"] = session;
  value_of(workshop.update(RecordKind::flight, "f1", 1, joined));
  EXPECT_EQ(value_of(workshop.list(RecordKind::flight, {.links = {{"session_id", session}}})).total,
            1);
  EXPECT_TRUE(value_of(workshop.check()).problems.empty());
}

TEST(Migration, AFileOfBeforeTheFormShelfGetsItEmpty) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  const std::vector<Migration> all = migrations();
  {
    Workshop old = open(path, with({all[0], all[1]}));
    value_of(old.create(RecordKind::weight, {.name = "1", .section_json = "{}"}));
  }
  Workshop workshop = open(path);
  EXPECT_EQ(value_of(workshop.list(RecordKind::weight)).total, 1);
  for (const RecordKind kind : {RecordKind::form, RecordKind::cylinder}) {
    EXPECT_EQ(value_of(workshop.list(kind)).total, 0);
    EXPECT_EQ(value_of(workshop.create(kind, {.name = "A", .section_json = "{}"})).revision, 1);
  }
}

TEST(Migration, SparsAndPropellersOfBeforeTheBenchKeepTheirContentAndGetLinks) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  const std::vector<Migration> all = migrations();
  { open(path, with({all[0], all[1], all[2]})); }
  {  // as the program of version 3 wrote them
    SQLite::Database db(path.string(), SQLite::OPEN_READWRITE);
    db.exec(
        "INSERT INTO spars VALUES ('s1', 'S1', '{\"note\":\"of wood\"}', 2,"
        " '2026-11-20T10:00:00.000Z', '2026-11-21T10:00:00.000Z', NULL, 's1');"
        "INSERT INTO propellers VALUES ('p1', 'P1', '{}', NULL, NULL, NULL, 1,"
        " '2026-11-20T10:00:00.000Z', '2026-11-20T10:00:00.000Z', NULL, 'p1')");
  }
  Workshop workshop = open(path);
  const Record spar = *value_of(workshop.get(RecordKind::spar, "s1"));
  EXPECT_EQ(spar.content.section_json, R"({"note":"of wood"})");
  EXPECT_EQ(spar.revision, 2);
  EXPECT_TRUE(spar.content.links.empty());
  const auto made = [&](RecordKind kind, std::map<std::string, std::string> links) {
    return value_of(workshop.create(kind, {.name = "A", .section_json = "{}", .links = links})).id;
  };
  const std::string rig = made(RecordKind::rig, {});
  const std::string batch = made(RecordKind::batch, {{"rig_id", rig}});
  const std::string stock = made(RecordKind::stock, {}), hub = made(RecordKind::hub, {});
  const Content linked{
      .name = "S1", .section_json = "{}", .links = {{"batch_id", batch}, {"stock_id", stock}}};
  EXPECT_EQ(value_of(workshop.update(RecordKind::spar, "s1", 2, linked)).done, Done::written);
  EXPECT_EQ(
      value_of(workshop.update(RecordKind::propeller, "p1", 1,
                               {.name = "P1", .section_json = "{}", .links = {{"hub_id", hub}}}))
          .present.content.links.at("hub_id"),
      hub);
  const auto nowhere = workshop.create(
      RecordKind::spar, {.name = "S2", .section_json = "{}", .links = {{"batch_id", "none"}}});
  EXPECT_EQ(problem_of(nowhere, "batch_id").allowed, "an id in batches");
  EXPECT_TRUE(value_of(workshop.check()).problems.empty());
  Workshop empty = in_memory();
  value_of(empty.import_json(value_of(workshop.export_json())));
  EXPECT_EQ(value_of(empty.export_json()), value_of(workshop.export_json()));
}

TEST(Migration, FlightsAndPropellersOfBeforeTheHistoryGetTheirLives) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  const std::vector<Migration> all = migrations();
  std::string propeller;
  {
    Workshop old = open(path, with({all[0], all[1], all[2], all[3], all[4]}));
    propeller =
        value_of(old.create(RecordKind::propeller, {.name = "P14", .section_json = "{}"})).id;
    for (const char* name : {"P14", "P15", "P14"}) {
      const std::string section = std::string(R"({"flight":{"propeller":")") + name + "\"}}";
      value_of(old.create(RecordKind::flight, {.name = "1", .section_json = section}));
    }
  }
  Workshop workshop = open(path);
  const Query flown{.flown_with = FlownWith{propeller, "P14"}};
  EXPECT_EQ(value_of(workshop.list(RecordKind::flight, flown)).total, 2);
  const std::map<std::string, std::string> links{{"propeller_id", propeller}};
  const Record event = value_of(
      workshop.create(RecordKind::event, {.name = "repair", .section_json = "{}", .links = links}));
  const Content photo{
      "tip", "{}", "aGFsbG8=", {{"propeller_id", propeller}, {"event_id", event.id}}};
  const Record kept = value_of(workshop.create(RecordKind::photo, photo));
  EXPECT_EQ(value_of(workshop.get(RecordKind::photo, kept.id))->content.attached, "aGFsbG8=");
  EXPECT_EQ(value_of(workshop.list(RecordKind::photo, {.links = links})).items[0].content.attached,
            "");
  EXPECT_EQ(problem_of(workshop.list(RecordKind::hall, flown), "propeller").remedy, "leave it out");
  EXPECT_TRUE(value_of(workshop.check()).problems.empty());
}

TEST(Migration, AFlightLinkedToOneBelongsToNoOtherOfThatName) {
  Workshop workshop = in_memory();
  const auto made = [&] {
    return value_of(workshop.create(RecordKind::propeller, {.name = "P14", .section_json = "{}"}))
        .id;
  };
  const std::string first = made(), second = made();
  value_of(workshop.create(RecordKind::flight, {.name = "1",
                                                .section_json = R"({"flight":{"propeller":"P14"}})",
                                                .links = {{"propeller_id", first}}}));
  const auto flown = [&](const std::string& id, const std::string& name) {
    return value_of(workshop.list(RecordKind::flight, {.flown_with = FlownWith{id, name}})).total;
  };
  EXPECT_EQ(flown(first, "another name by now"), 1);
  EXPECT_EQ(flown(second, "P14"), 0);
}

TEST(Migration, NothingPendingMakesNoBackup) {
  const Folder folder;
  { EXPECT_TRUE(open(folder / "w.sqlite").migration_backup().empty()); }
  { EXPECT_TRUE(open(folder / "w.sqlite").migration_backup().empty()); }
  EXPECT_EQ(folder.listing(), "w.sqlite");
}

TEST(Migration, ASecondOneOfTheSameSecondKeepsBothBackups) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  { open(path, with({migrations().front()})); }
  write(folder / "w-before-migration-from-1-20261125T150000Z.sqlite", "somebody's");
  const Workshop workshop = open(path);
  EXPECT_EQ(workshop.migration_backup().filename(),
            "w-before-migration-from-1-20261125T150000Z-2.sqlite");
  EXPECT_EQ(read(folder / "w-before-migration-from-1-20261125T150000Z.sqlite"), "somebody's");
}

class FailedMigration : public testing::TestWithParam<const char*> {};

TEST_P(FailedMigration, LeavesTheFileAsItWas) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  std::string before;
  {
    Workshop workshop = open(path);
    fill(workshop);
    before = value_of(workshop.export_json());
  }
  std::vector<Migration> steps = and_then("CREATE TABLE new_one (a TEXT)");
  steps.push_back({steps.back().version + 1, "fails", GetParam()});
  const auto refused = Workshop::open(path, with(steps));
  const base::Problem problem = problem_of(refused, "workshop");
  EXPECT_EQ(problem.kind, base::Kind::resource_failed);
  EXPECT_THAT(problem.message, HasSubstr("fails"));
  EXPECT_EQ(number(path, "PRAGMA user_version"), migrations().back().version);
  EXPECT_EQ(number(path, "SELECT count(*) FROM sqlite_schema WHERE name = 'new_one'"), 0);
  EXPECT_EQ(value_of(open(path).export_json()), before);
}

INSTANTIATE_TEST_SUITE_P(Steps, FailedMigration,
                         testing::Values("CREATE TABLE halls (a TEXT)", "no SQL at all",
                                         "UPDATE halls SET revision = 7; SELECT no_such()",
                                         // would leave motors without their rubber
                                         "UPDATE motors SET rubber_id = 'gone'"));

TEST(Migration, ATableMayBeRebuiltWithItsLinks) {
  // SQLite's own recipe for changing a table: make, copy, drop, rename.
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  std::string before;
  {
    Workshop workshop = open(path);
    fill(workshop);
    before = value_of(workshop.export_json());
  }
  {
    Workshop workshop = open(path, with(and_then("CREATE TABLE spars_2 AS SELECT * FROM spars;"
                                                 "DROP TABLE spars;"
                                                 "ALTER TABLE spars_2 RENAME TO spars;"
                                                 "CREATE UNIQUE INDEX spars_id ON spars (id)")));
    EXPECT_EQ(value_of(workshop.export_json()), before);
  }
}

TEST(Migration, TwoProgramsMayMeetAFileAtOnce) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  { open(path, with({migrations().front()})); }
  const Workshop first = open(path);
  const Workshop second = open(path);
  EXPECT_TRUE(second.migration_backup().empty());
  EXPECT_EQ(value_of(second.list(RecordKind::flight)).total, 0);
}

TEST(Migration, AnOlderProgramRefusesTheMigratedFile) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  const Workshop open_newer = open(path, with(and_then("CREATE TABLE new_one (a TEXT)")));
  const auto refused = Workshop::open(path, options());
  EXPECT_THAT(problem_of(refused, "workshop").message, HasSubstr("newer"));
}

}  // namespace
}  // namespace propwright::workshop::test
