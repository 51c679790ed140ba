// A batch of several tested motors, and another one beside it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>

#include "bench_parts.h"
#include "floor_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

const BenchNames floor_test_names{{"section_m2", "section"},
                                  {"length_m", "length"},
                                  {"mass_kg", "mass"},
                                  {"breaking_turns", "breaking_turns"}};

struct FloorTest {
  rubber::Batch batch;
  rubber::TestMotor motor;
  std::optional<double> thickness_m;  ///< of the strip, where it was measured
};

std::optional<FloorTest> read_floor_test(const Json& row, const std::string& place,
                                         FloorContext& context) {
  BenchReader reader(row, place,
                     {"name", "csv", "section", "width", "thickness", "strands", "length", "mass",
                      "temperature", "breaking_turns"});
  rubber::TestMotor motor;
  motor.section_m2 = read_floor_section(reader);
  motor.length_m = reader.needed("length", D::length, floor_loop_m);
  motor.mass_kg = reader.needed("mass", D::mass, floor_rubber_kg);
  const auto temperature = reader.quantity("temperature", D::temperature, floor_temperature_K);
  const double breaking = reader.quantity("breaking_turns", D::ratio, floor_turns).value_or(0);
  const Json csv = reader.table("csv");
  if (!csv.is_string()) {
    reader.wrong("csv", "there is no test",
                 "give the rows turns,torque_winding_Nm,torque_unwinding_Nm");
  }
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return std::nullopt;
  }
  auto batch = rubber::batch_from_test(csv.get<std::string>(), motor, place + ".csv", breaking);
  if (!batch) {
    base::Problems problems = batch.error();
    for (base::Problem& problem : problems) {
      const bool of_motor =
          std::any_of(floor_test_names.begin(), floor_test_names.end(),
                      [&](const auto& name) { return name.first == problem.field; });
      // What is wrong in the rows keeps its line; what is wrong with the motor names its field.
      if (of_motor) {
        problem = bench_fields({problem}, place, floor_test_names).front();
        problem.file.clear();
      }
    }
    context.add(problems);
    return std::nullopt;
  }
  if (temperature) batch->test_temperature_K = *temperature;
  return FloorTest{*batch, motor, reader.length("thickness", {2e-4, 3e-3})};
}

struct FloorBatch {
  std::string name;
  std::vector<std::string> test_names;
  std::vector<rubber::Batch> tests;
  rubber::BatchOfTests all;
  rubber::TestMotor first;
  std::optional<double> thickness_m;  ///< the mean of what was measured
};

std::optional<FloorBatch> read_floor_batch(const Json& table, const std::string& place,
                                           FloorContext& context) {
  BenchReader reader(table, place, {"name", "tests"});
  FloorBatch batch;
  batch.name = reader.text("name", place);
  bool sound = true;
  const auto rows = reader.tables("tests");
  std::vector<double> thicknesses_m;
  thicknesses_m.reserve(rows.size());
  for (const auto& [row, row_place] : rows) {
    const auto test = read_floor_test(row, row_place, context);
    sound = sound && test.has_value();
    if (!test) continue;
    if (batch.tests.empty()) batch.first = test->motor;
    batch.tests.push_back(test->batch);
    if (test->thickness_m) thicknesses_m.push_back(*test->thickness_m);
    const bool named = row.is_object() && row.contains("name") && row["name"].is_string();
    batch.test_names.push_back(named ? row["name"].get<std::string>().substr(0, 200)
                                     : fmt::format("motor {}", batch.tests.size()));
  }
  if (rows.empty()) reader.wrong("tests", "there is no test yet", "give the test of one motor");
  context.add(reader.problems());
  if (!sound || batch.tests.empty()) return std::nullopt;
  auto all = rubber::batch_of_tests(batch.tests);
  if (!all) {
    context.add(bench_fields(all.error(), place));
    return std::nullopt;
  }
  batch.all = std::move(*all);
  if (!thicknesses_m.empty()) {
    batch.thickness_m = std::accumulate(thicknesses_m.begin(), thicknesses_m.end(), 0.0) /
                        static_cast<double>(thicknesses_m.size());
  }
  return batch;
}

Json spread_json(const rubber::Spread& spread) {
  return {
      {"mean", spread.mean}, {"scatter", spread.scatter}, {"interval", {spread.low, spread.high}}};
}

Json floor_tests_json(const FloorBatch& batch) {
  Json list = Json::array();
  for (std::size_t i = 0; i < batch.tests.size(); ++i) {
    const rubber::Batch& test = batch.tests[i];
    Json rows = Json::array();
    for (const rubber::CurvePoint& point : batch.all.motors[i]) {
      rows.push_back({{"x", point.x}, {"q", point.q}, {"q_winding", point.q_winding}});
    }
    list.push_back({{"name", batch.test_names[i]},
                    {"energy_out_J_per_kg", test.energy_J_per_kg},
                    {"returned_over_stored", test.returned_over_stored},
                    {"turns_constant", test.turns_constant},
                    {"torque_constant_Pa", test.torque_constant_Pa},
                    {"density_kg_m3", test.density_kg_m3},
                    {"temperature_K", test.test_temperature_K},
                    {"rows", std::move(rows)},
                    {"notes", test.notes}});
  }
  return list;
}

Json floor_curve_json(const rubber::BatchOfTests& all) {
  Json curve = Json::array();
  for (const rubber::CurvePoint& point : all.curve) {
    curve.push_back({{"x", point.x},
                     {"q", point.q},
                     {"q_scatter", point.q_scatter},
                     {"q_winding", point.q_winding},
                     {"q_winding_scatter", point.q_winding_scatter}});
  }
  return curve;
}

std::string floor_batch_sentence(const FloorBatch& batch) {
  const auto& e = batch.all.energy_J_per_kg;
  const std::string motors = e.motors == 1 ? "one motor" : fmt::format("{} motors", e.motors);
  if (e.motors == 1) {
    return fmt::format("{}: {:.2f} kJ/kg from {}, turns constant {:.2f}.", batch.name,
                       1e-3 * e.mean, motors, batch.all.turns_constant.mean);
  }
  return fmt::format(
      "{}: {:.2f} kJ/kg from {}, which differ by {:.1f} % in energy and {:.1f} % in breaking "
      "turns; "
      "turns constant {:.2f}.",
      batch.name, 1e-3 * e.mean, motors, 100 * e.scatter / e.mean,
      100 * batch.all.turns_constant.scatter / batch.all.turns_constant.mean,
      batch.all.turns_constant.mean);
}

/// The mean of the batch as the one test that a job's table of the rubber takes.
Json as_test_json(const FloorBatch& batch) {
  const auto text = [](double si, D dimension) {
    return units::to_exact_text(si, dimension, units::Profile::metric);
  };
  const rubber::MeanTest test =
      rubber::mean_test(batch.all.mean, batch.first.section_m2, batch.first.length_m);
  return {{"csv", test.csv},
          {"section", text(test.motor.section_m2, D::area)},
          {"length", text(test.motor.length_m, D::length)},
          {"mass", text(test.motor.mass_kg, D::mass)},
          {"temperature", text(batch.all.mean.test_temperature_K, D::temperature)}};
}

Json floor_batch_json(const FloorBatch& batch) {
  return {{"name", batch.name},
          {"motors", batch.all.energy_J_per_kg.motors},
          {"energy_out_J_per_kg", spread_json(batch.all.energy_J_per_kg)},
          {"returned_over_stored", spread_json(batch.all.returned_over_stored)},
          {"turns_constant", spread_json(batch.all.turns_constant)},
          {"torque_constant_Pa", spread_json(batch.all.torque_constant_Pa)},
          {"density_kg_m3", spread_json(batch.all.density_kg_m3)},
          {"strip_thickness_m", number_or_null(batch.thickness_m)},
          {"temperature_K", batch.all.mean.test_temperature_K},
          {"tests", floor_tests_json(batch)},
          {"curve", floor_curve_json(batch.all)},
          {"as_test", as_test_json(batch)},
          {"notes", batch.all.notes},
          {"sentences", {floor_batch_sentence(batch)}}};
}

const char* floor_difference(rubber::Difference difference) {
  switch (difference) {
    case rubber::Difference::clear:
      return "clear";
    case rubber::Difference::not_seen:
      return "not_seen";
    case rubber::Difference::unknown:
      break;
  }
  return "unknown";
}

std::string floor_comparison_sentence(const FloorBatch& a, const FloorBatch& b,
                                      const rubber::FigureComparison& energy) {
  const double percent = 100 * (energy.ratio - 1);
  const std::string more = fmt::format("{} gives {:.1f} % {} energy than {}", b.name,
                                       std::abs(percent), percent < 0 ? "less" : "more", a.name);
  if (energy.difference == rubber::Difference::unknown) {
    return more + "; with fewer than two motors of each nobody can say whether that is luck.";
  }
  const std::string from =
      fmt::format("{:.1f} to {:.1f} %", 100 * (energy.low - 1), 100 * (energy.high - 1));
  return energy.difference == rubber::Difference::clear
             ? more + ", " + from + " at 90 %."
             : more + ", but from " + from + " is possible: no difference is seen.";
}

Json floor_comparison(const FloorBatch& a, const FloorBatch& b) {
  const auto figures = rubber::compare_batches(a.all, b.all);
  Json list = Json::array();
  for (const rubber::FigureComparison& figure : figures) {
    list.push_back({{"figure", figure.name},
                    {"ratio", figure.ratio},
                    {"interval", {figure.low, figure.high}},
                    {"difference", floor_difference(figure.difference)}});
  }
  Json sentences{floor_comparison_sentence(a, b, figures.front())};
  const double here_K = a.all.mean.test_temperature_K, there_K = b.all.mean.test_temperature_K;
  if (std::abs(here_K - there_K) > 0.05) {
    sentences.push_back(
        fmt::format("{} was tested at {:.1f}\u00a0°C and is brought to the {:.1f}\u00a0°C of {} by "
                    "{:.2f}\u00a0% "
                    "per degree.",
                    b.name, there_K - base::celsius_0_K, here_K - base::celsius_0_K, a.name,
                    100 * b.all.mean.temperature_coefficient_per_K));
  }
  return {{"figures", list}, {"sentences", sentences}};
}

}  // namespace

Json floor_batch(const Json& table, const Json& other, FloorContext& context) {
  const auto batch = read_floor_batch(table, "batch", context);
  std::optional<FloorBatch> second;
  if (!other.is_null()) second = read_floor_batch(other, "other", context);
  if (!batch) return nullptr;
  context.turns_constant = batch->all.turns_constant.mean;
  context.thickness_m = batch->thickness_m;
  context.density_kg_m3 = batch->all.density_kg_m3.mean;
  Json answer = floor_batch_json(*batch);
  answer["other"] = second ? floor_batch_json(*second) : Json();
  answer["comparison"] = second ? floor_comparison(*batch, *second) : Json();
  return answer;
}

}  // namespace propwright::answer
