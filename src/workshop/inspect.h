/// A look at a file before anything is done with it. Nothing is touched.
#pragma once

#include <filesystem>
#include <optional>

#include "connection.h"

namespace propwright::workshop {

/// Why a file is not opened. A damaged one may be moved aside and replaced by a backup; one of
/// another program or of a newer Propwright may not.
struct Refusal {
  base::Problem problem;
  bool damaged = false;
};

/// Opens a workshop file for reading only, with no trace beside it. Refused: no file, no database,
/// another program's, or newer than `newest_version`.
tl::expected<SQLite::Database, Refusal> open_to_look(const std::filesystem::path& path,
                                                     int newest_version);

/// Whether a file can be opened for work: all of open_to_look, and its pages are sound.
std::optional<Refusal> inspect(const std::filesystem::path& path, int newest_version);

}  // namespace propwright::workshop
