/// A job file together with the tables it names.
#pragma once

#include <string>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/base/problem.h"

namespace propwright::desk {

using answer::LoadedJob;

/// Reads both. Attached files are looked for relative to the job file. Problems: those of the job,
/// or resource_failed for each file that cannot be read.
base::Expected<LoadedJob> load_job(const std::string& path);

/// The same as the pages' document, {"job": {...}, "attachments": {...}}.
base::Expected<answer::Json> job_document(const std::string& path);

}  // namespace propwright::desk
