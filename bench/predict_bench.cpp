#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "propwright/brief/file.h"
#include "propwright/predict/predict.h"

namespace propwright {
namespace {

std::string example_text(const std::string& name) {
  std::ifstream in(std::string(PROPWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Example {
  brief::Job job;
  brief::Attachments attachments;
};

Example example(const std::string& name) {
  Example read{brief::read_job(example_text(name), name).value(), {}};
  const std::string& test = read.job.rubber.test_file;
  if (!test.empty()) read.attachments.rubber_test_csv = example_text(test);
  return read;
}

/// Job in memory to flight with launch control and bound, without the interval.
void whole_prediction(benchmark::State& state, const char* name) {
  const auto [job, attachments] = example(name);
  for (auto _ : state) {
    const auto nominal = predict::predict(job, attachments);
    if (!nominal) state.SkipWithError(base::to_line(nominal.error().front()).c_str());
    benchmark::DoNotOptimize(nominal);
  }
}
BENCHMARK_CAPTURE(whole_prediction, lantern46, "lantern46.toml")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(whole_prediction, heron55, "heron55.toml")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(whole_prediction, sparrow16, "sparrow16.toml")->Unit(benchmark::kMillisecond);

/// 1,000 whole flights with moved inputs, on all cores.
void interval_of_1000_samples(benchmark::State& state) {
  const auto [job, attachments] = example("lantern46.toml");
  const predict::Nominal nominal = predict::predict(job, attachments).value();
  for (auto _ : state) benchmark::DoNotOptimize(predict::spread(job, attachments, nominal).value());
}
BENCHMARK(interval_of_1000_samples)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
}  // namespace propwright
