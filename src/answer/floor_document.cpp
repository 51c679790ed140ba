// A question about rubber taken apart, and its answer put together.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "floor_parts.h"
#include "propwright/answer/floor.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

constexpr double g_cm_Nm = 1e-5 * base::gravity_m_s2;
constexpr double oz_in_Nm = 0.45359237 / 16 * base::gravity_m_s2 * 0.0254;  // exact, international

Json floor_member(const Json& question, const char* name) {
  const auto found = question.find(name);
  return found == question.end() ? Json() : *found;
}

void check_floor_members(const Json& question, FloorContext& context) {
  const auto& known = rubber_members();
  for (const auto& [name, value] : question.items()) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    const std::string near = base::nearest_name(name, known);
    context.problems.push_back(
        {.field = name,
         .remedy = near.empty() ? "leave it out" : "did you mean " + near + "?",
         .message = "there is no such table about rubber"});
  }
}

void read_floor_units(const Json& word, FloorContext& context) {
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

}  // namespace

void FloorContext::add(const base::Problems& more) {
  problems.insert(problems.end(), more.begin(), more.end());
}

Json floor_torque(double torque_Nm) {
  return {{"torque_Nm", torque_Nm},
          {"torque_g_cm", torque_Nm / g_cm_Nm},
          {"torque_oz_in", torque_Nm / oz_in_Nm}};
}

std::string torque_words(double torque_Nm) {
  // Three digits that count, the noughts at the end too: 2.00 beside 1.98.
  const auto digits = [](double value) {
    const double size = std::abs(value);
    const int before = size > 0 ? static_cast<int>(std::floor(std::log10(size))) + 1 : 1;
    return fmt::format("{:.{}f}", value, std::max(0, 3 - before));
  };
  return fmt::format("{} mN·m ({} g·cm, {} in-oz)", digits(1e3 * torque_Nm),
                     digits(torque_Nm / g_cm_Nm), digits(torque_Nm / oz_in_Nm));
}

double read_floor_section(BenchReader& reader, double thickness_m) {
  if (reader.has("section")) {
    return reader.quantity("section", units::Dimension::area, floor_section_m2).value_or(0);
  }
  const auto width = reader.length("width", {1e-4, 0.05});
  const double thickness = reader.length("thickness", {2e-4, 3e-3}).value_or(thickness_m);
  const int strands = reader.count("strands", 1, 64).value_or(2);
  if (width) return *width * thickness * strands;
  if (reader.problems().empty()) {
    reader.wrong("section", "the section is not known",
                 "give the section of all strands, or width, thickness and strands");
  }
  return 0;
}

const std::vector<std::string>& rubber_members() {
  static const std::vector<std::string> members{"units", "batch",   "other", "breaking", "history",
                                                "strip", "partial", "meter", "winder"};
  return members;
}

Json rubber_document(const Json& question) {
  FloorContext context;
  Json answer = {{"problems", Json::array()}, {"units", ""}};
  if (!question.is_object()) {
    context.problems.push_back(
        {.remedy = "send an object with tables about rubber", .message = "this is no object"});
  } else {
    check_floor_members(question, context);
    read_floor_units(floor_member(question, "units"), context);
    const Json batch = floor_member(question, "batch"), other = floor_member(question, "other");
    if (!batch.is_null()) answer["batch"] = floor_batch(batch, other, context);
    if (batch.is_null() && !other.is_null()) {
      context.problems.push_back({.field = "other",
                                  .remedy = "give the first batch as \"batch\"",
                                  .message = "there is nothing to compare it with"});
    }
    // Breaking turns and history use the turns constant that the batch has found.
    using Part = Json (*)(const Json&, FloorContext&);
    const std::pair<const char*, Part> parts[] = {
        {"breaking", floor_breaking}, {"history", floor_history}, {"strip", floor_strip},
        {"partial", floor_partial},   {"meter", floor_meter},     {"winder", floor_winder}};
    for (const auto& [name, part] : parts) {
      const Json table = floor_member(question, name);
      if (!table.is_null()) answer[name] = part(table, context);
    }
  }
  answer["problems"] = problem_list(context.problems);
  answer["units"] = context.profile == units::Profile::inch ? "inch" : "metric";
  compact(answer);  // finds numbers that are not finite
  return answer;
}

}  // namespace propwright::answer
