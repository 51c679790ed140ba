// Blades as measured.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "bench_pair.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using bench::Figure;
using D = units::Dimension;

constexpr std::size_t most_blades = 2;

void read_angles(BenchReader& reader, bench::BladeReading& blade) {
  for (const auto& [row, place] : reader.tables("angles")) {
    BenchReader cells(row, place, {"radius", "angle"});
    // A row that is still empty is being filled in.
    if (!cells.has("radius") && !cells.has("angle")) continue;
    bench::AngleReading reading;
    reading.radius_m = cells.needed("radius", D::length, bench_radius_m);
    reading.angle_rad =
        cells.needed("angle", D::angle, {-30 * base::degree_rad, 89.5 * base::degree_rad});
    reader.add(cells.problems());
    blade.angles.push_back(reading);
  }
}

void read_cambers(BenchReader& reader, bench::BladeReading& blade) {
  for (const auto& [row, place] : reader.tables("camber")) {
    BenchReader cells(row, place, {"radius", "chord", "camber", "gap"});
    if (!cells.has("radius") && !cells.has("camber") && !cells.has("chord")) continue;
    bench::CamberCheck check;
    check.radius_m = cells.needed("radius", D::length, bench_radius_m);
    check.chord_m = cells.needed("chord", D::length, {1e-3, 0.3});
    check.template_camber = cells.needed("camber", D::ratio, {0, 0.25});
    check.gap_m = cells.length("gap", {-0.02, 0.02}).value_or(0);
    reader.add(cells.problems());
    blade.cambers.push_back(check);
  }
}

Json angle_list(const bench::BladeFigures& figures) {
  Json list = Json::array();
  for (const bench::BladeStation& s : figures.stations) {
    list.push_back({{"radius_m", s.radius_m},
                    {"angle_deg", bench_degrees(s.angle_rad.value)},
                    {"angle_sigma_deg", bench_degrees(s.angle_rad.sigma)},
                    {"pitch_m", s.pitch_m.value},
                    {"pitch_sigma_m", s.pitch_m.sigma}});
  }
  return list;
}

std::vector<std::string> blade_sentences(const std::string& id, const bench::BladeFigures& f,
                                         const BenchContext& context) {
  std::vector<std::string> sentences{
      fmt::format("{}: {} long, {}, pitch {}.", id, context.length(f.length_m.value),
                  context.doubtful_mass(f.mass_kg), context.doubtful_length(f.mean_pitch_m))};
  if (f.moment_kgm && f.mass_kg.value > 0) {
    sentences.push_back(fmt::format("Its centre of mass is {} from the shaft.",
                                    context.length(f.moment_kgm->value / f.mass_kg.value)));
  }
  return sentences;
}

Json blade_item(const std::string& id, const bench::BladeFigures& f, const BenchContext& context) {
  Json cambers = Json::array();
  for (const bench::CamberStation& c : f.cambers) {
    cambers.push_back(
        {{"radius_m", c.radius_m}, {"camber", c.camber.value}, {"camber_sigma", c.camber.sigma}});
  }
  const bool centred = f.moment_kgm && f.mass_kg.value > 0;
  return {{"id", id},
          {"length_m", f.length_m.value},
          {"length_sigma_m", f.length_m.sigma},
          {"mass_kg", f.mass_kg.value},
          {"mass_sigma_kg", f.mass_kg.sigma},
          {"angles", angle_list(f)},
          {"pitch_m", f.mean_pitch_m.value},
          {"pitch_sigma_m", f.mean_pitch_m.sigma},
          {"camber", cambers},
          {"moment_kg_m", value_or_null(f.moment_kgm)},
          {"moment_sigma_kg_m", sigma_or_null(f.moment_kgm)},
          {"centre_of_mass_m", centred ? Json(f.moment_kgm->value / f.mass_kg.value) : Json()},
          {"questions", context.worded(messages_of(f.questions))},
          {"sentences", blade_sentences(id, f, context)}};
}

/// Reads one blade and works it out; both are empty where it cannot be.
void take_blade(const Json& entry, const std::string& place, const std::string& name,
                BenchContext& context) {
  context.blades.push_back(read_blade(entry, place, name, context));
  context.blade_figures.emplace_back();
  if (!context.blades.back()) return;
  auto figures = bench::blade_figures(*context.blades.back(), context.instruments);
  if (figures) {
    context.blade_figures.back() = std::move(*figures);
    return;
  }
  context.add(bench_fields(figures.error(), place, blade_names()));
  context.blades.back().reset();
}

}  // namespace

BenchNames blade_names() {
  return {{"cambers", "camber"}, {"template_camber", "camber"}, {"moment_kgm", "tip_reading"}};
}

bench::BladeTolerances read_tolerances(BenchReader& reader) {
  bench::BladeTolerances use;
  const auto take = [](std::optional<double> value, double& into) { into = value.value_or(into); };
  take(reader.angle("tolerance_angle", 0.05, 10), use.angle_rad);
  take(reader.length("tolerance_length", {1e-5, 0.02}), use.length_m);
  take(reader.share("tolerance_mass", {1e-4, 0.5}), use.mass_share);
  take(reader.share("tolerance_camber", {1e-4, 0.1}), use.camber);
  return use;
}

std::optional<bench::BladeReading> read_blade(const Json& entry, const std::string& place,
                                              const std::string& name, BenchContext& context) {
  BenchReader reader(entry, place,
                     {"id", "length", "mass", "angles", "camber", "centre_of_mass", "tip_reading"});
  bench::BladeReading blade;
  blade.id = reader.text("id", name);
  blade.length_m = reader.needed("length", D::length, {0.02, 1});
  blade.mass_kg = reader.needed("mass", D::mass, {1e-7, 0.1});
  read_angles(reader, blade);
  read_cambers(reader, blade);
  blade.centre_of_mass_m = reader.length("centre_of_mass", {1e-4, 1});
  const auto tip_kg = reader.mass("tip_reading", {0, 0.1});
  if (tip_kg && blade.centre_of_mass_m) {
    reader.wrong("tip_reading", "the balance is told twice",
                 "leave either this or centre_of_mass out");
  }
  if (tip_kg) blade.moment_kgm = *tip_kg * blade.length_m;
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return std::nullopt;
  }
  return blade;
}

Json bench_blades(const Json& blades, const Json& pair, BenchContext& context) {
  if (!blades.is_array() || blades.empty() || blades.size() > most_blades) {
    context.problems.push_back({.field = "blades",
                                .remedy = "send one blade or two",
                                .message = "this is no list of one or two blades"});
    return nullptr;
  }
  Json items = Json::array();
  for (std::size_t i = 0; i < blades.size(); ++i) {
    take_blade(blades[i], fmt::format("blades[{}]", i + 1), i == 0 ? "A" : "B", context);
    const auto& figures = context.blade_figures.back();
    items.push_back(figures ? blade_item(context.blades.back()->id, *figures, context)
                            : Json(nullptr));
  }
  Json judged = nullptr;
  if (blades.size() == 2 && context.blade_figures[0] && context.blade_figures[1]) {
    judged = bench_pair(pair, context);
  }
  return {{"items", items}, {"pair", judged}};
}

}  // namespace propwright::answer
