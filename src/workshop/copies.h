/// Whole copies of a workshop file.
#pragma once

#include <filesystem>

#include "connection.h"

namespace propwright::workshop {

/// One whole file of what the database holds now, checked and on the disk before it has its name.
/// Problem: the name is taken.
base::Expected<void> copy_database(SQLite::Database& db, const std::filesystem::path& to);
/// The same by a connection of its own: the last state that was committed.
base::Expected<void> copy_committed(const std::filesystem::path& from,
                                    const std::filesystem::path& to);

/// Puts the whole content of `from` in the place of what `to` holds, in one transaction.
void replace_content(SQLite::Database& to, SQLite::Database& from, int busy_timeout_ms);

}  // namespace propwright::workshop
