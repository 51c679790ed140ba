#include "propwright/answer/prediction.h"

#include <fmt/format.h>

namespace propwright::answer {
namespace {

/// Fewer samples than that fly, and the interval is not what it seems.
std::string failed_samples(const predict::Spread& spread) {
  return fmt::format("{} of {} samples gave no flight; the interval is of the others.",
                     spread.failed, spread.samples);
}

}  // namespace

units::Profile LoadedJob::profile() const {
  return job.info.units == brief::UnitProfile::inch ? units::Profile::inch : units::Profile::metric;
}

base::Problems in_file(base::Problems problems, const std::string& path) {
  for (base::Problem& problem : problems) {
    if (problem.file.empty() && problem.kind != base::Kind::resource_failed) problem.file = path;
  }
  return problems;
}

base::Expected<Prediction> nominal_prediction(LoadedJob loaded) {
  auto nominal = predict::predict(loaded.job, loaded.attachments);
  if (!nominal) return base::fail(in_file(std::move(nominal.error()), loaded.path));
  Prediction prediction{std::move(loaded), std::move(*nominal), {}, {}, {}};
  prediction.warnings = prediction.nominal.flight.warnings;
  return prediction;
}

base::Expected<void> add_spread(Prediction& prediction, const predict::SpreadOptions& options) {
  auto spread = predict::spread(prediction.loaded.job, prediction.loaded.attachments,
                                prediction.nominal, options);
  if (!spread) return base::fail(in_file(std::move(spread.error()), prediction.loaded.path));
  prediction.spread = std::move(*spread);
  if (prediction.spread->failed > 0) {
    prediction.warnings.push_back(failed_samples(*prediction.spread));
  }
  return {};
}

void add_match(Prediction& prediction) {
  const brief::Job& job = prediction.loaded.job;
  const double rubber_kg = job.rules.largest_rubber_kg.value_or(0);
  const flight::LaunchPlan& launch = prediction.nominal.setup.launch;
  const double wound = launch.wound_turns / prediction.nominal.setup.motor.breaking_turns;
  auto match = flight::match_motor(prediction.nominal.setup, rubber_kg, wound);
  if (match) {
    prediction.match = std::move(*match);
    return;
  }
  prediction.warnings.push_back(
      "No other motor was found for this propeller: " + match.error().front().message + ".");
}

}  // namespace propwright::answer
