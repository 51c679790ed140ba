#include <fmt/format.h>

#include <charconv>
#include <stdexcept>

#include "copies.h"
#include "embedded_table.h"
#include "files.h"
#include "migrate.h"

namespace propwright::workshop {
namespace {

/// "0001_records.sql"
Migration read_migration(const EmbeddedFile& file) {
  const std::string_view name = file.name;
  Migration migration;
  const auto number = std::from_chars(name.data(), name.data() + 4, migration.version);
  if (number.ec != std::errc() || name.size() < 10 || name[4] != '_') {
    throw std::logic_error(fmt::format("a migration is named 0001_what.sql, not {}", name));
  }
  migration.name = name.substr(5, name.size() - 9);
  migration.sql = std::string(file.begin, file.end);
  return migration;
}

base::Problem not_migrated(const Migration& migration, const std::string& reason) {
  return {.kind = base::Kind::resource_failed,
          .field = "workshop",
          .remedy = "the file is as it was; run propwright workshop check on it",
          .message = fmt::format("the workshop file could not be brought to version {} ({}): {}",
                                 migration.version, migration.name, reason)};
}

base::Expected<void> run(SQLite::Database& db, const Migration& migration) {
  try {
    db.exec(migration.sql);
    db.exec(fmt::format("PRAGMA user_version = {}", migration.version));
  } catch (const SQLite::Exception& error) {
    return base::fail(not_migrated(migration, error.what()));
  }
  SQLite::Statement broken_links(db, "PRAGMA foreign_key_check");
  if (!broken_links.executeStep()) return {};
  return base::fail(not_migrated(
      migration, "a link of " + broken_links.getColumn(0).getString() + " would lead nowhere"));
}

base::Expected<std::filesystem::path> migrate_under_lock(
    SQLite::Database& db, const std::vector<Migration>& migrations,
    const std::optional<std::filesystem::path>& backup_of, Time now) {
  SQLite::Transaction transaction(db, SQLite::TransactionBehavior::IMMEDIATE);
  const std::int64_t from = number(db, "PRAGMA user_version");
  std::filesystem::path backup;
  if (from >= newest_version(migrations)) return backup;  // another program was quicker
  if (backup_of && number(db, "SELECT count(*) FROM sqlite_schema") > 0) {
    backup = beside(*backup_of, fmt::format("before-migration-from-{}", from), now);
    if (auto copied = copy_committed(*backup_of, backup); !copied)
      return base::fail(copied.error());
  }
  for (const Migration& migration : migrations) {
    if (migration.version <= from) continue;
    if (auto done = run(db, migration); !done) return base::fail(done.error());
  }
  transaction.commit();
  return backup;
}

}  // namespace

std::vector<Migration> migrations() {
  std::vector<Migration> all;
  for (unsigned i = 0; i < embedded_file_count; ++i) {
    all.push_back(read_migration(embedded_files[i]));
    if (all.back().version != static_cast<int>(i) + 1) {
      throw std::logic_error("the migrations must be numbered from 1 without gaps");
    }
  }
  return all;
}

int newest_version(const std::vector<Migration>& migrations) {
  return migrations.empty() ? 0 : migrations.back().version;
}

base::Expected<std::filesystem::path> migrate(SQLite::Database& db,
                                              const std::vector<Migration>& migrations,
                                              const std::optional<std::filesystem::path>& backup_of,
                                              Time now) {
  if (number(db, "PRAGMA user_version") >= newest_version(migrations)) {
    return std::filesystem::path();
  }
  // A table may be rebuilt on the way: links are checked at the end instead of at each row.
  db.exec("PRAGMA foreign_keys=OFF");
  auto backup = migrate_under_lock(db, migrations, backup_of, now);
  db.exec("PRAGMA foreign_keys=ON");
  return backup;
}

}  // namespace propwright::workshop
