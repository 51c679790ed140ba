#include "propwright/answer/json_text.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace propwright::answer {
namespace {

void require_finite(const Json& json, const std::string& path) {
  if (json.is_number_float() && !std::isfinite(json.get<double>())) {
    throw std::logic_error("the answer has a number that is not finite: " + path);
  }
  if (json.is_object()) {
    for (const auto& [key, member] : json.items()) {
      require_finite(member, std::string(path).append(".").append(key));
    }
  } else if (json.is_array()) {
    for (const Json& member : json) require_finite(member, path + "[]");
  }
}

}  // namespace

std::string document(const Json& json) {
  require_finite(json, "");
  // File names may hold any bytes; what is no UTF-8 is replaced rather than refused.
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string compact(const Json& json) {
  require_finite(json, "");
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json problem_json(const base::Problem& problem) {
  return {
      {"file", problem.file},       {"line", problem.line > 0 ? Json(problem.line) : Json(nullptr)},
      {"field", problem.field},     {"value", problem.value},
      {"allowed", problem.allowed}, {"remedy", problem.remedy},
      {"message", problem.message}};
}

Json problem_list(const base::Problems& problems) {
  Json list = Json::array();
  for (const base::Problem& problem : problems) list.push_back(problem_json(problem));
  return list;
}

base::Problems problems_of(const Json& list) {
  base::Problems problems;
  problems.reserve(list.size());
  for (const Json& p : list) {
    problems.push_back({.file = p["file"].get<std::string>(),
                        .line = p["line"].is_null() ? 0 : p["line"].get<int>(),
                        .field = p["field"].get<std::string>(),
                        .value = p["value"].get<std::string>(),
                        .allowed = p["allowed"].get<std::string>(),
                        .remedy = p["remedy"].get<std::string>(),
                        .message = p["message"].get<std::string>()});
  }
  return problems;
}

std::string problems_json(const base::Problems& problems) {
  return document({{"problems", problem_list(problems)}});
}

}  // namespace propwright::answer
