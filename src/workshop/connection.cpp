#include "connection.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include "kinds.h"

namespace propwright::workshop {
namespace {

/// An URI takes the path with these three written in hexadecimal.
std::string still_uri(const std::filesystem::path& path) {
  std::string uri = "file:";
  for (const char c : std::filesystem::absolute(path).string()) {
    if (c == '%' || c == '?' || c == '#') {
      uri += fmt::format("%{:02X}", static_cast<unsigned>(c));
    } else {
      uri += c;
    }
  }
  return uri + "?immutable=1";
}

SQLite::Database open_file(const std::filesystem::path& path, Access access, int busy_timeout_ms) {
  switch (access) {
    case Access::still:
      return {still_uri(path), SQLite::OPEN_READONLY | SQLite::OPEN_URI, busy_timeout_ms};
    case Access::read:
      return {path.string(), SQLite::OPEN_READONLY, busy_timeout_ms};
    case Access::write:
      return {path.string(), SQLite::OPEN_READWRITE, busy_timeout_ms};
    case Access::create:
      break;
  }
  return {path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, busy_timeout_ms};
}

}  // namespace

SQLite::Database connect(const std::filesystem::path& path, Access access, int busy_timeout_ms) {
  SQLite::Database db = open_file(path, access, busy_timeout_ms);
  db.exec("PRAGMA foreign_keys=ON; PRAGMA synchronous=FULL;");
  return db;
}

std::int64_t number(SQLite::Database& db, const std::string& sql) {
  return db.execAndGet(sql).getInt64();
}

std::string text(SQLite::Database& db, const std::string& sql) {
  return db.execAndGet(sql).getString();
}

base::Problem problem_of(const SQLite::Exception& error, const std::filesystem::path& path) {
  base::Problem problem{.kind = base::Kind::resource_failed,
                        .file = path.string(),
                        .field = "workshop",
                        .remedy = "look at the disk and the rights of the file and its folder",
                        .message = fmt::format("the workshop file failed: {}", error.what())};
  switch (error.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      problem.message = "another program is writing to the workshop file";
      problem.remedy = "close it or wait a moment, then try again";
      break;
    case SQLITE_FULL:
      problem.message = "the disk is full; nothing was changed";
      problem.remedy = "make room on the disk, then try again";
      break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
      problem.message = "the workshop file cannot be written";
      problem.remedy = "allow writing to the file and its folder";
      break;
    case SQLITE_CONSTRAINT:
      problem.kind = base::Kind::bad_input;
      problem.message = fmt::format("the record breaks a rule of the tables: {}", error.what());
      problem.remedy = "correct the record; docs/workshop-file.md has the rules";
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      problem.message = fmt::format("the workshop file is damaged: {}", error.what());
      problem.remedy = "restore a backup with: propwright workshop restore BACKUP";
      break;
    default:
      break;
  }
  return problem;
}

std::vector<std::pair<std::string, std::int64_t>> count_records(SQLite::Database& db) {
  std::vector<std::pair<std::string, std::int64_t>> counts;
  for (const std::string& table : tables_in_order()) {
    if (!db.tableExists(table)) continue;
    counts.emplace_back(table, number(db, "SELECT count(*) FROM " + table));
  }
  return counts;
}

}  // namespace propwright::workshop
