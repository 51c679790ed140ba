/// Reading and writing the job file.
#pragma once

#include <string>
#include <string_view>

#include "propwright/base/problem.h"
#include "propwright/brief/job.h"

namespace propwright::brief {

/// Reads TOML text. Every problem in the text is reported at once, each with line, dotted field,
/// value, allowed range in the units of the field, and remedy; an unknown field is a problem that
/// suggests the nearest known name. Checks that span fields (root < tip, gauge radius on the blade,
/// rubber within the rules ...) are made too. `file` names the text in the problems.
base::Expected<Job> read_job(std::string_view toml, const std::string& file);

/// Writes a job so that read_job(write_job(job)) gives back every member exactly.
std::string write_job(const Job& job);

/// The text of docs/job-file.md: an introduction, an example, and every field with its kind, range,
/// default and meaning, made from the same table that reads and writes job files.
std::string job_file_reference();

}  // namespace propwright::brief
