/// The prediction of a job as the command line, the packet and the pages all give it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/brief/assemble.h"
#include "propwright/brief/job.h"
#include "propwright/flight/flight.h"
#include "propwright/predict/predict.h"
#include "propwright/units/units.h"

namespace propwright::answer {

/// A job together with the texts of the tables it names.
struct LoadedJob {
  std::string path;  ///< names the job in problems
  brief::Job job;
  brief::Attachments attachments;

  units::Profile profile() const;
};

struct Prediction {
  LoadedJob loaded;
  predict::Nominal nominal;
  std::optional<predict::Spread> spread;    ///< empty where no interval was asked for
  std::optional<flight::MotorMatch> match;  ///< empty when no other motor can be flown
  std::vector<std::string> warnings;        ///< of the flight and of what was left out
};

/// The nominal flight, without interval and motor match. Problems: those of `predict::predict`, put
/// down to the job's path.
base::Expected<Prediction> nominal_prediction(LoadedJob loaded);

/// Adds the interval, and a warning where samples gave no flight. Problems: those of
/// `predict::spread`; the prediction is then as it was.
base::Expected<void> add_spread(Prediction& prediction, const predict::SpreadOptions& options);

/// Adds the motor that suits the propeller best, or a warning that none was found.
void add_match(Prediction& prediction);

/// The flexing blade where the flight begins and in cruise; a state that the blade does not hold is
/// empty.
struct Flexing {
  std::optional<flex::State> launch, cruise;
  std::optional<flex::Limit> limit;  ///< where the blade ceases to hold
};
/// Empty where the blade flies rigid.
std::optional<Flexing> flexing(const Prediction& prediction);

/// Problems of a computation on this job: those that name no file are put down to the job.
base::Problems in_file(base::Problems problems, const std::string& path);

/// "12 min 41 s ± 28 s, tops out 0.4 m under the roof, lands with 210 turns left".
std::string headline(const Prediction& prediction);

/// The same without the duration, as a sentence: "Tops out 0.4 m under the roof, lands with ...".
std::string after_duration(const Prediction& prediction);
std::string after_duration(const flight::Flight& flight, double roof_m, units::Profile profile);

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

}  // namespace propwright::answer
