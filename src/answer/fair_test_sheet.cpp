// The sheet of a fair test, from the verdict's document.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "propwright/answer/flights_answer.h"
#include "verdict_parts.h"

namespace propwright::answer {
namespace {

constexpr int usual_flights_each = 4;

std::optional<double> number_or_none(const Json& value) {
  return value.is_number() ? std::optional(value.get<double>()) : std::nullopt;
}

}  // namespace

sheet::FairTest fair_test_sheet(const Json& answer, int each) {
  const Json& test = answer["fair_test"];
  sheet::FairTest page{.model = test["model"].get<std::string>(),
                       .hall = test["hall"].get<std::string>(),
                       .motor = test["motor"].get<std::string>(),
                       .wind_turns = number_or_none(test["wind_turns"]),
                       .launch_turns = number_or_none(test["launch_turns"]),
                       .hook_up_torque_Nm = number_or_none(test["hook_up_torque_Nm"]),
                       .learned = test["learned"].get<bool>(),
                       .winder_ratio = test["winder_ratio"].get<double>(),
                       .sentence = answer["sentence"].get<std::string>(),
                       .propellers = {},
                       .order = {}};
  // Said once, where it is printed.
  if (page.sentence.find("±") != std::string::npos) {
    page.sentence += " ± is one standard error.";
  }
  std::vector<std::string> letters;
  letters.reserve(answer["propellers"].size());
  page.propellers.reserve(answer["propellers"].size());
  for (const Json& p : answer["propellers"]) {
    letters.push_back(p["letter"].get<std::string>());
    page.propellers.push_back({letters.back(), p["name"].get<std::string>(),
                               p["setting"].get<std::string>(), number_or_none(p["mass_kg"]),
                               number_or_none(p["ballast_kg"])});
  }
  if (each == 0) page.order = answer["order"].get<std::vector<std::string>>();
  if (page.order.empty()) {
    page.order = fair_order(answer["shares"], letters, each > 0 ? each : usual_flights_each);
  }
  return page;
}

}  // namespace propwright::answer
