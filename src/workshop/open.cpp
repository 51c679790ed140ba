#include "copies.h"
#include "files.h"
#include "inspect.h"
#include "migrate.h"
#include "store.h"

namespace propwright::workshop {
namespace {

namespace fs = std::filesystem;

bool is_new(const fs::path& path) {
  std::error_code error;
  if (!fs::exists(path, error)) return true;
  const auto wal_size = fs::file_size(wal_of(path), error);
  const bool records_wait = !error && wal_size > 0;
  return fs::is_regular_file(path, error) && fs::file_size(path, error) == 0 && !records_wait;
}

base::Expected<void> make_tables(SQLite::Database& db, const Options& options) {
  db.exec("PRAGMA application_id = " + std::to_string(application_id));
  const auto made = migrate(db, options.migrations, std::nullopt, options.now());
  if (!made) return base::fail(made.error());
  return {};
}

/// The file appears at its name when it is whole, or not at all.
base::Expected<void> make_file(const fs::path& path, const Options& options) {
  std::error_code error;
  if (path.has_parent_path()) fs::create_directories(path.parent_path(), error);
  // One maker at a time: else one would take away as empty what another has just made.
  const FolderLock lock(folder_of(path));
  if (!is_new(path)) return {};
  if (fs::exists(path, error)) fs::remove(path, error);  // an empty file
  const ScratchFile scratch(path);
  {
    SQLite::Database db = connect(scratch.path(), Access::create, options.busy_timeout_ms);
    if (auto made = make_tables(db, options); !made) return base::fail(made.error());
    // Kept in the file: of several who open it at once one would else have to change it, and for
    // that change SQLite does not wait.
    db.exec("PRAGMA journal_mode=WAL");
  }
  const auto settled = settle(scratch.path(), path);
  if (!settled) return base::fail(settled.error());
  return {};  // where another program has made the file meanwhile, that one is opened
}

base::Expected<Store> open_file(const fs::path& path, Options options) {
  if (is_new(path)) {
    if (!options.create) {
      return base::fail({.kind = base::Kind::resource_failed,
                         .file = path.string(),
                         .field = "workshop",
                         .remedy = "name a workshop file that exists",
                         .message = "there is no such file"});
    }
    if (auto made = make_file(path, options); !made) return base::fail(made.error());
  }
  if (auto refusal = inspect(path, newest_version(options.migrations))) {
    return base::fail(std::move(refusal->problem));
  }
  SQLite::Database db = connect(path, Access::write, options.busy_timeout_ms);
  if (text(db, "PRAGMA journal_mode=WAL") != "wal") {
    return base::fail({.kind = base::Kind::resource_failed,
                       .file = path.string(),
                       .field = "workshop",
                       .remedy = "keep the workshop on a disk of this machine",
                       .message = "the file system cannot keep a write-ahead log"});
  }
  auto backup = migrate(db, options.migrations, path, options.now());
  if (!backup) return base::fail(backup.error());
  // From here on the header alone tells an older program that the file is newer.
  if (!backup->empty()) db.exec("PRAGMA wal_checkpoint(TRUNCATE)");
  return Store{std::move(db), path, std::move(options), *backup};
}

base::Expected<Store> open_in_memory(Options options) {
  SQLite::Database db = connect(":memory:", Access::create, options.busy_timeout_ms);
  if (auto made = make_tables(db, options); !made) return base::fail(made.error());
  return Store{std::move(db), {}, std::move(options), {}};
}

}  // namespace

base::Expected<Store> open_store(const fs::path& path, Options options) {
  if (options.migrations.empty()) options.migrations = migrations();
  try {
    return path.empty() ? open_in_memory(std::move(options)) : open_file(path, std::move(options));
  } catch (const SQLite::Exception& error) {
    return base::fail(problem_of(error, path));
  } catch (const fs::filesystem_error& error) {
    return base::fail({.kind = base::Kind::resource_failed,
                       .file = path.string(),
                       .field = "workshop",
                       .remedy = "look at the disk and the rights of the folder",
                       .message = error.code().message()});
  }
}

}  // namespace propwright::workshop
