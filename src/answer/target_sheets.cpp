#include "propwright/answer/target_sheets.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "propwright/answer/bench.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

std::string at_radius(double radius_m, bool inch) {
  return inch ? fmt::format(" at {:.2f} in", radius_m / 0.0254)
              : fmt::format(" at {:.1f} mm", 1e3 * radius_m);
}

/// What is printed in no unit of the pages: "4611 mg·mm (4519 to 4703)".
std::string target_words(const Json& target, double scale, const char* unit, int decimals) {
  const auto number = [&](const char* key) {
    return fmt::format("{:.{}f}", scale * target[key].get<double>(), decimals);
  };
  return fmt::format("{} {} ({} to {})", number("value"), unit, number("low"), number("high"));
}

sheet::TargetRow target_row(const Json& target, bool inch) {
  using sheet::Measure;
  sheet::TargetRow row;
  row.what = target["name"].get<std::string>();
  if (target["radius_m"].is_number()) {
    row.what += at_radius(target["radius_m"].get<double>(), inch);
  }
  const std::string unit = target["unit"].get<std::string>();
  if (unit == "kg_m") {
    row.words = inch ? target_words(target, 1e6 / 0.0254, "mg·in", 1)
                     : target_words(target, 1e9, "mg·mm", 0);
    return row;
  }
  if (unit == "N_m2") {
    row.words = target_words(target, 1e6, "N·mm²", 0);
    return row;
  }
  const bool reading = row.what.find("reading") != std::string::npos;
  row.measure = unit == "kg"    ? Measure::part_mass
                : unit == "deg" ? Measure::angle
                : unit == "1"   ? Measure::percent
                : reading       ? Measure::stock
                                : Measure::length;
  const double scale = unit == "deg" ? base::degree_rad : 1;
  row.target = scale * target["value"].get<double>();
  row.tolerance = scale * (target["high"].get<double>() - target["low"].get<double>()) / 2;
  return row;
}

}  // namespace

base::Expected<sheet::BenchSheets> target_sheets(const Json& answer, const std::string& propeller) {
  const auto found = answer.find("replacement");
  if (found == answer.end() || found->is_null()) {
    base::Problems problems = problems_of(answer["problems"]);
    if (problems.empty()) {
      problems.push_back({.field = "replacement",
                          .remedy = "tell the blade that survived",
                          .message = "there is no replacement blade to print"});
    }
    return base::fail(std::move(problems));
  }
  const bool inch = answer["units"] == "inch";
  sheet::TargetCard card{.title = "A new blade to match the survivor"};
  for (const Json& sentence : (*found)["sentences"]) {
    card.words += (card.words.empty() ? "" : " ") + sentence.get<std::string>();
  }
  for (const Json& target : (*found)["targets"]) card.rows.push_back(target_row(target, inch));
  card.hazards = {sheet::Hazard::knife, sheet::Hazard::dust, sheet::Hazard::solvent};
  sheet::BenchSheets sheets;
  sheets.subject = "propeller";
  sheets.batch = propeller;
  sheets.targets.push_back(std::move(card));
  return sheets;
}

}  // namespace propwright::answer
