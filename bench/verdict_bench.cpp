#include <benchmark/benchmark.h>
#include <tbb/parallel_for.h>

#include <cmath>
#include <fstream>
#include <random>
#include <sstream>

#include "propwright/brief/file.h"
#include "propwright/learn/findings.h"
#include "propwright/learn/flown_log.h"
#include "propwright/verdict/verdict.h"

namespace propwright {
namespace {

std::string flown_example_text(const std::string& name) {
  std::ifstream in(std::string(PROPWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

void on_all_cores(std::size_t count, const std::function<void(std::size_t)>& task) {
  tbb::parallel_for(std::size_t{0}, count, task);
}

learn::Subject flown_subject(const std::string& name) {
  brief::Job job = brief::read_job(flown_example_text(name), name).value();
  auto nominal = predict::predict(job, {flown_example_text("box7-bench-test.csv"), {}}).value();
  return {std::move(job), std::move(nominal)};
}

const std::vector<learn::Subject>& flown_subjects() {
  static const std::vector<learn::Subject> subjects{flown_subject("lantern46.toml"),
                                                    flown_subject("flights/lantern46-b.toml")};
  return subjects;
}

/// 500 flights of two propellers in ten visits, everything read, scattered about the sheets.
std::vector<logbook::Flight> many_flights(std::size_t count) {
  const auto& subjects = flown_subjects();
  std::vector<logbook::Flight> flights(count);
  std::mt19937 random(1);
  std::normal_distribution<double> normal;
  for (std::size_t i = 0; i < count; ++i) {
    logbook::Flight& f = flights[i];
    const learn::Subject& subject = subjects[i % 2];
    f.propeller = subject.job.propeller.name;
    f.turns_at_launch = std::round(subject.nominal.flight.turns_at_launch *
                                   (0.88 + 0.01 * static_cast<double>(i % 13)));
    f.turns_wound = subject.nominal.flight.turns_wound;
    const auto visit = static_cast<double>(i * 10 / count);
    f.temperature_K = 288.15 + visit;
    f.pressure_Pa = 99000 + 300 * visit;
    f.duration_s = subject.nominal.flight.duration_s * std::exp(0.05 * normal(random));
    f.top_height_m = subject.nominal.flight.top_height_m - std::abs(normal(random));
    f.turns_left = std::max(0.0, subject.nominal.flight.turns_left + 60 * normal(random));
  }
  return flights;
}

void LearnFromFlights(benchmark::State& state) {
  const auto flights = many_flights(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    const learn::FlownLog log(flown_subjects(), flights, {}, on_all_cores);
    const auto posterior = learn::learn(log.parameters().size(), log.observed(),
                                        [&](const auto& queries) { return log.fly(queries); });
    benchmark::DoNotOptimize(posterior->mode.sum());
  }
}
BENCHMARK(LearnFromFlights)->Arg(40)->Arg(500)->Unit(benchmark::kMillisecond)->UseRealTime();

void VerdictOfFlights(benchmark::State& state) {
  std::mt19937 random(1);
  std::student_t_distribution<double> student(4);
  std::vector<verdict::Score> scores;
  const auto propellers = static_cast<std::size_t>(state.range(0));
  for (std::int64_t i = 0; i < state.range(1); ++i) {
    for (std::size_t k = 0; k < propellers; ++k) {
      scores.push_back({k, std::exp(0.004 * static_cast<double>(k) + 0.04 * student(random))});
    }
  }
  for (auto _ : state) {
    const verdict::Verdict verdict = verdict::judge(scores, propellers, 700);
    benchmark::DoNotOptimize(verdict.propellers.front().probability_best);
  }
}
BENCHMARK(VerdictOfFlights)->Args({2, 20})->Args({3, 250})->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace propwright
