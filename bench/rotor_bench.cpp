#include <benchmark/benchmark.h>

#include "bench_blade.h"
#include "propwright/rotor/map.h"

namespace propwright {
namespace {

const rotor::Rotor& shared_rotor() {
  static const rotor::Rotor rotor =
      rotor::Rotor::make(bench::blade(), section::Family::thin_arc()).value();
  return rotor;
}

/// The figure of the project: 24 stations x 40 operating points on one core.
void rotor_map_24_by_40(benchmark::State& state) {
  const rotor::Rotor& rotor = shared_rotor();
  const std::vector<rotor::Condition> conditions = bench::map_conditions(rotor);
  for (auto _ : state) benchmark::DoNotOptimize(rotor.solve_all(conditions, bench::flow));
}
BENCHMARK(rotor_map_24_by_40)->Unit(benchmark::kMicrosecond);

void rotor_one_condition_with_stations(benchmark::State& state) {
  const rotor::Rotor& rotor = shared_rotor();
  for (auto _ : state) benchmark::DoNotOptimize(rotor.solve({1.1, 1.6}, bench::flow));
}
BENCHMARK(rotor_one_condition_with_stations)->Unit(benchmark::kMicrosecond);

void rotor_prepare(benchmark::State& state) {
  const rotor::Blade blade = bench::blade();
  for (auto _ : state) {
    benchmark::DoNotOptimize(rotor::Rotor::make(blade, section::Family::thin_arc()));
  }
}
BENCHMARK(rotor_prepare)->Unit(benchmark::kMicrosecond);

void flight_map(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(rotor::make_map(shared_rotor(), bench::flow, 1.1));
}
BENCHMARK(flight_map)->Unit(benchmark::kMicrosecond);

void polar_lookup(benchmark::State& state) {
  const section::Polar polar = section::Family::thin_arc().at_camber(0.06);
  double alpha = 0.02;
  for (auto _ : state) {
    alpha = alpha > 0.15 ? 0.02 : alpha + 1e-5;
    benchmark::DoNotOptimize(polar.at(alpha, 8.3));
  }
}
BENCHMARK(polar_lookup)->Unit(benchmark::kNanosecond);

}  // namespace
}  // namespace propwright
