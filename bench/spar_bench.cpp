// The bench's waiting times: readings to stiffness, the pairs of a large batch, and what follows an
// entry (docs/speed.md).
#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "propwright/spar/pairs.h"

namespace {

using namespace propwright::spar;

Rig bench_rig() {
  Rig rig{.load_kg = 0.27e-3, .load_at_m = 0.1524, .read_at_m = 0.1524};
  rig.resolution_m = 2.54e-5, rig.repeatability_m = 4e-5;
  return rig;
}

/// Sizes and readings that wander a little from spar to spar, without a random number.
Spar bench_spar(int i) {
  const auto section = [&](double size_m) {
    return Section{Shape::square, size_m * (1 + 0.03 * ((i * 37) % 11 - 5) / 5.0),
                   size_m * (1 + 0.03 * ((i * 53) % 13 - 6) / 6.0), 0};
  };
  return {std::to_string(i), taper(section(1.5e-3), section(1.15e-3), section(0.8e-3), 0.178),
          25e-6, 5e-6};
}

Readings bench_readings(int i) {
  return {{0.0110 + 3e-5 * ((i * 71) % 101)}, {0.0110 + 3e-5 * ((i * 43) % 103)}, {}};
}

std::vector<Measured> bench_batch(int n) {
  std::vector<Measured> batch;
  for (int i = 0; i < n; ++i) {
    batch.push_back(reduce(bench_spar(i), bench_readings(i), bench_rig()).value());
  }
  return batch;
}

/// Five hundred spars, two readings each. The argument: 0 the plainest rig (a point of the spar,
/// from the straight line), 1 the costliest (a fixed distance, from the drooping spar).
void reduce_1000_readings(benchmark::State& state) {
  Rig rig = bench_rig();
  if (state.range(0) == 1) rig.follows = Follows::fixed_distance, rig.zero = Zero::unloaded_spar;
  for (auto _ : state) {
    for (int i = 0; i < 500; ++i) {
      benchmark::DoNotOptimize(reduce(bench_spar(i), bench_readings(i), rig));
    }
  }
}
BENCHMARK(reduce_1000_readings)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void pair_200_spars(benchmark::State& state) {
  const std::vector<Measured> batch = bench_batch(200);
  for (auto _ : state) benchmark::DoNotOptimize(pair(batch, bench_rig(), {}));
}
BENCHMARK(pair_200_spars)->Unit(benchmark::kMillisecond);

/// What one more entry costs: that spar reduced, a batch of twelve paired anew, all sanding advice.
void entry_to_advice(benchmark::State& state) {
  std::vector<Measured> batch = bench_batch(12);
  for (auto _ : state) {
    batch.back() = reduce(bench_spar(11), bench_readings(11), bench_rig()).value();
    benchmark::DoNotOptimize(pair(batch, bench_rig(), {}));
  }
}
BENCHMARK(entry_to_advice)->Unit(benchmark::kMillisecond);

}  // namespace
