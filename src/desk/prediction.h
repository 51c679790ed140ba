/// The prediction of a job as `predict` and `packet` both give it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "command.h"
#include "job_files.h"
#include "propwright/predict/predict.h"

namespace propwright::desk {

struct Prediction {
  LoadedJob loaded;
  predict::Nominal nominal;
  std::optional<predict::Spread> spread;    ///< empty with --no-interval
  std::optional<flight::MotorMatch> match;  ///< empty when no other motor can be flown
  std::vector<std::string> warnings;        ///< of the flight and of what was left out
};

struct PredictionOptions {
  bool interval = true;
  int samples = 1000;
  unsigned long long seed = 1;
};

/// The options --samples, --seed and --no-interval.
std::vector<Option> interval_options();
PredictionOptions read_interval_options(const Arguments& arguments, OptionReader& reader);

/// Reads the job and predicts, with progress on stderr. Failure: as the problems say, or stopped.
tl::expected<Prediction, Failure> make_prediction(const std::string& path,
                                                  const PredictionOptions& options);

/// "12 min 41 s ± 28 s, tops out 0.4 m under the roof, lands with 210 turns left".
std::string headline(const Prediction& prediction);

/// The same without the duration, as a sentence: "Tops out 0.4 m under the roof, lands with ...".
std::string after_duration(const Prediction& prediction);

/// The answer for people: headline, flight, motor, ledger, warnings.
std::string prediction_text(const Prediction& prediction);

/// A height in the hall: "8.1 m" or "26.6 ft".
std::string height_text(double height_m, units::Profile profile);

/// One part of the energy at breaking turns.
struct LedgerLine {
  std::string key;    ///< of the JSON
  std::string label;  ///< for people
  double energy_J = 0;
};
std::vector<LedgerLine> ledger(const flight::Energy& energy);
/// Not so small that it would be printed as nothing.
bool worth_telling(const LedgerLine& line, const flight::Energy& energy);

}  // namespace propwright::desk
