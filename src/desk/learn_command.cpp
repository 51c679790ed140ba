#include "flights_files.h"
#include "propwright/answer/flights_answer.h"

namespace propwright::desk {
namespace {

using answer::Json;

Answer answer_learn(const Arguments& arguments) {
  if (!arguments.has("--job")) {
    return wrong_usage({{.field = "--job",
                         .remedy = "name the job of each propeller that flew: --job JOB.toml",
                         .message = "without a job there is no model to learn of"}});
  }
  auto question = flights_question(arguments);
  if (!question) return no_answer(question.error());
  if (arguments.has("--no-next")) (*question)["next"] = false;
  const auto found = while_wanted("learning", [&](const answer::StillWanted& wanted) {
    return answer::learn_document(*question, nullptr, wanted);
  });
  if (!found) return no_flights_answer(flights_problems(found.error(), arguments));
  if (arguments.has("--keep")) {
    const auto kept = keep_learned(*found, arguments);
    if (!kept) return no_answer(kept.error());
  }
  return arguments.json() ? answer::document(*found) : learn_text(*found);
}

}  // namespace

Command learn_command() {
  return {
      .name = "learn",
      .purpose = "What logged flights say of model, propellers and rubber, and what to build next",
      .input = "FLIGHTS.csv",
      .input_help = "The flight log (docs/flight-log-file.md)",
      .input_required = true,
      .options = {{"--job", "JOB.toml", "What was flown",
                   "The job of a propeller of the log (needed)", false, true},
                  {"--keep", "", "Output",
                   "Write what was learned into the jobs, as their table [learned]: their "
                   "predictions use it from then on, until learned.use = false"},
                  {"--no-next", "", "Output",
                   "Leave out which change to a propeller promises most"}},
      .example =
          "  propwright learn examples/flights/lantern46-two-propellers.csv --job "
          "examples/lantern46.toml --job examples/flights/lantern46-b.toml",
      .answer = answer_learn};
}

}  // namespace propwright::desk
