#include <benchmark/benchmark.h>

#include <cmath>

#include "bench_blade.h"
#include "propwright/flex/flex.h"

namespace propwright {
namespace {

/// A square balsa spar, 2.4 to 1.1 mm, at 0.40 of the chord: it flares by a few degrees.
const flex::FlexRotor& flexing_blade() {
  static const flex::FlexRotor flex = [] {
    const rotor::Rotor rotor =
        rotor::Rotor::make(bench::blade(), section::Family::thin_arc()).value();
    flex::BladeBeam beam;
    for (const rotor::BladeRow& row : bench::blade().rows) {
      const double share = (row.radius_m - 0.034) / (0.195 - 0.034);
      const double fourth = std::pow(2.4e-3 - 1.3e-3 * share, 4);
      beam.rows.push_back({.radius_m = row.radius_m,
                           .flapwise_Nm2 = 1.5e9 * fourth / 12,
                           .chordwise_Nm2 = 1.5e9 * fourth / 12,
                           .torsion_Nm2 = 0.044 * 1.5e9 * 0.1406 * fourth,
                           .mass_kg_per_m = 5e-4,
                           .inertia_kg_m = 1e-7,
                           .angle_rad = row.angle_rad,
                           .behind_quarter_m = 0.15 * row.chord_m});
    }
    return flex::FlexRotor::make(rotor, beam).value();
  }();
  return flex;
}

/// The figure of the project: 24 stations x 40 operating points of a flexing blade on one core.
void flex_map_24_by_40(benchmark::State& state) {
  const flex::FlexRotor& flex = flexing_blade();
  const std::vector<rotor::Condition> conditions = bench::map_conditions(flex.rotor());
  for (auto _ : state) benchmark::DoNotOptimize(flex.solve_all(conditions, bench::flow).value());
}
BENCHMARK(flex_map_24_by_40)->Unit(benchmark::kMicrosecond);

void flex_flight_map(benchmark::State& state) {
  for (auto _ : state) {
    benchmark::DoNotOptimize(flex::make_map(flexing_blade(), bench::flow, 1.1).value());
  }
}
BENCHMARK(flex_flight_map)->Unit(benchmark::kMicrosecond);

void flex_one_condition_with_stations(benchmark::State& state) {
  for (auto _ : state) {
    benchmark::DoNotOptimize(flexing_blade().solve({0.9, 1.6}, bench::flow).value());
  }
}
BENCHMARK(flex_one_condition_with_stations)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace propwright
