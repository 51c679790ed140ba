#include "command.h"
#include "prediction.h"
#include "propwright/answer/json_answers.h"

namespace propwright::desk {
namespace {

Answer answer_predict(const Arguments& arguments) {
  OptionReader reader(arguments);
  PredictionOptions options = read_interval_options(arguments, reader);
  if (arguments.has("--flex")) options.flexing = true;
  if (arguments.has("--rigid")) options.flexing = false;
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto prediction = make_prediction(arguments.input, options);
  if (!prediction) return tl::unexpected<Failure>(prediction.error());
  return arguments.json() ? answer::prediction_json(*prediction) : prediction_text(*prediction);
}

std::vector<Option> predict_options() {
  std::vector<Option> options = interval_options();
  const std::string group = "The blade";
  options.push_back({"--flex", "", group, "It bends and twists, whatever the job says"});
  options.push_back({"--rigid", "", group, "It does not, whatever the job says"});
  return options;
}

}  // namespace

Command predict_command() {
  return {.name = "predict",
          .purpose = "The flight of a job, with its interval",
          .input = "JOB.toml",
          .input_help = "The job file (docs/job-file.md)",
          .input_required = true,
          .options = predict_options(),
          .example = "  propwright predict examples/lantern46.toml",
          .answer = answer_predict};
}

}  // namespace propwright::desk
