/// Files of tables about rubber and the winding card, and their answers for people.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "command.h"
#include "propwright/answer/json_text.h"

namespace propwright::desk {

/// The tables of a file; a test's `file` becomes its `csv`, looked for beside the file.
base::Expected<answer::Json> floor_tables(const std::string& file);

/// propwright rubber RUBBER.toml
Answer answer_rubber_file(const Arguments& arguments);

/// The answers for people.
std::string rubber_tables_text(const answer::Json& answer);
std::string wind_text(const answer::Json& answer);

}  // namespace propwright::desk
