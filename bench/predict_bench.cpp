#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "propwright/brief/file.h"
#include "propwright/predict/predict.h"

namespace propwright {
namespace {

brief::Job example(const char* name) {
  const std::string path = std::string(PROPWRIGHT_SOURCE_DIR) + "/examples/" + name;
  std::ifstream in(path);
  std::stringstream text;
  text << in.rdbuf();
  return brief::read_job(text.str(), path).value();
}

/// Job in memory to flight with launch control and bound, without the interval.
void whole_prediction(benchmark::State& state, const char* name) {
  const brief::Job job = example(name);
  for (auto _ : state) benchmark::DoNotOptimize(predict::predict(job, {}));
}
BENCHMARK_CAPTURE(whole_prediction, lantern46, "lantern46.toml")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(whole_prediction, heron55, "heron55.toml")->Unit(benchmark::kMillisecond);

/// 1,000 whole flights with moved inputs, on all cores.
void interval_of_1000_samples(benchmark::State& state) {
  const brief::Job job = example("lantern46.toml");
  const predict::Nominal nominal = predict::predict(job, {}).value();
  for (auto _ : state) benchmark::DoNotOptimize(predict::spread(job, {}, nominal));
}
BENCHMARK(interval_of_1000_samples)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
}  // namespace propwright
