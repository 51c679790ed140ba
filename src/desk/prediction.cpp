#include "prediction.h"

#include <fmt/format.h>

#include "console.h"

namespace propwright::desk {
namespace {

constexpr int least_samples = 50, most_samples = 100000;

/// Fewer samples than that fly, and the interval is not what it seems.
std::string failed_samples(const predict::Spread& spread) {
  return fmt::format("{} of {} samples gave no flight; the interval is of the others.",
                     spread.failed, spread.samples);
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

tl::expected<void, Failure> add_spread(Prediction& prediction, const PredictionOptions& options) {
  const StopOnInterrupt interrupt;
  Progress progress(fmt::format("{} samples for the interval", options.samples));
  predict::SpreadOptions how{.samples = options.samples, .seed = options.seed, .progress = {}};
  how.progress = [&](double share) {
    progress.update(share);
    return !StopOnInterrupt::asked();
  };
  auto spread = predict::spread(prediction.loaded.job, prediction.loaded.attachments,
                                prediction.nominal, how);
  if (!spread) {
    const bool stopped = StopOnInterrupt::asked();
    Failure failure(in_file(std::move(spread.error()), prediction.loaded.path));
    if (stopped) failure.status = status::stopped;
    return tl::unexpected<Failure>(std::move(failure));
  }
  prediction.spread = std::move(*spread);
  if (prediction.spread->failed > 0) {
    prediction.warnings.push_back(failed_samples(*prediction.spread));
  }
  return {};
}

}  // namespace

std::vector<Option> interval_options() {
  const std::string group = "The interval";
  return {{"--samples", "N", group,
           fmt::format("Predictions with moved inputs, {} to {}; left out: 1000", least_samples,
                       most_samples)},
          {"--seed", "N", group, "Of the draws; the same seed gives the same answer; left out: 1"},
          {"--no-interval", "", group, "Leave the interval out: quicker"}};
}

PredictionOptions read_interval_options(const Arguments& arguments, OptionReader& reader) {
  PredictionOptions options;
  options.interval = !arguments.has("--no-interval");
  options.samples = static_cast<int>(
      reader.count("--samples", least_samples, most_samples).value_or(options.samples));
  options.seed =
      static_cast<unsigned long long>(reader.count("--seed", 0, 9007199254740991)
                                          .value_or(1));  // a whole number in any JSON reader
  return options;
}

tl::expected<Prediction, Failure> make_prediction(const std::string& path,
                                                  const PredictionOptions& options) {
  auto loaded = load_job(path);
  if (!loaded) return no_answer(std::move(loaded.error()));
  auto nominal = predict::predict(loaded->job, loaded->attachments);
  if (!nominal) return no_answer(in_file(std::move(nominal.error()), path));
  Prediction prediction{std::move(*loaded), std::move(*nominal), {}, {}, {}};
  prediction.warnings = prediction.nominal.flight.warnings;
  if (options.interval) {
    if (auto done = add_spread(prediction, options); !done) {
      return tl::unexpected<Failure>(std::move(done.error()));
    }
  }
  add_match(prediction);
  return prediction;
}

}  // namespace propwright::desk
