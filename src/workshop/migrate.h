/// From the tables of an older file to those of this program.
#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "connection.h"
#include "propwright/workshop/workshop.h"
#include "text.h"

namespace propwright::workshop {

int newest_version(const std::vector<Migration>& migrations);

/// Runs what is pending in one transaction; on a problem the file is as it was. With `backup_of`,
/// a file that has tables is first copied beside that path, and the name of the copy is given back.
base::Expected<std::filesystem::path> migrate(SQLite::Database& db,
                                              const std::vector<Migration>& migrations,
                                              const std::optional<std::filesystem::path>& backup_of,
                                              Time now);

}  // namespace propwright::workshop
