/// Changed jobs, a step or a part of one either way.
#pragma once

#include <vector>

#include "propwright/learn/next_propeller.h"

namespace propwright::learn {

struct ChangedJob {
  Candidate candidate;  ///< key, change, value, hours
  brief::Job job;
};

/// What can be changed of a subject: "pitch", ..., "spar" only of a flexing blade.
std::vector<const char*> changes_of(const Subject& subject);

/// The job changed by a share of the key's step, -1 to 1 and not 0.
ChangedJob changed_job(const Subject& subject, const NextOptions& options, const char* key,
                       double share);

}  // namespace propwright::learn
