#include "copies.h"

#include <SQLiteCpp/Backup.h>
#include <sqlite3.h>

#include <chrono>
#include <thread>

#include "files.h"

namespace propwright::workshop {
namespace {

namespace fs = std::filesystem;

base::Problem taken(const fs::path& path) {
  return {.kind = base::Kind::resource_failed,
          .file = path.string(),
          .field = "to",
          .remedy = "choose a name that is free; nothing is overwritten",
          .message = "there is a file of that name already"};
}

void copy_into(SQLite::Database& db, const fs::path& to) {
  SQLite::Statement vacuum(db, "VACUUM INTO ?");
  vacuum.bind(1, to.string());
  vacuum.exec();
}

base::Expected<void> check_copy(const fs::path& path) {
  SQLite::Database copy = connect(path, Access::still, 0);
  const std::string verdict = text(copy, "PRAGMA quick_check(1)");
  if (verdict == "ok") return {};
  return base::fail({.kind = base::Kind::resource_failed,
                     .file = path.string(),
                     .remedy = "run propwright workshop check on the file that was copied",
                     .message = "the copy is not sound: " + verdict});
}

}  // namespace

base::Expected<void> copy_database(SQLite::Database& db, const fs::path& to) {
  std::error_code error;
  if (fs::exists(fs::symlink_status(to, error))) return base::fail(taken(to));
  try {
    const ScratchFile scratch(to);
    copy_into(db, scratch.path());
    if (auto sound = check_copy(scratch.path()); !sound) return sound;
    const auto settled = settle(scratch.path(), to);
    if (!settled) return base::fail(settled.error());
    if (!*settled) return base::fail(taken(to));
    return {};
  } catch (const SQLite::Exception& e) {
    return base::fail(problem_of(e, to));
  }
}

base::Expected<void> copy_committed(const fs::path& from, const fs::path& to) {
  try {
    SQLite::Database db = connect(from, Access::read, 5000);
    return copy_database(db, to);
  } catch (const SQLite::Exception& e) {
    return base::fail(problem_of(e, from));
  }
}

void replace_content(SQLite::Database& to, SQLite::Database& from, int busy_timeout_ms) {
  SQLite::Backup backup(to, from);
  const auto give_up =
      std::chrono::steady_clock::now() + std::chrono::milliseconds(busy_timeout_ms);
  while (true) {
    const int state = backup.executeStep(-1);
    if (state == SQLITE_DONE) return;
    if (std::chrono::steady_clock::now() > give_up) {
      throw SQLite::Exception("the file is in use", SQLITE_BUSY);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
}

}  // namespace propwright::workshop
