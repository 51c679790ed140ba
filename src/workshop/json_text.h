/// JSON of the caller, checked and brought to one form. The JSON library stays in the .cpp files.
#pragma once

#include <optional>
#include <string>

#include "propwright/base/problem.h"

namespace propwright::workshop {

inline constexpr std::size_t largest_json = 1024 * 1024;  ///< bytes
inline constexpr int deepest_json = 64;                   ///< levels of nesting

/// The object without spaces, numbers in their shortest form: equal content is equal text, and
/// writing it once more changes nothing. Problems of `field` otherwise.
std::optional<std::string> compact_object(const std::string& text, const std::string& field,
                                          base::Problems& problems);
/// A design document: also {"job": {...}, "attachments": {...}}, attachments may be left out.
std::optional<std::string> compact_document(const std::string& text, const std::string& field,
                                            base::Problems& problems);

}  // namespace propwright::workshop
