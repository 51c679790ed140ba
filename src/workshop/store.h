/// What the parts of the workshop share: the open file and what goes with it.
#pragma once

#include <filesystem>

#include "connection.h"
#include "propwright/workshop/workshop.h"

namespace propwright::workshop {

struct Store {
  SQLite::Database db;
  std::filesystem::path path;  ///< empty: in memory
  Options options;
  std::filesystem::path migration_backup;
};

/// As Workshop::open; an empty path opens in memory.
base::Expected<Store> open_store(const std::filesystem::path& path, Options options);

/// As Workshop::check_file.
base::Expected<CheckReport> check_file(const std::filesystem::path& path, int newest);
/// The same for what is open already; `path` is for the report.
base::Expected<CheckReport> check_database(SQLite::Database& db, const std::filesystem::path& path,
                                           int newest);
base::Expected<RestoreReport> restore_from(Store& store, const std::filesystem::path& path);
base::Expected<RestoreReport> restore_file(const std::filesystem::path& target,
                                           const std::filesystem::path& source, Options options);

}  // namespace propwright::workshop
