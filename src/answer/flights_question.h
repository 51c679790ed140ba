/// What questions about logged flights share: the jobs, the log, what is taken from it. Private.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/learn/findings.h"
#include "propwright/learn/flown_log.h"

namespace propwright::answer {

/// Jobs and flights as asked. Flights hold no questioned value any more; `notes` tells which were
/// taken for unknown. Of several flights with one id the first counts, the others are left out. A
/// FlownLog made of it keeps references to `subjects` and `flights`.
struct FlightsQuestion {
  std::vector<LoadedJob> loaded;
  std::vector<learn::Subject> subjects;
  std::vector<logbook::Flight> flights;
  learn::Scatter scatter;
  learn::Beliefs beliefs;
  std::vector<std::string> notes;

  units::Profile profile() const;
};

/// Most jobs and flights that are taken at once.
inline constexpr std::size_t most_flown_jobs = 12, most_asked_flights = 5000;

/// Reads the members jobs, flights or csv, scatter, learning. Problems: those of each job, with
/// "jobs[2]" as the file; those of the flights, as "flights[3].duration_s" or with "csv" as the
/// file; fewer than `least_jobs` jobs; two jobs with one propeller. `each_setting`: a propeller
/// that flew at several settings has a job for each (tell_settings_apart).
base::Expected<FlightsQuestion> read_flights_question(const Json& question, std::size_t least_jobs,
                                                      bool each_setting = false);

/// Members of the question that are not among those known.
base::Problems unknown_members(const Json& question, const std::vector<std::string>& known);
/// A member of the question, null where it is not there.
Json question_member(const Json& question, const char* name);

/// The log as the model flies it, on all processors.
learn::FlownLog flown_log(const FlightsQuestion& asked);
void on_all_processors(std::size_t count, const std::function<void(std::size_t)>& task);

/// The flight's number in the list, from 1, its id and its time: what every row of an answer begins
/// with.
Json flight_row(const FlightsQuestion& asked, std::size_t flight);

}  // namespace propwright::answer
