/// Commands about logged flights: the log and the jobs from their files, the answers for people.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "command.h"
#include "propwright/answer/json_text.h"

namespace propwright::desk {

/// {"csv": ..., "jobs": [...]} of the log named first and the jobs of --job. Problems: of files.
base::Expected<answer::Json> flights_question(const Arguments& arguments);

/// Problems of the question with the files and options that they are about.
base::Problems flights_problems(base::Problems problems, const Arguments& arguments);

/// The answers for people.
std::string learn_text(const answer::Json& answer);
std::string verdict_text(const answer::Json& answer);

}  // namespace propwright::desk
