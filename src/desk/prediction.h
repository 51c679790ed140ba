/// The prediction of a job as `predict` and `packet` both make it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "command.h"
#include "job_files.h"
#include "propwright/answer/prediction.h"

namespace propwright::desk {

using answer::Prediction;

struct PredictionOptions {
  bool interval = true;
  int samples = 1000;
  unsigned long long seed = 1;
  std::optional<bool> flexing;  ///< in place of the job's own choice
};

/// The options --samples, --seed and --no-interval.
std::vector<Option> interval_options();
PredictionOptions read_interval_options(const Arguments& arguments, OptionReader& reader);

/// Reads the job and predicts, with progress on stderr. Failure: as the problems say, or stopped.
tl::expected<Prediction, Failure> make_prediction(const std::string& path,
                                                  const PredictionOptions& options);

/// The answer for people: headline, flight, motor, ledger, warnings.
std::string prediction_text(const Prediction& prediction);

}  // namespace propwright::desk
