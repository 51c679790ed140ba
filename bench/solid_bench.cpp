// The form of the blade of examples/lantern46.toml as a solid, 0.2 mm tolerance, with all that can
// be cut.
#include <benchmark/benchmark.h>

#include "propwright/base/constants.h"
#include "propwright/solid/files.h"

namespace propwright {
namespace {

form::Surface solid_surface() {
  const form::OutlineShape outline{.tip_radius_m = 0.195,
                                   .root_radius_m = 0.034,
                                   .widest_chord_m = 0.046,
                                   .widest_at = 0.6,
                                   .root_chord_m = 0.016};
  const form::Form form{.pitch_m = 0.76, .camber = 0.06};
  const auto rows = form::surface_rows(form, form::outline(outline, 40).value());
  return form::Surface::make(rows, form::Hand::anticlockwise, form::Lay::helical).value();
}

solid::FormOptions solid_options() {
  solid::FormOptions options;
  options.base_tilt_rad = 30 * base::degree_rad;
  options.groove_width_m = 0.0015;
  options.pin_radii_m = {0.0305, 0.1985};
  return options;
}

void form_as_triangles(benchmark::State& state) {
  const form::Surface surface = solid_surface();
  for (auto _ : state) {
    const auto parts = solid::form_solid(surface, solid_options()).value();
    benchmark::DoNotOptimize(solid::stl_bytes(parts.front()));
    benchmark::DoNotOptimize(solid::three_mf_bytes(parts).value());
  }
}
BENCHMARK(form_as_triangles)->Unit(benchmark::kMillisecond);

void form_as_step(benchmark::State& state) {
  const form::Surface surface = solid_surface();
  for (auto _ : state) {
    benchmark::DoNotOptimize(solid::step_bytes(surface, solid_options()).value());
  }
}
BENCHMARK(form_as_step)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace propwright
