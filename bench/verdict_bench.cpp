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

/// Flights of two propellers in ten visits, not yet flown.
std::vector<logbook::Flight> planned_flights(std::size_t count) {
  const auto& subjects = flown_subjects();
  std::vector<logbook::Flight> flights(count);
  for (std::size_t i = 0; i < count; ++i) {
    logbook::Flight& f = flights[i];
    const learn::Subject& subject = subjects[i % 2];
    f.propeller = subject.job.propeller.name;
    f.turns_at_launch = std::round(subject.nominal.flight.turns_at_launch *
                                   (0.95 + 0.01 * static_cast<double>(i % 13)));
    f.turns_wound = std::floor(subject.nominal.flight.turns_wound);
    const auto visit = static_cast<double>(i * 10 / count);
    f.temperature_K = 288.15 + visit;
    f.pressure_Pa = 99000 + 300 * visit;
    f.duration_s = f.top_height_m = f.turns_left = 1;
  }
  return flights;
}

/// Flown with one deviation more drag than the sheet's, everything read, scattered.
std::vector<logbook::Flight> many_flights(std::size_t count) {
  std::vector<logbook::Flight> flights = planned_flights(count);
  const learn::FlownLog log(flown_subjects(), flights, {}, on_all_cores);
  Eigen::VectorXd truth = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  for (std::size_t p = 0; p < log.parameters().size(); ++p) {
    if (log.parameters()[p].doubt.key == std::string("airframe_drag")) {
      truth[static_cast<Eigen::Index>(p)] = 1;
    }
  }
  std::vector<learn::Query> queries;
  queries.reserve(count);
  for (std::size_t i = 0; i < count; ++i) queries.push_back({i, truth});
  const auto flown = log.fly(queries);
  std::mt19937 random(1);
  std::normal_distribution<double> normal;
  for (std::size_t i = 0; i < count; ++i) {
    const learn::Outcome& outcome = flown[i].value();
    logbook::Flight& f = flights[i];
    f.duration_s = std::exp(outcome[0] + 0.04 * normal(random));
    f.top_height_m = outcome[1] + 0.4 * normal(random);
    f.turns_left = std::max(0.0, outcome[2] + 0.03 * *f.turns_at_launch * normal(random));
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
    state.counters["rounds"] = posterior->rounds;
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

/// The whole verdict, or its odds alone.
void VerdictOverDays(benchmark::State& state) {
  std::mt19937 random(1);
  std::student_t_distribution<double> student(4);
  std::normal_distribution<double> normal;
  const auto propellers = static_cast<std::size_t>(state.range(0));
  const auto days = static_cast<std::size_t>(state.range(2));
  std::vector<double> shift(days);
  for (double& of_day : shift) of_day = 0.02 * normal(random);
  std::vector<verdict::Score> scores;
  for (std::int64_t i = 0; i < state.range(1); ++i) {
    const std::size_t day =
        static_cast<std::size_t>(i) * days / static_cast<std::size_t>(state.range(1));
    for (std::size_t k = 0; k < propellers; ++k) {
      const double level = 0.004 * static_cast<double>(k) + shift[day];
      scores.push_back({k, std::exp(level + 0.04 * student(random)), 1, day});
    }
  }
  for (auto _ : state) {
    if (state.range(3) != 0) {
      benchmark::DoNotOptimize(verdict::odds_of_best(scores, propellers, {}).front());
    } else {
      benchmark::DoNotOptimize(
          verdict::judge(scores, propellers, 700).propellers.front().probability_best);
    }
  }
}
BENCHMARK(VerdictOverDays)
    ->ArgNames({"propellers", "flights", "days", "odds_alone"})
    ->Args({2, 20, 4, 0})
    ->Args({2, 20, 4, 1})
    ->Args({2, 250, 4, 0})
    ->Args({2, 250, 4, 1})
    ->Args({4, 125, 10, 0})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace propwright
