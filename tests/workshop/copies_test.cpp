// Backups and what is restored from them.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include "support.h"

namespace propwright::workshop::test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class Copies : public testing::Test {
 protected:
  Copies() { fill(workshop); }
  std::string content() { return value_of(workshop.export_json()); }
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  Workshop workshop = open(path);
};

TEST_F(Copies, ABackupIsOneWholeFileWithTheSameRecords) {
  ASSERT_TRUE(workshop.backup_to(folder / "backup.sqlite"));
  EXPECT_EQ(folder.listing(), "backup.sqlite w.sqlite w.sqlite-shm w.sqlite-wal");
  const auto checked = value_of(Workshop::check_file(folder / "backup.sqlite"));
  EXPECT_TRUE(checked.problems.empty()) << lines(checked.problems);
  EXPECT_EQ(value_of(open(folder / "backup.sqlite").export_json()), content());
}

TEST_F(Copies, ABackupReplacesNothing) {
  write(folder / "backup.sqlite", "mine");
  EXPECT_THAT(problem_of(workshop.backup_to(folder / "backup.sqlite"), "to").message,
              HasSubstr("already"));
  EXPECT_EQ(read(folder / "backup.sqlite"), "mine");
  EXPECT_FALSE(workshop.backup_to(path));
}

TEST_F(Copies, ABackupIntoAFolderThatIsNotThereIsAProblem) {
  const auto refused = workshop.backup_to(folder / "none/backup.sqlite");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().kind, base::Kind::resource_failed);
}

TEST_F(Copies, AWorkshopInMemoryCanBeBackedUpAndRestored) {
  Workshop memory = in_memory();
  fill(memory);
  ASSERT_TRUE(memory.backup_to(folder / "memory.sqlite"));
  const std::string before = value_of(memory.export_json());
  value_of(memory.create(RecordKind::hall, hall("Too much")));
  const auto restored = value_of(memory.restore_from(folder / "memory.sqlite"));
  EXPECT_TRUE(restored.replaced_kept_as.empty());
  EXPECT_EQ(value_of(memory.export_json()), before);
}

TEST_F(Copies, RestoreBringsBackTheBackupAndKeepsWhatItReplaced) {
  const std::string before = content();
  ASSERT_TRUE(workshop.backup_to(folder / "backup.sqlite"));
  value_of(workshop.create(RecordKind::hall, hall("Built since")));
  const std::string after = content();

  const auto restored = value_of(workshop.restore_from(folder / "backup.sqlite"));
  EXPECT_EQ(content(), before);
  EXPECT_EQ(restored.records.front(), std::pair(std::string("halls"), std::int64_t{2}));
  EXPECT_EQ(value_of(open(restored.replaced_kept_as).export_json()), after);
  EXPECT_EQ(restored.replaced_kept_as.parent_path(), folder.path());
  EXPECT_TRUE(value_of(workshop.check()).problems.empty());
  // It is still a file to work with, in the same manner.
  EXPECT_TRUE(workshop.create(RecordKind::hall, hall("Next")));
  EXPECT_TRUE(value_of(open(path).check()).problems.empty());
}

TEST_F(Copies, OthersThatHaveTheFileOpenSeeWhatWasRestored) {
  ASSERT_TRUE(workshop.backup_to(folder / "backup.sqlite"));
  Workshop other = open(path);
  value_of(other.create(RecordKind::hall, hall("Built since")));
  value_of(workshop.restore_from(folder / "backup.sqlite"));
  EXPECT_EQ(value_of(other.list(RecordKind::hall)).total, 1);
  EXPECT_TRUE(other.create(RecordKind::hall, hall("Next")));
  EXPECT_EQ(value_of(workshop.list(RecordKind::hall)).total, 2);
}

TEST_F(Copies, ABadSourceIsRefusedAndNothingIsTouched) {
  const std::string before = content();
  ASSERT_TRUE(workshop.backup_to(folder / "backup.sqlite"));
  const std::string whole = read(folder / "backup.sqlite");
  write(folder / "text.sqlite", "no database");
  write(folder / "short.sqlite", whole.substr(0, whole.size() / 2));
  std::string broken = whole;
  for (std::size_t i = 3 * 4096; i < 4 * 4096; ++i) broken[i] = 'x';
  write(folder / "broken.sqlite", broken);
  const std::string listing = folder.listing();
  for (const char* const name : {"text.sqlite", "short.sqlite", "broken.sqlite", "none.sqlite"}) {
    EXPECT_FALSE(workshop.restore_from(folder / name)) << name;
    EXPECT_EQ(content(), before);
    EXPECT_EQ(folder.listing(), listing);
  }
}

TEST_F(Copies, ASourceWhoseRecordsContradictEachOtherIsRefused) {
  ASSERT_TRUE(workshop.backup_to(folder / "backup.sqlite"));
  SQLite::Database((folder / "backup.sqlite").string(), SQLite::OPEN_READWRITE)
      .exec(
          "UPDATE designs SET duration_s = 1; PRAGMA foreign_keys=OFF;"
          "UPDATE motors SET rubber_id = 'gone'");
  const auto refused = workshop.restore_from(folder / "backup.sqlite");
  problem_of(refused, "designs");
  problem_of(refused, "motors");
}

TEST_F(Copies, AnOlderBackupIsMigratedOnTheWay) {
  Options old = test::options();
  old.migrations = {migrations().front()};
  {
    Workshop older = open(folder / "old.sqlite", old);
    value_of(older.create(RecordKind::hall, hall("Of last season")));
  }
  const std::string bytes = read(folder / "old.sqlite");
  value_of(workshop.restore_from(folder / "old.sqlite"));
  EXPECT_EQ(value_of(workshop.list(RecordKind::hall)).items.front().content.name, "Of last season");
  EXPECT_EQ(value_of(workshop.list(RecordKind::flight)).total, 0);
  EXPECT_EQ(read(folder / "old.sqlite"), bytes);
}

TEST(RestoreFile, ADamagedFileIsKeptAsideAndReplaced) {
  const Folder folder;
  const fs::path path = folder / "w.sqlite";
  std::string before;
  {
    Workshop workshop = open(path);
    fill(workshop);
    before = value_of(workshop.export_json());
    ASSERT_TRUE(workshop.backup_to(folder / "backup.sqlite"));
  }
  const std::string damaged = read(path).substr(0, 3 * 4096);
  write(path, damaged);
  const auto restored =
      value_of(Workshop::restore_file(path, folder / "backup.sqlite", test::options()));
  EXPECT_THAT(restored.replaced_kept_as.filename().string(), testing::StartsWith("w-damaged-2026"));
  EXPECT_EQ(read(restored.replaced_kept_as), damaged);
  EXPECT_EQ(value_of(open(path).export_json()), before);
}

TEST(RestoreFile, ADamagedFileStaysWhereItIsWhenTheBackupIsNoBetter) {
  const Folder folder;
  { open(folder / "w.sqlite"); }
  const std::string damaged = read(folder / "w.sqlite").substr(0, 3 * 4096);
  write(folder / "w.sqlite", damaged);
  write(folder / "backup.sqlite", damaged);
  EXPECT_FALSE(Workshop::restore_file(folder / "w.sqlite", folder / "backup.sqlite"));
  EXPECT_EQ(read(folder / "w.sqlite"), damaged);
  EXPECT_EQ(folder.listing(), "backup.sqlite w.sqlite");
}

TEST(RestoreFile, AMissingFileIsMade) {
  const Folder folder;
  {
    Workshop workshop = open(folder / "backup.sqlite");
    fill(workshop);
  }
  EXPECT_TRUE(Workshop::restore_file(folder / "w.sqlite", folder / "backup.sqlite"));
  EXPECT_EQ(value_of(open(folder / "w.sqlite").list(RecordKind::hall)).total, 1);
}

TEST(RestoreFile, AFileOfAnotherProgramIsLeftAlone) {
  const Folder folder;
  { open(folder / "backup.sqlite"); }
  write(folder / "w.sqlite", "no database");
  EXPECT_FALSE(Workshop::restore_file(folder / "w.sqlite", folder / "backup.sqlite"));
  EXPECT_EQ(read(folder / "w.sqlite"), "no database");
}

TEST(Check, ASoundFileHasNoProblemsAndIsCounted) {
  const Folder folder;
  {
    Workshop workshop = open(folder / "w.sqlite");
    fill(workshop);
  }
  const std::string bytes = read(folder / "w.sqlite");
  const auto report = value_of(Workshop::check_file(folder / "w.sqlite"));
  EXPECT_TRUE(report.problems.empty()) << lines(report.problems);
  EXPECT_EQ(report.schema_version, migrations().back().version);
  EXPECT_EQ(report.size_bytes, static_cast<std::int64_t>(bytes.size()));
  EXPECT_EQ(report.records.size(), 20);
  EXPECT_EQ(report.records[4], std::pair(std::string("designs"), std::int64_t{2}));
  EXPECT_EQ(read(folder / "w.sqlite"), bytes);
  EXPECT_EQ(folder.listing(), "w.sqlite");
}

TEST(Check, FindsWhatOpeningDoesNotLookFor) {
  const Folder folder;
  {
    Workshop workshop = open(folder / "w.sqlite");
    fill(workshop);
  }
  SQLite::Database((folder / "w.sqlite").string(), SQLite::OPEN_READWRITE)
      .exec("PRAGMA ignore_check_constraints=ON; UPDATE halls SET section = '{broken'");
  const auto report = value_of(Workshop::check_file(folder / "w.sqlite"));
  EXPECT_THAT(lines(report.problems), HasSubstr("CHECK constraint failed in halls"));
}

TEST(Check, ADamagedFileIsReported) {
  const Folder folder;
  {
    Workshop workshop = open(folder / "w.sqlite");
    fill(workshop);
  }
  std::string bytes = read(folder / "w.sqlite");
  for (std::size_t i = 5 * 4096; i < 6 * 4096; ++i) bytes[i] = 'x';
  write(folder / "w.sqlite", bytes);
  EXPECT_FALSE(value_of(Workshop::check_file(folder / "w.sqlite")).problems.empty());
  EXPECT_FALSE(Workshop::check_file(folder / "none.sqlite"));
}

}  // namespace
}  // namespace propwright::workshop::test
