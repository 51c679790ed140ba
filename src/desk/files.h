/// Files in and out. Nothing is left half-written.
#pragma once

#include <filesystem>
#include <string>

#include "propwright/base/problem.h"

namespace propwright::desk {

/// The whole of a text file. Problem: resource_failed with the path; `field` names the option or
/// job field that asked for it.
/// A job or a table is a few kB: what is larger than `largest_MB` is some other file.
base::Expected<std::string> read_text(const std::filesystem::path& path,
                                      const std::string& field = {}, std::size_t largest_MB = 64);

/// Writes beside the place and renames. Problem: resource_failed.
base::Expected<void> write_whole(const std::filesystem::path& path, const std::string& bytes);

}  // namespace propwright::desk
