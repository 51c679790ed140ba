#include "json_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "json.h"

namespace propwright::workshop {

base::Expected<Json> read_json(const std::string& text, int deepest) {
  bool too_deep = false;
  const auto watch = [&](int depth, Json::parse_event_t event, Json&) {
    using Event = Json::parse_event_t;
    const bool opens = event == Event::object_start || event == Event::array_start;
    too_deep = too_deep || (opens && depth >= deepest);
    return !too_deep;
  };
  try {
    Json json = Json::parse(text, watch);
    if (!too_deep) return json;
    return base::fail({.allowed = fmt::format("{} levels", deepest),
                       .remedy = "write it flatter",
                       .message = "the JSON is nested too deeply"});
  } catch (const Json::exception& error) {
    std::string reason = error.what();
    const auto end_of_tag = reason.find("] ");
    if (end_of_tag != reason.npos) reason.erase(0, end_of_tag + 2);
    const auto* parse_error = dynamic_cast<const Json::parse_error*>(&error);
    const std::size_t byte = parse_error == nullptr ? 0 : std::min(parse_error->byte, text.size());
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(byte);
    return base::fail({.line = 1 + static_cast<int>(std::count(text.begin(), end, '\n')),
                       .remedy = "send sound JSON",
                       .message = "this is no JSON: " + reason});
  }
}

namespace {

std::optional<Json> read_object(const std::string& text, const std::string& field,
                                base::Problems& problems) {
  if (text.size() > largest_json) {
    problems.push_back({.field = field,
                        .value = fmt::format("{} bytes", text.size()),
                        .allowed = fmt::format("up to {} bytes", largest_json),
                        .remedy = "shorten it",
                        .message = "this is too large"});
    return std::nullopt;
  }
  auto json = read_json(text, deepest_json);
  if (!json) {
    for (base::Problem problem : json.error()) {
      problem.field = field;
      problems.push_back(std::move(problem));
    }
    return std::nullopt;
  }
  if (json->is_object()) return std::move(*json);
  problems.push_back({.field = field,
                      .allowed = "a JSON object, {...}",
                      .remedy = "send an object",
                      .message = "this is no JSON object"});
  return std::nullopt;
}

}  // namespace

bool check_document(const Json& document, const std::string& field, base::Problems& problems) {
  const std::size_t before = problems.size();
  for (const auto& [key, member] : document.items()) {
    const std::string path = field + "." + key;
    if (key != "job" && key != "attachments") {
      problems.push_back({.field = path,
                          .allowed = "job, attachments",
                          .remedy = "leave it out",
                          .message = "a design document has no such member"});
    } else if (!member.is_object()) {
      problems.push_back({.field = path,
                          .allowed = "a JSON object, {...}",
                          .remedy = "send an object",
                          .message = "this is no JSON object"});
    }
  }
  if (!document.contains("job")) {
    problems.push_back({.field = field + ".job",
                        .allowed = "a JSON object, {...}",
                        .remedy = "add it",
                        .message = "a design document needs a job"});
  }
  return problems.size() == before;
}

std::optional<std::string> compact_object(const std::string& text, const std::string& field,
                                          base::Problems& problems) {
  const auto json = read_object(text, field, problems);
  return json ? std::optional(json->dump()) : std::nullopt;
}

std::optional<std::string> compact_document(const std::string& text, const std::string& field,
                                            base::Problems& problems) {
  const auto json = read_object(text, field, problems);
  if (!json || !check_document(*json, field, problems)) return std::nullopt;
  return json->dump();
}

}  // namespace propwright::workshop
