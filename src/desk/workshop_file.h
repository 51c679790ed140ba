/// Where the workshop of this user is.
#pragma once

#include <filesystem>

#include "arguments.h"

namespace propwright::desk {

/// What --workshop names, or workshop.sqlite in the user's data folder: $XDG_DATA_HOME/propwright,
/// or ~/.local/share/propwright. Problem: neither is known.
base::Expected<std::filesystem::path> workshop_file(const Arguments& arguments);

}  // namespace propwright::desk
