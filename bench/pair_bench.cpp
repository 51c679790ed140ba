#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "bench_blade.h"
#include "propwright/asbuilt/ledger.h"
#include "propwright/brief/file.h"
#include "propwright/predict/predict.h"

namespace propwright {
namespace {

std::string pair_example_text(const std::string& name) {
  std::ifstream in(std::string(PROPWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

asbuilt::Design pair_design(bool flexing) {
  const brief::Job job =
      brief::read_job(pair_example_text("lantern46.toml"), "lantern46.toml").value();
  const brief::Attachments attachments{pair_example_text(job.rubber.test_file), {}};
  const predict::Nominal nominal = predict::predict(job, attachments).value();
  asbuilt::Design design;
  design.blade = nominal.assembly.blade;
  design.family = nominal.assembly.family;
  design.flow = {nominal.assembly.air.density_kg_m3, nominal.assembly.air.viscosity_Pa_s};
  design.blade_mass_kg = 180e-6;
  design.blade_moment_kgm = 180e-6 * 0.09;
  design.setup = nominal.setup;
  if (!flexing) return design;
  flex::BladeBeam beam;
  const auto& rows = design.blade.rows;
  const double hub = rows.front().radius_m, tip = rows.back().radius_m;
  for (const rotor::BladeRow& row : rows) {
    const double fourth = std::pow(2.4e-3 - 1.3e-3 * (row.radius_m - hub) / (tip - hub), 4);
    beam.rows.push_back({.radius_m = row.radius_m,
                         .flapwise_Nm2 = 1.5e9 * fourth / 12,
                         .chordwise_Nm2 = 1.5e9 * fourth / 12,
                         .torsion_Nm2 = 0.044 * 1.5e9 * 0.1406 * fourth,
                         .mass_kg_per_m = 5e-4,
                         .inertia_kg_m = 1e-7,
                         .angle_rad = row.angle_rad,
                         .behind_quarter_m = 0.15 * row.chord_m});
  }
  design.beam = beam;
  return design;
}

/// A pair off in every aspect there is.
std::array<asbuilt::BladeDeviation, 2> worn_pair(const asbuilt::Sensitivities& seconds) {
  std::array<asbuilt::BladeDeviation, 2> pair;
  for (std::size_t i = 0; i < asbuilt::aspect_count; ++i) {
    pair[0].value[i] = 0.5 * seconds.of[i].step;
    pair[1].value[i] = -0.2 * seconds.of[i].step;
    pair[0].measured[i] = pair[1].measured[i] = seconds.of[i].known;
  }
  return pair;
}

/// As many as a job has: four of the propeller, four of the flight on both sides.
std::vector<asbuilt::World> doubts(const asbuilt::Design& design) {
  std::vector<asbuilt::World> worlds;
  for (const double drag : {0.1, 0.05}) {
    worlds.push_back(
        {.doubt = "drag", .shift = {.drag = drag}, .setup = design.setup, .same_propeller = false});
    worlds.push_back(
        {.doubt = "angle", .turn_rad = drag / 10, .setup = design.setup, .same_propeller = false});
  }
  for (int i = 0; i < 8; ++i) {
    asbuilt::World world{.doubt = "drag", .weight = 0.5, .setup = design.setup};
    world.setup.airframe.drag.profile_cd_min *= 1 + 0.02 * (i - 3.5);
    worlds.push_back(world);
  }
  return worlds;
}

/// The figure of the project: from a design to the full ledger of its pair, on one core.
void pair_ledger(benchmark::State& state, bool flexing) {
  const asbuilt::Design design = pair_design(flexing);
  const std::vector<asbuilt::World> worlds = doubts(design);
  for (auto _ : state) {
    const auto seconds = asbuilt::sensitivities(design, worlds).value();
    const auto pair = worn_pair(seconds);
    benchmark::DoNotOptimize(asbuilt::ledger(design, seconds, pair[0], pair[1]).value());
  }
}
BENCHMARK_CAPTURE(pair_ledger, rigid, false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pair_ledger, flexing, true)->Unit(benchmark::kMillisecond);

/// The ledger again after a new reading, the sensitivities known.
void pair_ledger_again(benchmark::State& state, bool flexing) {
  const asbuilt::Design design = pair_design(flexing);
  const auto seconds = asbuilt::sensitivities(design, {}).value();
  const auto pair = worn_pair(seconds);
  for (auto _ : state) {
    benchmark::DoNotOptimize(asbuilt::ledger(design, seconds, pair[0], pair[1]).value());
  }
}
BENCHMARK_CAPTURE(pair_ledger_again, rigid, false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pair_ledger_again, flexing, true)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace propwright
