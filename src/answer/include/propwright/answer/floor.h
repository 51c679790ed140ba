/// What is asked on the floor: rubber batches and motors, torque meters, the winding card with its
/// contest-day correction (docs/openapi.yaml, RubberQuestion and WindQuestion).
#pragma once

#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/sheet/winding_card.h"

namespace propwright::answer {

/// Members that a question of rubber may have.
const std::vector<std::string>& rubber_members();

/// Answers every table of the question under its own name, null where it cannot be answered;
/// "problems" tells what is wrong, with fields as "batch.tests[2].csv", rows from 1. A number that
/// is not finite is a fault of the program: std::logic_error.
Json rubber_document(const Json& question);

/// Members that a winding question may have.
const std::vector<std::string>& wind_members();

/// The winding card: the job as planned and as it is today. Problems: those of the job and of what
/// was said of today, named as "today.roof".
base::Expected<Json> wind_document(const Json& question);

/// The card as it is printed, from the answer of wind_document.
sheet::WindingCard winding_card(const Json& answer);

}  // namespace propwright::answer
