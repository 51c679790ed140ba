#include "propwright/answer/pair_answer.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <nlohmann/json.hpp>

#include "pair_reader.h"
#include "pair_worlds.h"
#include "propwright/base/constants.h"

namespace propwright::answer {

struct PairDesign {
  asbuilt::Design design;
  std::vector<asbuilt::World> worlds;
  flight::Flight flight;
  std::vector<std::string> notes;
};

struct KnownDesign {
  PairDesign design;
  asbuilt::Sensitivities seconds;
};

namespace {

/// Mass of one blade without hub, shaft and glue, and its first moment with the mass spread as the
/// chord is.
void add_mass(asbuilt::Design& design, const brief::Assembly& made) {
  double mass = 0;
  for (const brief::PartMass& part : made.weights) {
    if (part.part != "Hub" && part.part != "Shaft" && part.part != "Glue") mass += part.mass_kg;
  }
  const auto& rows = design.blade.rows;
  double area = 0, moment = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const double strip =
        (rows[i].radius_m - rows[i - 1].radius_m) * (rows[i].chord_m + rows[i - 1].chord_m) / 2;
    area += strip;
    moment += strip * (rows[i].radius_m + rows[i - 1].radius_m) / 2;
  }
  design.blade_mass_kg = mass / design.blade.blades;
  design.blade_moment_kgm = area > 0 ? design.blade_mass_kg * moment / area : 0;
}

void on_all_threads(std::size_t count, const std::function<void(std::size_t)>& work) {
  tbb::parallel_for(std::size_t{0}, count, work);
}

/// Says what the seconds' intervals come from, where one of them is wider than its seconds.
void note_doubt(const asbuilt::Sensitivities& seconds, std::vector<std::string>& notes) {
  const asbuilt::Seconds& angle = seconds.at(asbuilt::Aspect::angle);
  if (angle.doubt.empty()) return;
  const double half_degree = base::degree_rad / 2;
  if (angle.slope_sigma * half_degree < std::abs(angle.both(half_degree))) return;
  notes.push_back("The intervals come mostly from the doubt of " + angle.doubt +
                  ": near the best setting for a roof, what helps on one side of it costs on the "
                  "other. Knowing it better would narrow them.");
}

base::Expected<PairDesign> design_of(const LoadedJob& loaded) {
  auto nominal = predict::predict(loaded.job, loaded.attachments);
  if (!nominal) return base::fail(in_file(std::move(nominal.error()), loaded.path));
  const brief::Assembly& made = nominal->assembly;
  if (made.blade.blades != 2) {
    return base::fail({.file = loaded.path,
                       .field = "propeller.blades",
                       .value = std::to_string(made.blade.blades),
                       .allowed = "2",
                       .remedy = "compare propellers of two blades",
                       .message = "a pair is two blades"});
  }
  PairDesign result;
  asbuilt::Design& design = result.design;
  design.blade = made.blade;
  design.family = made.family;
  design.options = made.rotor_options;
  design.flow = {made.air.density_kg_m3, made.air.viscosity_Pa_s};
  design.beam = made.beam;
  design.flex_options = made.flex_options;
  design.setup = nominal->setup;
  design.profile = loaded.job.info.units == brief::UnitProfile::inch ? units::Profile::inch
                                                                     : units::Profile::metric;
  add_mass(design, made);
  result.worlds = worlds_of(loaded.job, *nominal, design);
  result.flight = nominal->flight;
  if (!design.beam) {
    result.notes.push_back(
        "The blades are taken as rigid: the job does not say how they flex, so stiffness costs no "
        "seconds here.");
  }
  result.notes.push_back(
      "Each propeller is launched as the job plans it: under a margin the turns are found anew.");
  return result;
}

base::Problems readings_in(base::Problems problems, const std::string& file) {
  for (base::Problem& problem : problems) problem.file = file;
  return problems;
}

}  // namespace

base::Expected<std::shared_ptr<const KnownDesign>> known_design(const LoadedJob& loaded) {
  auto made = design_of(loaded);
  if (!made) return base::fail(std::move(made.error()));
  auto seconds = asbuilt::sensitivities(made->design, made->worlds, on_all_threads);
  if (!seconds) return base::fail(in_file(std::move(seconds.error()), loaded.path));
  note_doubt(*seconds, made->notes);
  return std::make_shared<const KnownDesign>(KnownDesign{std::move(*made), std::move(*seconds)});
}

base::Expected<std::shared_ptr<const KnownDesign>> KnownDesigns::of(const LoadedJob& loaded) {
  const auto is_it = [&](const Kept& kept) {
    return kept.job == loaded.job && kept.attachments == loaded.attachments;
  };
  {
    const std::lock_guard lock(mutex_);
    const auto found = std::find_if(kept_.begin(), kept_.end(), is_it);
    if (found != kept_.end()) {
      std::rotate(kept_.begin(), found, found + 1);
      return kept_.front().design;
    }
  }
  auto made = known_design(loaded);
  if (!made) return made;
  const std::lock_guard lock(mutex_);
  kept_.push_front({loaded.job, loaded.attachments, *made});
  if (kept_.size() > most) kept_.pop_back();
  return made;
}

base::Expected<PairAnswer> pair_answer(const LoadedJob& loaded, const KnownDesign& known,
                                       const Json& as_built, const std::string& file) {
  const PairDesign& made = known.design;
  const DesignStiffness stiffness(loaded.job.propeller, made.design.blade);
  const auto readings = read_as_built(as_built, stiffness);
  if (!readings) return base::fail(readings_in(readings.error(), file));
  PairAnswer answer;
  answer.design = made.design;
  answer.notes = made.notes;
  base::Problems problems;
  for (std::size_t i = 0; i < 2; ++i) {
    auto blade = asbuilt::deviation_of(answer.design, (*readings)[i], i);
    if (blade) {
      answer.blades[i] = std::move(*blade);
    } else {
      problems.insert(problems.end(), blade.error().begin(), blade.error().end());
    }
  }
  if (!problems.empty()) return base::fail(readings_in(std::move(problems), file));
  auto ledger = asbuilt::ledger(answer.design, known.seconds, answer.blades[0], answer.blades[1]);
  if (!ledger) return base::fail(in_file(ledger.error(), loaded.path));
  answer.ledger = std::move(*ledger);
  auto states = asbuilt::compare(answer.design, answer.blades[0], answer.blades[1],
                                 made.flight.cruise_torque_Nm, made.flight.launch_torque_Nm);
  if (!states) return base::fail(in_file(states.error(), loaded.path));
  answer.states = std::move(*states);
  answer.imbalance = asbuilt::imbalance_of(answer.design, answer.blades[0], answer.blades[1]);
  answer.tolerances = asbuilt::tolerance_card(answer.design, known.seconds);
  return answer;
}

ToleranceCard tolerance_card(const KnownDesign& known) {
  const asbuilt::Design& design = known.design.design;
  return {known.seconds.perfect_s, design.blade_mass_kg, design.blade_moment_kgm,
          asbuilt::tolerance_card(design, known.seconds), known.design.notes};
}

}  // namespace propwright::answer
