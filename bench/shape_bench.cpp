// Designs and flat patterns.
#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "propwright/brief/file.h"
#include "propwright/form/flat_pattern.h"
#include "propwright/shape/shape.h"

namespace propwright {
namespace {

brief::Job heron55() {
  std::ifstream file(PROPWRIGHT_SOURCE_DIR "/examples/heron55.toml");
  std::ostringstream text;
  text << file.rdbuf();
  return brief::read_job(text.str(), "heron55.toml").value();
}

void minimum_loss_design(benchmark::State& state) {
  const auto assembly = brief::assemble(heron55(), {}).value();
  const rotor::DesignRequest request{.condition = {0.58, 0.83},
                                     .flow = {1.19, 1.81e-5},
                                     .thrust_N = 0.0034,
                                     .power_W = {},
                                     .tip_radius_m = 0.23,
                                     .hub_radius_m = 0.038,
                                     .lift = {},
                                     .largest_chord_m = {}};
  for (auto _ : state) {
    benchmark::DoNotOptimize(rotor::minimum_loss(request, assembly.family).value());
  }
}
BENCHMARK(minimum_loss_design)->Unit(benchmark::kMillisecond);

/// Design, one pitch, one form and one cylinder; the job's own flight, which gives the condition,
/// is part of it.
void shape_without_flights(benchmark::State& state) {
  const brief::Job job = heron55();
  shape::Request request;
  request.fly = false;
  request.forms = {{.pitch_m = 0.9}};
  request.cylinders = {{"pipe", 0.16}};
  for (auto _ : state) benchmark::DoNotOptimize(shape::shape(job, {}, request).value());
}
BENCHMARK(shape_without_flights)->Unit(benchmark::kMillisecond);

void flat_pattern_of(benchmark::State& state, double camber) {
  const form::OutlineShape outline{.tip_radius_m = 0.195,
                                   .root_radius_m = 0.034,
                                   .widest_chord_m = 0.046,
                                   .widest_at = 0.6,
                                   .root_chord_m = 0.016};
  const form::Form form{.pitch_m = 0.76, .camber = camber};
  const auto rows = form::surface_rows(form, form::outline(outline, 40).value());
  const auto surface = form::Surface::make(rows, form::Hand::clockwise, form::Lay::helical).value();
  for (auto _ : state) benchmark::DoNotOptimize(form::flat_pattern(surface).value());
}
BENCHMARK_CAPTURE(flat_pattern_of, helicoid, 0.0)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(flat_pattern_of, cambered, 0.06)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace propwright
