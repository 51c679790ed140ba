/// Commands about logged flights: the log and the jobs from their files, the answers for people.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <string>

#include "command.h"
#include "propwright/answer/json_text.h"
#include "propwright/answer/known_learning.h"

namespace propwright::desk {

/// {"csv": ..., "jobs": [...]} of the log named first and the jobs of --job. Problems: of files.
base::Expected<answer::Json> flights_question(const Arguments& arguments);

/// Problems of the question with the files and options that they are about.
base::Problems flights_problems(base::Problems problems, const Arguments& arguments);

/// Asks what may take seconds: with progress on stderr, given up at Ctrl-C.
base::Expected<answer::Json> while_wanted(
    const std::string& what,
    const std::function<base::Expected<answer::Json>(const answer::StillWanted&)>& ask);
/// As no_answer; the status is that of stopping where Ctrl-C was pressed.
tl::unexpected<Failure> no_flights_answer(base::Problems problems);

/// The lines of the table [learned] of a job file; "" where nothing was learned.
std::string learned_lines(const answer::Json& table);

/// A job file with those lines in place of its table [learned], or after all else; the rest of the
/// text stays as it is.
std::string with_learned(const std::string& job_text, const std::string& lines);

/// Writes what was learned into the files of --job. Problems: of files, and a text that is no job
/// then; a file is written whole or not at all.
base::Expected<void> keep_learned(const answer::Json& answer, const Arguments& arguments);

/// The answers for people.
std::string learn_text(const answer::Json& answer);
std::string verdict_text(const answer::Json& answer);

}  // namespace propwright::desk
