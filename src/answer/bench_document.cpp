// The bench's question taken apart, and its answer put together.
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "propwright/answer/bench.h"
#include "propwright/answer/document.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr double largest_relative_doubt = 10;

bool bench_given(const Json& question, const char* name) {
  const auto found = question.find(name);
  return found != question.end() && !found->is_null();
}

Json part_of(const Json& question, const char* name) {
  return bench_given(question, name) ? question[name] : Json();
}

void read_instruments(const Json& table, BenchContext& context) {
  BenchReader reader(table, "instruments",
                     {"scale", "scale_repeatability", "rule", "calliper", "protractor",
                      "protractor_repeatability"});
  bench::Instruments& use = context.instruments;
  const auto take = [](std::optional<double> value, double& into) { into = value.value_or(into); };
  take(reader.mass("scale", {1e-9, 1e-3}), use.scale_resolution_kg);
  take(reader.mass("scale_repeatability", {0, 1e-3}), use.scale_repeatability_kg);
  take(reader.length("rule", {1e-6, 0.01}), use.rule_resolution_m);
  take(reader.length("calliper", {1e-7, 1e-3}), use.micrometer_resolution_m);
  take(reader.angle("protractor", 1e-3, 10), use.angle_resolution_rad);
  take(reader.angle("protractor_repeatability", 0, 10), use.angle_repeatability_rad);
  context.add(reader.problems());
}

std::optional<double> relative_sigma_of(const Json& question, BenchContext& context) {
  if (!bench_given(question, "relative_sigma")) return std::nullopt;
  const Json& value = question["relative_sigma"];
  if (value.is_number() && value.get<double>() >= 0 &&
      value.get<double>() <= largest_relative_doubt) {
    return value.get<double>();
  }
  context.problems.push_back({.field = "relative_sigma",
                              .value = value.dump().substr(0, 80),
                              .allowed = "0 to 10",
                              .remedy = "send the number that the sensitivities gave",
                              .message = "this is no such number"});
  return std::nullopt;
}

/// A job that cannot be flown leaves the rest to be answered without it.
void read_job_part(const Json& question, BenchContext& context) {
  if (!bench_given(question, "job")) return;
  Json document = {{"job", question["job"]}};
  if (bench_given(question, "attachments")) document["attachments"] = question["attachments"];
  const auto broken = check_document(document);
  if (!broken.empty()) return context.add(broken);
  const Json attachments = document.value("attachments", Json::object());
  auto loaded = load_document(document["job"], attachments);
  if (!loaded) return context.add(loaded.error());
  auto nominal = predict::predict(loaded->job, loaded->attachments);
  if (!nominal) return context.add(in_file(nominal.error(), "job"));
  context.profile = loaded->profile();
  context.job =
      BenchJob{std::move(*loaded), std::move(*nominal), relative_sigma_of(question, context)};
}

void read_units(const Json& question, BenchContext& context) {
  const Json word = part_of(question, "units");
  if (word.is_null()) return;
  if (word.is_string() && word.get_ref<const std::string&>().empty()) return;
  if (word == "metric" || word == "inch") {
    context.profile = word == "inch" ? units::Profile::inch : units::Profile::metric;
    return;
  }
  context.problems.push_back({.field = "units",
                              .value = word.dump().substr(0, 80),
                              .allowed = "metric, inch",
                              .remedy = "use one of these words",
                              .message = "this word is not known here"});
}

void check_members(const Json& question, BenchContext& context) {
  const auto& known = bench_members();
  for (const auto& [name, value] : question.items()) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    const std::string near = base::nearest_name(name, known);
    context.problems.push_back(
        {.field = name,
         .remedy = near.empty() ? "leave it out" : "did you mean " + near + "?",
         .message = "there is no such table at the bench"});
  }
}

}  // namespace

const std::vector<std::string>& bench_members() {
  static const std::vector<std::string> members{
      "units",     "job",    "attachments", "relative_sigma", "instruments", "stock",
      "pick",      "blades", "pair",        "twist_test",     "tube",        "hub",
      "weighings", "ledger", "shaking",     "replacement"};
  return members;
}

Json bench_document(const Json& question) {
  BenchContext context;
  Json answer = {{"problems", Json::array()}, {"units", ""}};
  if (!question.is_object()) {
    context.problems.push_back(
        {.remedy = "send an object with the tables of the bench", .message = "this is no object"});
  } else {
    check_members(question, context);
    read_job_part(question, context);
    read_units(question, context);
    if (bench_given(question, "instruments")) read_instruments(question["instruments"], context);
    if (bench_given(question, "stock")) {
      answer["stock"] = bench_stock(question["stock"], part_of(question, "pick"), context);
    }
    if (bench_given(question, "blades")) {
      answer["blades"] = bench_blades(question["blades"], part_of(question, "pair"), context);
    }
    // The order matters: shaking uses what pair and hub have found, replacement the first blade.
    using Part = Json (*)(const Json&, BenchContext&);
    const std::pair<const char*, Part> parts[] = {
        {"twist_test", bench_twist},       {"tube", bench_tube},     {"hub", bench_hub},
        {"weighings", bench_weighings},    {"ledger", bench_ledger}, {"shaking", bench_shaking},
        {"replacement", bench_replacement}};
    for (const auto& [name, part] : parts) {
      if (bench_given(question, name)) answer[name] = part(question[name], context);
    }
  }
  answer["problems"] = problem_list(context.problems);
  answer["units"] = context.profile == units::Profile::inch ? "inch" : "metric";
  compact(answer);  // finds numbers that are not finite
  return answer;
}

}  // namespace propwright::answer
