/// A job file together with the tables it names.
#pragma once

#include <string>

#include "propwright/base/problem.h"
#include "propwright/brief/assemble.h"
#include "propwright/brief/job.h"
#include "propwright/units/units.h"

namespace propwright::desk {

struct LoadedJob {
  std::string path;
  brief::Job job;
  brief::Attachments attachments;

  units::Profile profile() const;
};

/// Reads both. Attached files are looked for relative to the job file. Problems: those of the job,
/// or resource_failed for each file that cannot be read.
base::Expected<LoadedJob> load_job(const std::string& path);

/// Problems of a computation on this job: those that name no file are put down to the job file.
base::Problems in_file(base::Problems problems, const std::string& path);

}  // namespace propwright::desk
