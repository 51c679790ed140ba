/// JSON text of the answers. Keys and their units: docs/commands.md.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "propwright/base/problem.h"

namespace propwright::answer {

using Json = nlohmann::ordered_json;  // keys stay in the order of the handbook

/// The document as text. A number that is not finite is a fault of the program: std::logic_error.
std::string document(const Json& json);
/// The same on one line, without spaces.
std::string compact(const Json& json);

/// JSON of one problem and of a list, as every answer carries them.
Json problem_json(const base::Problem& problem);
Json problem_list(const base::Problems& problems);
/// The problems of such a list.
base::Problems problems_of(const Json& list);
/// The document of a failed answer.
std::string problems_json(const base::Problems& problems);

}  // namespace propwright::answer
