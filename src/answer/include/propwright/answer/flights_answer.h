/// What logged flights say: of the model (learn), and of which propeller is the better (verdict).
/// Questions and answers: docs/openapi.yaml, LearnQuestion and VerdictQuestion; keys:
/// docs/commands.md.
#pragma once

#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/answer/known_learning.h"
#include "propwright/base/problem.h"
#include "propwright/sheet/fair_test.h"

namespace propwright::answer {

/// Members that the questions may have.
const std::vector<std::string>& learn_members();
const std::vector<std::string>& verdict_members();

/// What the flights taught of model, propellers and rubber, what changes in the predictions, which
/// flights do not fit, what to build next. Problems: those of the jobs ("jobs[2]" as the file) and
/// of the flights ("flights[3].duration_s", or "csv" as the file); no_solution where the model
/// flies none of them; learn::learning_stopped() when `wanted` says so. `known` keeps what is
/// learned for the next question. A number that is not finite is a fault of the program:
/// std::logic_error.
base::Expected<Json> learn_document(const Json& question, KnownLearning* known = nullptr,
                                    const StillWanted& wanted = {});

/// Which propeller is the better: odds, seconds, how many more flights would settle it and in which
/// order. Without jobs, shares of expected_s, or of plain durations where the log has none.
/// Problems as learn_document, but what the model does not fly is a flight left out.
base::Expected<Json> verdict_document(const Json& question, KnownLearning* known = nullptr,
                                      const StillWanted& wanted = {});

/// The sheet to print, from the answer of verdict_document, for `each` flights of every propeller;
/// 0 = as the answer's order has it.
sheet::FairTest fair_test_sheet(const Json& answer, int each);

}  // namespace propwright::answer
