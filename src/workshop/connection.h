/// An open SQLite file with the settings of the workshop.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::workshop {

inline constexpr int application_id = 0x50725770;  // "PrWp", in the header of every workshop file

enum class Access {
  read,   ///< takes the locks of SQLite, leaves the file as it is
  still,  ///< for a file that nobody has open: no locks, no file beside it
  write,
  create,
};

/// Foreign keys on, synchronous=FULL; the journal mode stays as it is. Throws SQLite::Exception.
SQLite::Database connect(const std::filesystem::path& path, Access access, int busy_timeout_ms);

/// The value of a pragma or of any query with one number or text.
std::int64_t number(SQLite::Database& db, const std::string& sql);
std::string text(SQLite::Database& db, const std::string& sql);

/// What SQLite could not do, in our words.
base::Problem problem_of(const SQLite::Exception& error, const std::filesystem::path& path);

/// Count of rows by table, in the order of the export; tables that the file lacks are left out.
std::vector<std::pair<std::string, std::int64_t>> count_records(SQLite::Database& db);

}  // namespace propwright::workshop
