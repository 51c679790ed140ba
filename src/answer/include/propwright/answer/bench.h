/// What is asked at the bench: stock, blades and their pair, twist test, tube, hub, weighings,
/// ledger, shaking, replacement blade (docs/openapi.yaml, BenchQuestion and Bench).
#pragma once

#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"

namespace propwright::answer {

/// Members that a question may have.
const std::vector<std::string>& bench_members();

/// Answers every table of the question under its own name, null where it cannot be answered;
/// "problems" tells what is wrong, with fields as "blades[2].angles[1].angle", rows from 1. A
/// number that is not finite is a fault of the program: std::logic_error.
Json bench_document(const Json& question);

}  // namespace propwright::answer
