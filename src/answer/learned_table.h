/// What flights taught of a job, as the job's own table holds it. Private.
#pragma once

#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/brief/job.h"
#include "propwright/learn/findings.h"

namespace propwright::answer {

/// The findings that bear on a job: those of its model, propeller, rubber and sections, also where
/// the flights said little, since the values belong together. Factors to four digits, angles to a
/// hundredth of a degree; with the directions in which the flights told several together.
/// `job` is the subject's; the table tells its names. `findings` are those of the log's parameters,
/// in their order. `from` tells the flights.
brief::Learned learned_of(const learn::FlownLog& log, const brief::Job& job, std::size_t subject,
                          const learn::Posterior& posterior,
                          const std::vector<learn::Finding>& findings, std::string from);

/// The table as the job file has it, as a document.
Json learned_table(const brief::Job& job, const brief::Learned& learned);

/// "34 flights, 2026-11-18 to 2026-11-24".
std::string flights_told(const std::vector<const logbook::Flight*>& flights);

}  // namespace propwright::answer
