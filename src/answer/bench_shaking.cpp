// A propeller that shakes the model: what to check, in which order.
#include "propwright/bench/shaking.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using bench::Cause;
using bench::Figure;
using D = units::Dimension;

constexpr const char* cause_keys[] = {"angles", "hook", "spars", "length", "weight"};
constexpr const char* cause_labels[] = {"Blade angles", "Hook on the axis", "Spars alike", "Length",
                                        "Weight and balance"};
constexpr const char* cause_statuses[] = {"suspect", "not_measured", "cannot_tell", "ok"};

/// A number written by hand counts before one that the question's other tables gave.
std::optional<Figure> figure_of(std::optional<double> written, std::optional<double> sigma,
                                double usual_sigma, std::optional<Figure> found) {
  if (written) return Figure{std::abs(*written), sigma.value_or(usual_sigma)};
  return found;
}

bench::ShakingFigures read_figures(BenchReader& reader, const BenchContext& context) {
  const bench::Instruments& use = context.instruments;
  const auto& pair = context.pair;
  const auto from_pair = [&](Figure bench::PairFigures::*member) {
    return pair ? std::optional<Figure>((*pair).*member) : std::nullopt;
  };
  const double root2 = std::sqrt(2.0);
  bench::ShakingFigures figures;
  figures.angle_difference_rad =
      figure_of(reader.angle("angle_difference", -45, 45), reader.angle("angle_sigma", 0, 20),
                root2 * bench::reading_sigma(use.angle_resolution_rad, use.angle_repeatability_rad),
                from_pair(&bench::PairFigures::angle_difference_rad));
  figures.hook_offset_m = figure_of(reader.length("hook_offset", {0, 0.03}), std::nullopt,
                                    root2 * bench::reading_sigma(use.micrometer_resolution_m, 0),
                                    context.hub ? context.hub->hook_offset_m : std::nullopt);
  figures.spar_mismatch_share = figure_of(reader.share("spar_mismatch", {-1, 1}),
                                          reader.share("spar_sigma"), 0, std::nullopt);
  figures.length_difference_m =
      figure_of(reader.length("length_difference", {-0.1, 0.1}), std::nullopt,
                root2 * bench::reading_sigma(use.rule_resolution_m, 0),
                from_pair(&bench::PairFigures::length_difference_m));
  const auto mass_kg = reader.mass("imbalance_mass", {0, 0.01});
  const auto radius_m = reader.length("imbalance_radius", bench_radius_m);
  figures.imbalance_kgm = pair ? pair->imbalance_kgm : std::nullopt;
  if (mass_kg && radius_m) {
    figures.imbalance_kgm = Figure{*mass_kg * *radius_m, bench::net_mass_sigma_kg(use) * *radius_m};
  } else if (mass_kg || radius_m) {
    reader.wrong(mass_kg ? "imbalance_radius" : "imbalance_mass",
                 "the imbalance is a mass at a radius", "give both");
  }
  figures.mass_difference_share =
      figure_of(reader.share("mass_difference", {-1, 1}), std::nullopt, 0,
                from_pair(&bench::PairFigures::mass_difference_share));
  return figures;
}

double blade_area_m2(const std::vector<form::OutlineRow>& rows) {
  double area_m2 = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    area_m2 +=
        (rows[i].radius_m - rows[i - 1].radius_m) * (rows[i].chord_m + rows[i - 1].chord_m) / 2;
  }
  return area_m2;
}

bench::ShakingFlight read_flight(BenchReader& reader, const BenchContext& context) {
  bench::ShakingFlight use;
  if (context.job) {
    const predict::Nominal& nominal = context.job->nominal;
    use.revolutions_Hz = nominal.flight.cruise_rev_per_s;
    use.thrust_N = nominal.flight.cruise_thrust_N;
    use.tip_radius_m = context.job->loaded.job.propeller.diameter_m / 2;
    use.blade_area_m2 = blade_area_m2(nominal.assembly.outline);
    use.air_density_kg_m3 = nominal.assembly.air.density_kg_m3;
  } else if (!context.blades.empty() && context.blades.front()) {
    use.tip_radius_m = context.blades.front()->length_m;
  }
  const auto take = [](std::optional<double> value, double& into) { into = value.value_or(into); };
  take(reader.quantity("rev", D::rotation, {0.05, 50}), use.revolutions_Hz);
  take(reader.quantity("tension", D::force, bench_force_N), use.motor_pull_N);
  take(reader.quantity("thrust", D::force, bench_force_N), use.thrust_N);
  take(reader.length("tip_radius", bench_radius_m), use.tip_radius_m);
  take(reader.quantity("blade_area", D::area, {1e-5, 0.1}), use.blade_area_m2);
  take(reader.angle("flare", 0, 60), use.flare_rad);
  return use;
}

const BenchNames& shaking_names() {
  static const BenchNames names{{"flight", ""},
                                {"limits", ""},
                                {"revolutions_Hz", "rev"},
                                {"motor_pull_N", "tension"},
                                {"spar_mismatch_share", "spar_mismatch"},
                                {"mass_difference_share", "mass_difference"},
                                {"imbalance_kgm", "imbalance_mass"}};
  return names;
}

Json cause_or_null(const std::optional<Cause>& cause) {
  return cause ? Json(cause_keys[static_cast<std::size_t>(*cause)]) : Json(nullptr);
}

Json shaking_check(const bench::ShakingCheck& check, int order, const BenchContext& context) {
  const auto i = static_cast<std::size_t>(check.cause);
  const bool rad = check.figure_unit == "rad";
  const auto shown = [&](double si) { return Json(rad ? bench_degrees(si) : si); };
  std::string unit = rad                           ? "deg"
                     : check.figure_unit == "kg m" ? "kg_m"
                     : check.figure_unit == "m"    ? "m"
                                                   : "1";
  return {{"order", order},
          {"key", cause_keys[i]},
          {"label", cause_labels[i]},
          {"verdict", cause_statuses[static_cast<std::size_t>(check.status)]},
          {"figure", check.figure ? shown(check.figure->value) : Json(nullptr)},
          {"sigma", check.figure ? shown(check.figure->sigma) : Json(nullptr)},
          {"unit", unit},
          {"moment_Nm", number_or_null(check.moment_Nm)},
          {"formula", check.formula},
          {"sentence", context.worded(check.sentence)}};
}

}  // namespace

Json bench_shaking(const Json& table, BenchContext& context) {
  BenchReader reader(
      table, "shaking",
      {"angle_difference", "angle_sigma", "hook_offset", "spar_mismatch", "spar_sigma",
       "length_difference", "imbalance_mass", "imbalance_radius", "mass_difference", "rev", "speed",
       "tension", "thrust", "tip_radius", "blade_area", "flare"});
  const bench::ShakingFigures figures = read_figures(reader, context);
  const bench::ShakingFlight flight = read_flight(reader, context);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  const auto answer = bench::shaking(figures, flight);
  if (!answer) {
    context.add(bench_fields(answer.error(), "shaking", shaking_names()));
    return nullptr;
  }
  Json checks = Json::array();
  std::vector<std::string> sentences;
  for (const bench::ShakingCheck& check : answer->checks) {
    checks.push_back(shaking_check(check, static_cast<int>(checks.size()) + 1, context));
    sentences.push_back(context.worded(check.sentence));
  }
  return {{"headline", context.worded(answer->headline)},
          {"next", cause_or_null(answer->next)},
          {"strongest", cause_or_null(answer->strongest)},
          {"checks", checks},
          {"sentences", sentences}};
}

}  // namespace propwright::answer
