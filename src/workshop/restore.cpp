#include "copies.h"
#include "files.h"
#include "inspect.h"
#include "migrate.h"
#include "store.h"

namespace propwright::workshop {
namespace {

namespace fs = std::filesystem;

/// A copy of the source, checked in full and brought to the tables of this program.
base::Expected<void> prepare(const fs::path& source_path, const fs::path& copy_path,
                             const Options& options) {
  const int newest = newest_version(options.migrations);
  const auto found = check_file(source_path, newest);
  if (!found) return base::fail(found.error());
  if (!found->problems.empty()) return base::fail(found->problems);
  auto source = open_to_look(source_path, newest);
  if (!source) return base::fail(source.error().problem);
  if (auto copied = copy_database(*source, copy_path); !copied) return copied;
  SQLite::Database copy = connect(copy_path, Access::write, 0);
  const auto migrated = migrate(copy, options.migrations, std::nullopt, options.now());
  if (!migrated) return base::fail(migrated.error());
  return {};
}

/// Gives a damaged file another name, with the log that belongs to it.
base::Expected<fs::path> set_aside(const fs::path& path, Time now) {
  const fs::path kept = beside(path, "damaged", now);
  std::error_code error;
  fs::rename(path, kept, error);
  if (error) {
    return base::fail({.kind = base::Kind::resource_failed,
                       .file = path.string(),
                       .remedy = "look at the rights of the folder",
                       .message = "the damaged file cannot be renamed: " + error.message()});
  }
  fs::rename(wal_of(path), wal_of(kept), error);  // there may be none
  fs::remove(path.string() + "-shm", error);      // only an index of the log
  return kept;
}

}  // namespace

base::Expected<RestoreReport> restore_from(Store& store, const fs::path& path) {
  const bool in_memory = store.path.empty();
  const ScratchFile scratch(in_memory ? fs::temp_directory_path() / "workshop" : store.path);
  if (auto ready = prepare(path, scratch.path(), store.options); !ready) {
    return base::fail(ready.error());
  }
  RestoreReport report;
  if (!in_memory) {
    report.replaced_kept_as = beside(store.path, "replaced", store.options.now());
    if (auto kept = copy_database(store.db, report.replaced_kept_as); !kept) {
      return base::fail(kept.error());
    }
  }
  SQLite::Database copy = connect(scratch.path(), Access::read, 0);
  replace_content(store.db, copy, store.options.busy_timeout_ms);
  report.records = count_records(store.db);
  return report;
}

base::Expected<RestoreReport> restore_file(const fs::path& target, const fs::path& source,
                                           Options options) {
  if (options.migrations.empty()) options.migrations = migrations();
  const auto refusal =
      fs::exists(target) ? inspect(target, newest_version(options.migrations)) : std::nullopt;
  const bool empty = fs::exists(target) && fs::file_size(target) == 0;
  if (!refusal || !refusal->damaged || empty) {
    auto store = open_store(target, options);
    if (!store) return base::fail(store.error());
    return restore_from(*store, source);
  }
  const ScratchFile scratch(target);
  if (auto ready = prepare(source, scratch.path(), options); !ready) {
    return base::fail(ready.error());
  }
  auto kept = set_aside(target, options.now());
  if (!kept) return base::fail(kept.error());
  const auto settled = settle(scratch.path(), target);
  if (!settled) return base::fail(settled.error());
  SQLite::Database db = connect(target, Access::still, 0);
  return RestoreReport{*kept, count_records(db)};
}

}  // namespace propwright::workshop
