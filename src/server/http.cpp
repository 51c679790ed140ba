#include "http.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"

namespace propwright::server {

void send(Response& response, int status, std::string text, const std::string& type) {
  response.status = status;
  if (text.empty()) return;
  // A content provider keeps the library from compressing an answer that travels no further than
  // this machine, which would take longer than to make it.
  const auto kept = std::make_shared<const std::string>(std::move(text));
  response.set_content_provider(
      kept->size(), type, [kept](std::size_t from, std::size_t length, httplib::DataSink& sink) {
        return sink.write(kept->data() + from, length);
      });
}

void send_json(Response& response, int status, const Json& json) {
  send(response, status, json.dump(-1, ' ', false, Json::error_handler_t::replace),
       "application/json");
}

void refuse_all(Response& response, int status, const base::Problems& problems) {
  send_json(response, status, {{"problems", answer::problem_list(problems)}});
}

void refuse(Response& response, int status, base::Problem problem) {
  refuse_all(response, status, base::Problems{std::move(problem)});
}

void refuse(Response& response, const base::Problems& problems) {
  const bool failed = std::any_of(problems.begin(), problems.end(), [](const auto& problem) {
    return problem.kind == base::Kind::resource_failed;
  });
  refuse_all(response, failed ? 503 : 422, problems);
}

void not_found(Response& response) {
  refuse(response, 404,
         {.remedy = "go back and look again", .message = "there is nothing of this name"});
}

std::optional<Json> body_json(const Request& request, Response& response, std::size_t largest) {
  if (request.body.size() > largest) {
    refuse(response, 413,
           {.allowed = fmt::format("{} MiB", largest >> 20),
            .remedy = "send less",
            .message = "the body is too large"});
    return std::nullopt;
  }
  auto json = answer::read_json(request.body);
  if (json) return std::move(*json);
  refuse_all(response, 400, json.error());
  return std::nullopt;
}

std::optional<Json> body_object(const Request& request, Response& response,
                                const std::vector<std::string>& known, std::size_t largest) {
  auto json = body_json(request, response, largest);
  if (!json) return std::nullopt;
  const std::string allowed = fmt::format("{}", fmt::join(known, ", "));
  if (!json->is_object()) {
    refuse(response, 422,
           {.allowed = "an object with " + allowed,
            .remedy = "send it so",
            .message = "the body is no object"});
    return std::nullopt;
  }
  base::Problems problems;
  for (const auto& [name, value] : json->items()) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    problems.push_back({.field = name,
                        .allowed = allowed,
                        .remedy = "leave it out",
                        .message = "no member has this name here"});
  }
  if (problems.empty()) return json;
  refuse_all(response, 422, problems);
  return std::nullopt;
}

}  // namespace propwright::server
