// Opening: new files, damaged ones, those of others, newer ones; nothing refused is touched.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include <cstdlib>
#include <random>

#include "support.h"

namespace propwright::workshop::test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

TEST(Open, ANewFileIsMadeWithTheFoldersAboveIt) {
  const Folder folder;
  const fs::path path = folder / "a/b/w.sqlite";
  const Workshop workshop = open(path);
  EXPECT_EQ(workshop.path(), path);
  EXPECT_EQ(workshop.schema_version(), migrations().back().version);
  EXPECT_TRUE(workshop.migration_backup().empty());
  EXPECT_TRUE(fs::exists(path));
}

TEST(Open, AWorkshopHasItsOwnIdForEver) {
  const Folder folder;
  const std::string id = value_of(open(folder / "w.sqlite").id());
  EXPECT_EQ(id.size(), 20);
  Workshop workshop = open(folder / "w.sqlite");
  EXPECT_EQ(value_of(workshop.id()), id);
  EXPECT_NE(value_of(open(folder / "other.sqlite").id()), id);
  ASSERT_TRUE(workshop.backup_to(folder / "copy.sqlite"));
  EXPECT_EQ(value_of(open(folder / "copy.sqlite").id()), id);
  SQLite::Database db((folder / "w.sqlite").string(), SQLite::OPEN_READWRITE);
  EXPECT_THROW(db.exec("DELETE FROM identity"), SQLite::Exception);
  EXPECT_THROW(db.exec("UPDATE identity SET id = 'x'"), SQLite::Exception);
}

TEST(Open, AnEmptyFileIsANewOne) {
  const Folder folder;
  write(folder / "w.sqlite", "");
  Workshop workshop = open(folder / "w.sqlite");
  EXPECT_TRUE(workshop.create(RecordKind::hall, hall("H")));
}

TEST(Open, WhatWasWrittenIsThereAfterwards) {
  const Folder folder;
  std::string id;
  {
    Workshop workshop = open(folder / "w.sqlite");
    id = value_of(workshop.create(RecordKind::hall, hall("H"))).id;
  }
  EXPECT_EQ(folder.listing(), "w.sqlite");  // the log is gone with the last one who had it open
  const Workshop workshop = open(folder / "w.sqlite");
  EXPECT_EQ(value_of(workshop.get(RecordKind::hall, id))->content.name, "H");
}

TEST(Open, IsDoneWithTheSettingsThatAreDocumented) {
  const Folder folder;
  { open(folder / "w.sqlite"); }
  SQLite::Database db((folder / "w.sqlite").string());
  EXPECT_EQ(db.execAndGet("PRAGMA journal_mode").getString(), "wal");
  EXPECT_EQ(db.execAndGet("PRAGMA application_id").getInt(), 0x50725770);
  EXPECT_EQ(db.execAndGet("PRAGMA user_version").getInt(), migrations().back().version);
  EXPECT_EQ(db.execAndGet("SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND "
                          "type = 'table' AND name NOT LIKE 'sqlite%' AND NOT strict")
                .getInt(),
            0);
}

TEST(Open, AnyToolMayTidyTheFile) {
  const Folder folder;
  std::string before;
  {
    Workshop workshop = open(folder / "w.sqlite");
    fill(workshop);
    before = value_of(workshop.export_json());
  }
  SQLite::Database((folder / "w.sqlite").string(), SQLite::OPEN_READWRITE)
      .exec("VACUUM; ANALYZE; REINDEX");
  EXPECT_EQ(value_of(open(folder / "w.sqlite").export_json()), before);
}

TEST(Open, NoRecordCanBeDeletedByMistake) {
  const Folder folder;
  {
    Workshop workshop = open(folder / "w.sqlite");
    fill(workshop);
  }
  SQLite::Database db((folder / "w.sqlite").string(), SQLite::OPEN_READWRITE);
  for (const std::string table :
       {"halls", "models", "rubbers", "motors", "designs", "design_versions", "spars", "blades",
        "propellers", "weights", "flights", "forms", "cylinders", "rigs", "stocks", "batches",
        "hubs", "meters", "sessions"}) {
    EXPECT_THROW(db.exec("DELETE FROM " + table), SQLite::Exception) << table;
  }
  EXPECT_THROW(db.exec("UPDATE design_versions SET document = '{\"job\":{}}' WHERE built_at <> ''"),
               SQLite::Exception);
}

TEST(Open, NamesWithOddLettersAreFiles) {
  const Folder folder;
  for (const std::string name : {"with space.sqlite", "50%25.sqlite", "what?a=b#c.sqlite"}) {
    { value_of(open(folder / name).create(RecordKind::hall, hall("H"))); }
    const Workshop workshop = open(folder / name);
    EXPECT_EQ(value_of(workshop.list(RecordKind::hall)).total, 1) << name;
    EXPECT_TRUE(fs::exists(folder / name));
  }
}

TEST(Open, WithoutCreateAMissingFileIsAProblem) {
  const Folder folder;
  Options options = test::options();
  options.create = false;
  EXPECT_EQ(problem_of(Workshop::open(folder / "w.sqlite", options), "workshop").kind,
            base::Kind::resource_failed);
  EXPECT_EQ(folder.listing(), "");
  problem_of(Workshop::open(""), "workshop");
}

TEST(Open, AFolderIsNoFile) {
  const Folder folder;
  EXPECT_THAT(problem_of(Workshop::open(folder.path()), "workshop").message, HasSubstr("no file"));
}

TEST(Open, AFolderThatCannotBeMadeIsAProblem) {
  const Folder folder;
  write(folder / "file", "x");
  EXPECT_FALSE(Workshop::open(folder / "file/w.sqlite"));
}

/// A file that is looked at and left: bytes, times and the folder stay as they are.
class Refused : public testing::Test {
 protected:
  Refused() {
    Workshop workshop = open(path);
    fill(workshop);
    for (int i = 0; i < 50; ++i) value_of(workshop.create(RecordKind::rubber, rubber("R")));
  }
  /// Opens, expects to be refused, and looks whether anything has changed.
  base::Problem refuse() {
    const fs::file_time_type long_ago = fs::last_write_time(path) - std::chrono::hours(1000);
    fs::last_write_time(path, long_ago);
    const std::string bytes = read(path), listing = folder.listing();
    const auto opened = Workshop::open(path, options());
    EXPECT_EQ(read(path), bytes);
    EXPECT_EQ(fs::last_write_time(path), long_ago);
    EXPECT_EQ(folder.listing(), listing);
    const base::Problem problem = problem_of(opened, "workshop");
    EXPECT_EQ(problem.kind, base::Kind::resource_failed);
    EXPECT_EQ(problem.file, path.string());
    EXPECT_FALSE(problem.remedy.empty());
    return problem;
  }
  void change(const std::string& sql) {
    SQLite::Database db(path.string(), SQLite::OPEN_READWRITE);
    db.exec(sql);
  }
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
};

TEST_F(Refused, WhatIsNoDatabase) {
  write(path, "Dear diary, today the Lantern flew for ten minutes. ");
  EXPECT_THAT(refuse().message, HasSubstr("not a database"));
  write(path, std::string(100000, '\0'));
  EXPECT_THAT(refuse().message, HasSubstr("not a database"));
}

TEST_F(Refused, AFileOfAnotherProgram) {
  change("PRAGMA application_id = 42");
  EXPECT_THAT(refuse().message, HasSubstr("another program"));
  change("PRAGMA application_id = 0");
  EXPECT_THAT(refuse().message, HasSubstr("another program"));
}

TEST_F(Refused, AFileOfANewerPropwright) {
  change("PRAGMA user_version = 999");
  const base::Problem problem = refuse();
  EXPECT_THAT(problem.message, HasSubstr("newer"));
  EXPECT_THAT(problem.message, HasSubstr("999"));
}

TEST_F(Refused, ANewerVersionThatStandsInTheLogOnly) {
  // As after a kill: the newer tables are in the log, the header of the file does not know yet.
  const fs::path copy = folder / "copy.sqlite";
  {
    SQLite::Database db(path.string(), SQLite::OPEN_READWRITE);
    db.exec("PRAGMA user_version = 999");
    fs::copy_file(path, copy);
    fs::copy_file(path.string() + "-wal", copy.string() + "-wal");
  }
  const std::string bytes = read(copy), log = read(copy.string() + "-wal");
  ASSERT_GT(log.size(), 0);
  const auto opened = Workshop::open(copy, options());
  EXPECT_THAT(problem_of(opened, "workshop").message, HasSubstr("newer"));
  EXPECT_EQ(read(copy), bytes);
  EXPECT_EQ(read(copy.string() + "-wal"), log);
}

TEST_F(Refused, AFileCutShortAtAnyPlace) {
  const std::string whole = read(path);
  ASSERT_GT(whole.size(), 20 * 4096);
  for (const std::size_t size : {std::size_t{1}, std::size_t{15}, std::size_t{60}, std::size_t{99},
                                 std::size_t{100}, std::size_t{4096}, std::size_t{5000},
                                 whole.size() / 2, whole.size() - 4096, whole.size() - 1}) {
    write(path, whole.substr(0, size));
    EXPECT_THAT(refuse().message, HasSubstr("damaged")) << size;
  }
}

TEST_F(Refused, AFileCutToNothingWhileRecordsWaitInItsLog) {
  write(path, "");
  write(path.string() + "-wal", "something");
  EXPECT_THAT(refuse().message, HasSubstr("damaged"));
}

TEST_F(Refused, PagesOfRandomBytes) {
  const std::string whole = read(path);
  std::mt19937 random(20261125);
  std::uniform_int_distribution<int> byte(0, 255);
  const std::size_t pages = whole.size() / 4096;
  for (std::size_t page = 1; page < pages; ++page) {
    std::string broken = whole;
    for (std::size_t i = 0; i < 4096; ++i) {
      broken[page * 4096 + i] = static_cast<char>(byte(random));
    }
    write(path, broken);
    EXPECT_THAT(refuse().message, HasSubstr("damaged")) << "page " << page + 1;
  }
}

TEST_F(Refused, AFileThatMayNotBeRead) {
  if (geteuid() == 0) GTEST_SKIP() << "root may read everything";
  fs::permissions(path, fs::perms::none);
  const auto opened = Workshop::open(path, options());
  EXPECT_FALSE(opened);
  fs::permissions(path, fs::perms::owner_all);
}

TEST_F(Refused, RandomBytesInTheMiddleNeverLeadToAFault) {
  // A few changed bytes may hide inside a text and still be a sound database; then it opens. What
  // must not happen: a crash, or an exception that gets out.
  const std::string whole = read(path);
  std::mt19937 random(7);
  std::uniform_int_distribution<std::size_t> place(100, whole.size() - 1);
  std::uniform_int_distribution<int> byte(0, 255);
  int refused = 0;
  for (int round = 0; round < 200; ++round) {
    std::string broken = whole;
    for (int i = 0; i < 20; ++i) broken[place(random)] = static_cast<char>(byte(random));
    write(path, broken);
    auto opened = Workshop::open(path, options());
    refused += opened ? 0 : 1;
    if (opened) {
      (void)opened->export_json();
      (void)opened->check();
      (void)opened->list_designs();
    }
    for (const char* const end : {"-wal", "-shm"}) fs::remove(path.string() + end);
  }
  EXPECT_GT(refused, 20);
}

}  // namespace
}  // namespace propwright::workshop::test
