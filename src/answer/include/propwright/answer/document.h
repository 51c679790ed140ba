/// The job document of the pages: JSON that mirrors the job file, with the tables beside it.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/base/problem.h"

namespace propwright::answer {

/// Deepest nesting that is read; a job needs four levels.
inline constexpr int deepest_json = 32;

/// Reads JSON text. Problem: bad_input with the place for what is no JSON, holds bytes that are no
/// UTF-8, or is nested deeper than `deepest`.
base::Expected<Json> read_json(std::string_view text, int deepest = deepest_json);

/// {"job": {...}, "attachments": {...}} has these two members at most, of the right kinds. Problem:
/// bad_input naming the member, with `prefix` before it.
base::Problems check_document(const Json& document, const std::string& prefix = {});

/// The job file that says the same. Members that are null are left out.
std::string job_toml(const Json& job);

/// The job document that says the same as a job file. Problem: the text is no TOML.
base::Expected<Json> job_json(std::string_view toml, const std::string& file);

/// Line of each table and member of a TOML file by its name, "breaking.winds[2].turns"; rows count
/// from 1. Empty for what is no TOML.
using FieldLines = std::map<std::string, int>;
FieldLines toml_lines(std::string_view toml);
/// The line of a field; of one that is not there, that of the table it would be in; 0 for none.
int line_of(const FieldLines& lines, std::string field);

/// Job and tables of a document that passed check_document; problems are named as those of a job
/// file, without lines, with "job" as the file.
base::Expected<LoadedJob> load_document(const Json& job, const Json& attachments);

}  // namespace propwright::answer
