#include "command.h"
#include "prediction.h"
#include "propwright/answer/json_answers.h"

namespace propwright::desk {
namespace {

Answer answer_predict(const Arguments& arguments) {
  OptionReader reader(arguments);
  const PredictionOptions options = read_interval_options(arguments, reader);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto prediction = make_prediction(arguments.input, options);
  if (!prediction) return tl::unexpected<Failure>(prediction.error());
  return arguments.json() ? answer::prediction_json(*prediction) : prediction_text(*prediction);
}

}  // namespace

Command predict_command() {
  return {.name = "predict",
          .purpose = "The flight of a job, with its interval",
          .input = "JOB.toml",
          .input_help = "The job file (docs/job-file.md)",
          .input_required = true,
          .options = interval_options(),
          .example = "  propwright predict examples/lantern46.toml",
          .answer = answer_predict};
}

}  // namespace propwright::desk
