// A new blade to match the survivor.
#include "propwright/bench/replacement.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"
#include "bench_parts.h"
#include "bench_section.h"
#include "propwright/base/constants.h"
#include "propwright/spar/reduce.h"
#include "spar_rig.h"

namespace propwright::answer {
namespace {

using bench::Figure;
using D = units::Dimension;

/// The survivor's spar with its two moduli. Problems go to the context.
std::optional<bench::SurvivingSpar> read_spar(const Json& table, const spar::Rig& rig,
                                              BenchContext& context) {
  std::vector<std::string> known{"id", "length", "mass", "reading_0", "reading_90"};
  known.insert(known.end(), bench_section_members.begin(), bench_section_members.end());
  BenchReader reader(table, "replacement.spar", known);
  spar::Spar measured;
  measured.id = reader.text("id", "survivor");
  const double length_m = reader.needed("length", D::length, {0.01, 1});
  measured.mass_kg = reader.needed("mass", D::mass, {1e-7, 0.02});
  measured.size_sigma_m = bench::reading_sigma(context.instruments.micrometer_resolution_m, 0);
  const auto taper = read_taper(reader, length_m);
  spar::Readings readings;
  readings.at_0_m = reader.lengths("reading_0", {-0.3, 0.9});
  readings.at_90_m = reader.lengths("reading_90", {-0.3, 0.9});
  if (const auto wrong = reader.problems(); !wrong.empty() || !taper) {
    context.add(wrong);
    return std::nullopt;
  }
  measured.taper = *taper;
  const auto found = spar::reduce(measured, readings, rig);
  if (!found) {
    BenchNames names = bench_taper_names;
    context.add(bench_fields(found.error(), "replacement.spar", names));
    return std::nullopt;
  }
  const auto modulus = [](const spar::Direction& direction) {
    const double value_Pa = direction.modulus_Pa.value;
    return Figure{value_Pa, direction.modulus_sigma_relative * value_Pa};
  };
  return bench::SurvivingSpar{*taper, measured.mass_kg, modulus(found->at_0),
                              modulus(found->at_90)};
}

/// Edges from the spar line; of a chord alone the spar line parts it as the job's does.
void read_outline(BenchReader& reader, bench::Survivor& survivor, const BenchContext& context) {
  const double ahead = context.job ? context.job->loaded.job.propeller.spar_position : 0.4;
  for (const auto& [row, place] : reader.tables("chords")) {
    BenchReader cells(row, place, {"radius", "chord", "lead", "trail"});
    if (!cells.has("radius") && !cells.has("chord") && !cells.has("lead")) continue;
    bench::OutlineWidth width;
    width.radius_m = cells.needed("radius", D::length, bench_radius_m);
    if (cells.has("lead") || cells.has("trail")) {
      width.lead_m = cells.needed("lead", D::length, {-0.1, 0.3});
      width.trail_m = cells.needed("trail", D::length, {-0.1, 0.3});
    } else {
      const double chord_m = cells.needed("chord", D::length, {1e-3, 0.3});
      width.lead_m = ahead * chord_m;
      width.trail_m = chord_m - width.lead_m;
    }
    reader.add(cells.problems());
    survivor.outline.push_back(width);
  }
}

void read_survivors_air(BenchReader& reader, bench::Survivor& survivor) {
  const BenchRange range{base::celsius_0_K - 10, base::celsius_0_K + 60};
  survivor.humidity_then = reader.share("humidity_then", {0, 0.97});
  survivor.humidity_now = reader.share("humidity_now", {0, 0.97});
  const bool then = reader.has("humidity_then"), now = reader.has("humidity_now");
  if (then != now) {
    reader.wrong(then ? "humidity_now" : "humidity_then",
                 "the air is told for one of the two weighings only", "give both, or neither");
  }
  const auto then_K = reader.quantity("temperature_then", D::temperature, range);
  const auto now_K = reader.quantity("temperature_now", D::temperature, range);
  if (then_K) survivor.temperature_then_C = *then_K - base::celsius_0_K;
  if (now_K) survivor.temperature_now_C = *now_K - base::celsius_0_K;
  survivor.wood_share = reader.share("wood_share").value_or(survivor.wood_share);
}

/// The blade of the table, or the first of the question's blades.
std::optional<bench::BladeReading> surviving_blade(BenchReader& reader, BenchContext& context) {
  if (reader.has("blade")) {
    return read_blade(reader.table("blade"), "replacement.blade", "A", context);
  }
  if (!context.blades.empty() && context.blades.front()) return context.blades.front();
  reader.wrong("blade", "there is no survivor to match", "give its length, mass and angles");
  return std::nullopt;
}

/// As the answer has it: angles in degrees, no spaces.
std::string target_unit(const std::string& unit) {
  if (unit == "rad") return "deg";
  std::string joined = unit;
  std::replace(joined.begin(), joined.end(), ' ', '_');
  return joined;
}

Json target_list(const bench::ReplacementFigures& figures, const BenchContext& context) {
  Json list = Json::array();
  for (const bench::Target& target : figures.targets) {
    const bool rad = target.unit == "rad";
    const double scale = rad ? 1 / base::degree_rad : 1;
    list.push_back({{"name", context.worded(target.name)},
                    {"unit", target_unit(target.unit)},
                    {"radius_m", number_or_null(target.radius_m)},
                    {"value", scale * target.value},
                    {"low", scale * (target.value - target.tolerance)},
                    {"high", scale * (target.value + target.tolerance)},
                    {"sigma", scale * target.sigma}});
  }
  return list;
}

/// Sentences that tell more than the targets do.
std::vector<std::string> beside_targets(const bench::ReplacementFigures& figures) {
  std::vector<std::string> sentences;
  for (const std::string& sentence : figures.sentences) {
    const bool told =
        std::any_of(figures.targets.begin(), figures.targets.end(),
                    [&](const bench::Target& target) { return sentence.starts_with(target.name); });
    if (!told) sentences.push_back(sentence);
  }
  return sentences;
}

}  // namespace

Json bench_replacement(const Json& table, BenchContext& context) {
  BenchReader reader(table, "replacement",
                     {"blade", "chords", "spar", "rig", "humidity_then", "humidity_now",
                      "temperature_then", "temperature_now", "wood_share", "tolerance_angle",
                      "tolerance_length", "tolerance_mass", "tolerance_camber", "tolerance_spar"});
  bench::Survivor survivor;
  bench::ReplacementOptions options;
  options.tolerances = read_tolerances(reader);
  options.spar_share = reader.share("tolerance_spar", {1e-3, 0.5}).value_or(options.spar_share);
  const auto blade = surviving_blade(reader, context);
  read_outline(reader, survivor, context);
  read_survivors_air(reader, survivor);
  if (reader.has("rig")) {
    base::Problems wrong;
    options.rig = read_rig(reader.table("rig"), "replacement.rig", wrong).rig;
    reader.add(wrong);
  } else if (reader.has("spar")) {
    reader.wrong("rig", "the spar's readings need the rig they were taken on",
                 "give the rig, or leave the spar out");
  }
  if (const auto wrong = reader.problems(); !wrong.empty() || !blade) {
    context.add(wrong);
    return nullptr;
  }
  survivor.blade = *blade;
  if (reader.has("spar")) {
    survivor.spar = read_spar(reader.table("spar"), *options.rig, context);
    if (!survivor.spar) return nullptr;
  }
  const auto figures = bench::replacement(survivor, context.instruments, options);
  if (!figures) {
    BenchNames names = blade_names();
    names.insert(names.end(),
                 {{"outline", "chords"}, {"E_0_Pa", "reading_0"}, {"E_90_Pa", "reading_90"}});
    context.add(bench_fields(figures.error(), "replacement", names));
    return nullptr;
  }
  return {{"targets", target_list(*figures, context)},
          {"caution", cautions::cut_and_sand},
          {"sentences", context.worded(beside_targets(*figures))}};
}

}  // namespace propwright::answer
