// Weighings: several together, on a tare, in a design; wood in other air.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "propwright/base/constants.h"
#include "propwright/bench/weighing.h"

namespace propwright::answer {
namespace {

using bench::Figure;
using D = units::Dimension;

/// One part with its mass, from whichever way it was weighed.
struct WeighedPart {
  std::string part;
  int count = 1;
  Figure total_kg, each_kg;
};

struct WeighingsAnswer {
  std::vector<WeighedPart> parts;
  std::optional<double> residual_kg;
  Json covariance_kg2 = Json::array();
  std::optional<bench::ScaleCheckFigures> check;
  std::optional<bench::HumidityCorrection> air;
  std::vector<std::string> questions, sentences;
};

void take_together(const Json& row, const std::string& place, WeighingsAnswer& answer,
                   BenchContext& context) {
  BenchReader cells(row, place, {"part", "count", "reading", "zero", "repeats", "on_tare"});
  if (!cells.has("part") && !cells.has("reading")) return;
  bench::WeighedTogether weighing;
  const std::string part = cells.text("part", "part");
  weighing.parts = cells.count("count", 1, 10000).value_or(1);
  weighing.reading_kg = cells.needed("reading", D::mass, {0, 1});
  weighing.zero_kg = cells.mass("zero", {-1e-3, 1}).value_or(0);
  weighing.repeats = cells.count("repeats", 1, 1000).value_or(1);
  weighing.on_tare = cells.truth("on_tare").value_or(false);
  if (const auto wrong = cells.problems(); !wrong.empty()) return context.add(wrong);
  const auto figures = bench::weigh_together(weighing, context.instruments);
  if (!figures) {
    return context.add(
        bench_fields(figures.error(), place, {{"parts", "count"}, {"zero_kg", "zero"}}));
  }
  answer.parts.push_back({part, weighing.parts, figures->total_kg, figures->each_kg});
  for (const auto& text : messages_of(figures->questions)) {
    answer.questions.push_back(part + ": " + text);
  }
  answer.sentences.push_back(
      weighing.parts == 1 ? fmt::format("{}: {}.", part, context.doubtful_mass(figures->each_kg))
                          : fmt::format("{}: {:.2f} ± {:.2f} mg each, the mean of {}.", part,
                                        1e6 * figures->each_kg.value, 1e6 * figures->each_kg.sigma,
                                        weighing.parts));
}

/// Names in the order in which they first lay on the scale.
int index_of(std::vector<std::string>& names, const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found != names.end()) return static_cast<int>(found - names.begin());
  names.push_back(name);
  return static_cast<int>(names.size()) - 1;
}

struct DesignRow {
  std::vector<std::pair<int, int>> signs;  ///< part and +1 or -1
  double reading_kg = 0;
};

void take_design(BenchReader& reader, WeighingsAnswer& answer, BenchContext& context) {
  std::vector<std::string> names;
  std::vector<DesignRow> rows;
  base::Problems wrong;
  for (const auto& [row, place] : reader.tables("design")) {
    BenchReader cells(row, place, {"on", "off", "reading"});
    if (!cells.has("on") && !cells.has("reading")) continue;
    DesignRow weighing;
    for (const auto& [field, name] : cells.texts("on")) {
      weighing.signs.emplace_back(index_of(names, name), 1);
    }
    for (const auto& [field, name] : cells.texts("off")) {
      weighing.signs.emplace_back(index_of(names, name), -1);
    }
    weighing.reading_kg = cells.needed("reading", D::mass, {-1, 1});
    const auto more = cells.problems();
    wrong.insert(wrong.end(), more.begin(), more.end());
    rows.push_back(std::move(weighing));
  }
  if (!wrong.empty()) return context.add(wrong);
  if (rows.empty()) return;
  std::vector<bench::DesignWeighing> weighings;
  for (const DesignRow& row : rows) {
    bench::DesignWeighing weighing{std::vector<int>(names.size(), 0), row.reading_kg};
    for (const auto& [part, sign] : row.signs) {
      weighing.parts[static_cast<std::size_t>(part)] = sign;
    }
    weighings.push_back(std::move(weighing));
  }
  const auto figures =
      bench::weigh_design(static_cast<int>(names.size()), weighings, context.instruments);
  if (!figures) {
    return context.add(
        bench_fields(figures.error(), "weighings", {{"weighings", "design"}, {"parts", "on"}}));
  }
  for (std::size_t i = 0; i < names.size(); ++i) {
    const Figure& mass = figures->masses_kg[i];
    answer.parts.push_back({names[i], 1, mass, mass});
    answer.sentences.push_back(
        fmt::format("{}: {:.2f} ± {:.2f} mg.", names[i], 1e6 * mass.value, 1e6 * mass.sigma));
  }
  answer.covariance_kg2 = figures->covariance_kg2;
  if (figures->spare > 0) answer.residual_kg = figures->residual_rms_kg;
  for (const auto& text : messages_of(figures->questions)) answer.questions.push_back(text);
}

void take_check(BenchReader& reader, WeighingsAnswer& answer, BenchContext& context) {
  const auto known_kg = reader.mass("check_known", {1e-9, 1});
  const auto read_kg = reader.mass("check_read", {0, 1});
  if (reader.has("check_known") != reader.has("check_read")) {
    reader.wrong(reader.has("check_known") ? "check_read" : "check_known", "this is needed",
                 "tell what the known mass is and what the scale shows for it");
  }
  if (!known_kg || !read_kg) return;
  const auto check = bench::check_scale({*known_kg, *read_kg}, context.instruments);
  if (!check) {
    return context.add(bench_fields(check.error(), "weighings",
                                    {{"known_kg", "check_known"}, {"read_kg", "check_read"}}));
  }
  answer.check = *check;
  answer.sentences.push_back(check->sentence);
}

void take_air(BenchReader& reader, WeighingsAnswer& answer, BenchContext& context) {
  const auto then = reader.share("humidity", {0, 0.97});
  const double now = reader.share("to_humidity", {0, 0.97}).value_or(0.5);
  const BenchRange range{base::celsius_0_K - 10, base::celsius_0_K + 60};
  const double then_K =
      reader.quantity("temperature", D::temperature, range).value_or(base::celsius_0_K + 20);
  const double now_K = reader.quantity("to_temperature", D::temperature, range).value_or(then_K);
  const double wood = reader.share("wood_share").value_or(1);
  if (!then || !reader.problems().empty()) return;
  const auto air = bench::humidity_factor(then_K - base::celsius_0_K, *then,
                                          now_K - base::celsius_0_K, now, wood);
  if (!air) return context.add(bench_fields(air.error(), "weighings"));
  answer.air = *air;
  const double change = 100 * (air->factor.value - 1);
  answer.sentences.push_back(fmt::format(
      "At {:.0f} % humidity it weighs {:.1f} ± {:.1f} % {} than at {:.0f} %: the wood holds {:.1f} "
      "% water, and held {:.1f} %.",
      100 * now, std::abs(change), 100 * air->factor.sigma, change >= 0 ? "more" : "less",
      100 * *then, 100 * air->moisture_now, 100 * air->moisture_then));
}

Json weighed_list(const WeighingsAnswer& answer, std::optional<double> wanted,
                  const BenchContext& context) {
  Json list = Json::array();
  for (const WeighedPart& p : answer.parts) {
    Json count = nullptr;
    if (wanted && p.each_kg.value > 0) {
      const auto needed = bench::parts_for_share(p.each_kg.value, *wanted, context.instruments);
      if (needed) count = *needed;
    }
    const bool positive = p.each_kg.value > 0;
    list.push_back(
        {{"part", p.part},
         {"count", p.count},
         {"total_kg", p.total_kg.value},
         {"total_sigma_kg", p.total_kg.sigma},
         {"mass_kg", p.each_kg.value},
         {"sigma_kg", p.each_kg.sigma},
         {"relative_sigma", positive ? Json(p.each_kg.sigma / p.each_kg.value) : Json()},
         {"at_humidity_kg", answer.air ? Json(p.each_kg.value * answer.air->factor.value) : Json()},
         {"count_wanted", count}});
  }
  return list;
}

}  // namespace

Json bench_weighings(const Json& table, BenchContext& context) {
  BenchReader reader(table, "weighings",
                     {"together", "design", "check_known", "check_read", "wanted", "humidity",
                      "to_humidity", "temperature", "to_temperature", "wood_share"});
  WeighingsAnswer answer;
  for (const auto& [row, place] : reader.tables("together")) {
    take_together(row, place, answer, context);
  }
  take_design(reader, answer, context);
  take_check(reader, answer, context);
  take_air(reader, answer, context);
  const auto wanted = reader.share("wanted", {1e-5, 1});
  context.add(reader.problems());
  const auto& check = answer.check;
  const auto& air = answer.air;
  return {{"parts", weighed_list(answer, wanted, context)},
          {"residual_kg", number_or_null(answer.residual_kg)},
          {"covariance_kg2", answer.covariance_kg2},
          {"check_error_kg", check ? Json(check->error_kg.value) : Json()},
          {"check_error_sigma_kg", check ? Json(check->error_kg.sigma) : Json()},
          {"mass_factor", air ? Json(air->factor.value) : Json()},
          {"mass_factor_sigma", air ? Json(air->factor.sigma) : Json()},
          {"moisture_then", air ? Json(air->moisture_then) : Json()},
          {"moisture_now", air ? Json(air->moisture_now) : Json()},
          {"questions", answer.questions},
          {"sentences", answer.sentences}};
}

}  // namespace propwright::answer
