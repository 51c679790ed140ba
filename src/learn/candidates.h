/// Changed jobs, one step either way.
#pragma once

#include <vector>

#include "propwright/learn/next_propeller.h"

namespace propwright::learn {

struct ChangedJob {
  Candidate candidate;  ///< key, change, value
  brief::Job job;
};

std::vector<ChangedJob> changed_jobs(const Subject& subject, const NextOptions& options);

}  // namespace propwright::learn
