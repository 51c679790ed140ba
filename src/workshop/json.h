/// JSON values, for the files that make and read them.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "propwright/base/problem.h"

namespace propwright::workshop {

using Json = nlohmann::ordered_json;  // members stay in the order the user wrote them

/// Problem: the line where it stops being JSON, or that it is nested more than `deepest` levels.
base::Expected<Json> read_json(const std::string& text, int deepest);

/// Whether an object has the members of a design document; problems with the path otherwise.
bool check_document(const Json& document, const std::string& field, base::Problems& problems);

}  // namespace propwright::workshop
