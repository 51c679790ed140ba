#include "bench_pair.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"

namespace propwright::answer {
namespace {

using bench::Figure;
using bench::Finding;
using bench::Verdict;
using D = units::Dimension;

constexpr const char* subject_keys[] = {"length", "angle", "twist", "camber", "mass", "balance"};
constexpr const char* subject_labels[] = {"Length", "Blade angle", "Twist",
                                          "Camber", "Mass",        "Balance"};

/// The figure behind a finding with its tolerance.
struct Judged {
  std::optional<Figure> difference;
  double tolerance = 0;
  const char* unit = "1";
};

Judged in_degrees(Figure rad, double tolerance_rad, const char* unit) {
  return {Figure{bench_degrees(rad.value), bench_degrees(rad.sigma)}, bench_degrees(tolerance_rad),
          unit};
}

Judged judged(const PairView& view, Finding::Subject subject) {
  const bench::PairFigures& p = view.pair;
  const bench::BladeTolerances& t = view.tolerances;
  switch (subject) {
    case Finding::Subject::length:
      return {p.length_difference_m, t.length_m, "m"};
    case Finding::Subject::angle:
      return in_degrees(p.angle_difference_rad, t.angle_rad, "deg");
    case Finding::Subject::twist: {
      // What the tolerance of the angle allows over the stations' span.
      const double span_m =
          p.stations.size() < 2 ? 0 : p.stations.back().radius_m - p.stations.front().radius_m;
      return in_degrees(p.twist_difference_rad_m, span_m > 0 ? t.angle_rad / span_m : 0, "deg_m");
    }
    case Finding::Subject::camber:
      return {p.camber_difference, t.camber, "1"};
    case Finding::Subject::mass:
      return {p.mass_difference_share, t.mass_share, "1"};
    case Finding::Subject::balance: {
      double moment = 0;
      if (p.a.moment_kgm && p.b.moment_kgm) {
        moment = (p.a.moment_kgm->value + p.b.moment_kgm->value) / 2;
      }
      return {p.imbalance_kgm, t.mass_share * moment, "kg_m"};
    }
  }
  return {};
}

Json check_list(const PairView& view) {
  Json list = Json::array();
  for (const Finding& f : view.pair.findings) {
    const auto i = static_cast<std::size_t>(f.subject);
    const Judged j = judged(view, f.subject);
    const bool measured = f.verdict != Verdict::not_measured && j.difference;
    list.push_back({{"key", subject_keys[i]},
                    {"label", subject_labels[i]},
                    {"verdict", blade_verdict_word(f.verdict)},
                    {"difference", measured ? Json(j.difference->value) : Json()},
                    {"sigma", measured ? Json(j.difference->sigma) : Json()},
                    {"tolerance", measured && j.tolerance > 0 ? Json(j.tolerance) : Json()},
                    {"unit", j.unit},
                    {"readings_to_settle", f.readings_to_settle},
                    {"sentence", view.words(f)}});
  }
  return list;
}

Json station_list(const bench::PairFigures& pair) {
  Json list = Json::array();
  for (const bench::PairStation& s : pair.stations) {
    list.push_back({{"radius_m", s.radius_m},
                    {"a_deg", bench_degrees(s.angle_a_rad.value)},
                    {"b_deg", bench_degrees(s.angle_b_rad.value)},
                    {"difference_deg", bench_degrees(s.difference_rad.value)},
                    {"sigma_deg", bench_degrees(s.difference_rad.sigma)},
                    {"after_turn_deg", bench_degrees(s.after_turn_rad)},
                    {"pitch_a_m", s.pitch_a_m.value},
                    {"pitch_b_m", s.pitch_b_m.value}});
  }
  return list;
}

Json reset_part(const PairView& view) {
  const bench::ResetAdvice& r = view.pair.reset;
  return {{"blade", view.b},
          {"gauge_radius_m", r.gauge_radius_m},
          {"from_deg", bench_degrees(r.set_angle_rad.value - r.turn_rad.value)},
          {"to_deg", bench_degrees(r.set_angle_rad.value)},
          {"turn_deg", bench_degrees(r.turn_rad.value)},
          {"turn_sigma_deg", bench_degrees(r.turn_rad.sigma)},
          {"left_over_deg", bench_degrees(r.left_over_rad)},
          {"sentence", pair_reset_sentence(view)}};
}

Json trim_part(const PairView& view) {
  if (!view.pair.trim) return nullptr;
  const bench::TrimAdvice& t = *view.pair.trim;
  return {{"blade", view.id(t.light)},
          {"mass_kg", t.add_mass_kg.value},
          {"mass_sigma_kg", t.add_mass_kg.sigma},
          {"radius_m", t.radius_m},
          {"sand_blade", view.id(pair_heavy_side(t))},
          {"sand_mass_kg", t.sand_off_mass_kg.value},
          {"sand_mass_sigma_kg", t.sand_off_mass_kg.sigma},
          {"mass_difference_after_kg", t.mass_difference_after_kg.value},
          {"sentence", pair_trim_sentence(view)}};
}

std::vector<std::string> pair_sentences(const PairView& view) {
  std::vector<std::string> sentences;
  for (const Finding& f : view.pair.findings) sentences.push_back(view.words(f));
  return sentences;
}

Json pair_json(const PairView& view) {
  const bench::PairFigures& p = view.pair;
  const PairHeadline headline = pair_headline(view);
  Json heavy = nullptr;
  if (p.imbalance_kgm && p.imbalance_kgm->value != 0) {
    heavy = p.imbalance_kgm->value > 0 ? view.a : view.b;
  }
  return {{"headline", headline.text},
          {"number", headline.number},
          {"unit", headline.unit},
          {"verdict", blade_verdict_word(p.verdict)},
          {"checks", check_list(view)},
          {"length_difference_m", p.length_difference_m.value},
          {"length_sigma_m", p.length_difference_m.sigma},
          {"mass_difference_kg", p.mass_difference_kg.value},
          {"mass_difference_relative", p.mass_difference_share.value},
          {"mass_sigma_relative", p.mass_difference_share.sigma},
          {"angles", station_list(p)},
          {"angle_difference_deg", bench_degrees(p.angle_difference_rad.value)},
          {"angle_sigma_deg", bench_degrees(p.angle_difference_rad.sigma)},
          {"twist_difference_deg_m", bench_degrees(p.twist_difference_rad_m.value)},
          {"re_set", reset_part(view)},
          {"imbalance_kg_m", value_or_null(p.imbalance_kgm)},
          {"imbalance_sigma_kg_m", sigma_or_null(p.imbalance_kgm)},
          {"heavy", heavy},
          {"trim", trim_part(view)},
          {"caution", cautions::cut_and_sand},
          {"sentences", pair_sentences(view)}};
}

void read_level_test(BenchReader& reader, const std::string& a, const std::string& b,
                     bench::PairOptions& options, const BenchContext& context) {
  const auto mass_kg = reader.mass("level_mass", {0, 0.01});
  if (!mass_kg) return;
  bench::LevelTest test;
  test.mass_kg = *mass_kg;
  const std::string on = reader.text("level_on");
  if (test.mass_kg > 0) {
    test.radius_m = reader.needed("level_radius", D::length, bench_radius_m);
    if (on != a && on != b) {
      reader.wrong("level_on", "this is neither blade", fmt::format("say {} or {}", a, b));
    }
  } else {
    test.radius_m = reader.length("level_radius", bench_radius_m).value_or(0);
  }
  test.light = on == a ? bench::Blade::a : bench::Blade::b;
  const double least_kg =
      reader.mass("level_least_mass", {0, 0.01}).value_or(context.instruments.scale_resolution_kg);
  const double shorter_m = std::min(context.blades[0]->length_m, context.blades[1]->length_m);
  test.least_moment_kgm = least_kg * (test.radius_m > 0 ? test.radius_m : 0.7 * shorter_m);
  options.level_test = test;
}

}  // namespace

std::string blade_verdict_word(Verdict verdict) {
  switch (verdict) {
    case Verdict::matched:
      return "matched";
    case Verdict::re_set:
      return "re_set";
    case Verdict::re_form:
      return "re_form";
    case Verdict::trim:
      return "trim";
    case Verdict::cannot_tell:
      return "cannot_tell";
    case Verdict::not_measured:
      break;
  }
  return "not_measured";
}

Json bench_pair(const Json& pair, BenchContext& context) {
  const std::string a = context.blades[0]->id, b = context.blades[1]->id;
  BenchReader reader(
      pair.is_null() ? Json::object() : pair, "pair",
      {"gauge_radius", "trim_radius", "level_mass", "level_radius", "level_on", "level_least_mass",
       "tolerance_angle", "tolerance_length", "tolerance_mass", "tolerance_camber"});
  bench::PairOptions options;
  options.tolerances = read_tolerances(reader);
  options.gauge_radius_m = reader.length("gauge_radius", bench_radius_m).value_or(0);
  options.trim_radius_m = reader.length("trim_radius", bench_radius_m).value_or(0);
  read_level_test(reader, a, b, options, context);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  auto found =
      bench::pair_figures(*context.blades[0], *context.blades[1], context.instruments, options);
  if (!found) {
    BenchNames names = blade_names();
    names.insert(names.end(), {{"a", "blades[1]"}, {"b", "blades[2]"}, {"options", "pair"}});
    context.add(bench_fields(found.error(), "", names));
    return nullptr;
  }
  context.pair = std::move(*found);
  return pair_json({*context.pair, options.tolerances, a, b, context});
}

}  // namespace propwright::answer
