#include "prediction.h"

#include <fmt/format.h>

#include "console.h"

namespace propwright::desk {
namespace {

constexpr int least_samples = 50, most_samples = 100000;

tl::expected<void, Failure> add_spread(Prediction& prediction, const PredictionOptions& options) {
  const StopOnInterrupt interrupt;
  Progress progress(fmt::format("{} samples for the interval", options.samples));
  predict::SpreadOptions how{.samples = options.samples, .seed = options.seed, .progress = {}};
  how.progress = [&](double share) {
    progress.update(share);
    return !StopOnInterrupt::asked();
  };
  auto added = answer::add_spread(prediction, how);
  if (added) return {};
  const bool stopped = StopOnInterrupt::asked();
  Failure failure(std::move(added.error()));
  if (stopped) failure.status = status::stopped;
  return tl::unexpected<Failure>(std::move(failure));
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
  if (options.flexing) loaded->job.propeller.flex.fly = *options.flexing;
  auto prediction = answer::nominal_prediction(std::move(*loaded));
  if (!prediction) return no_answer(std::move(prediction.error()));
  if (options.interval) {
    if (auto done = add_spread(*prediction, options); !done) {
      return tl::unexpected<Failure>(std::move(done.error()));
    }
  }
  answer::add_match(*prediction);
  return std::move(*prediction);
}

}  // namespace propwright::desk
