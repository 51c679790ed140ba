// The spars of the bench: nothing is kept here, a batch comes in and its answer goes out.
#include <nlohmann/json.hpp>

#include "app.h"
#include "http.h"
#include "propwright/answer/spars.h"
#include "propwright/answer/spars_files.h"

namespace propwright::server {
namespace {

/// Problems of one spar are in the answer; only what is no batch at all is refused.
std::optional<answer::SparsAnswer> batch_answer(const Request& request, Response& response) {
  const auto body = body_object(request, response,
                                {"rig", "spars", "units", "size_sigma", "tolerance", "minimum_size",
                                 "keep_root", "step", "keep_pairs", "next"});
  if (!body) return std::nullopt;
  if (!body->contains("spars") || !body->at("spars").is_array()) {
    refuse(response, 422,
           {.field = "spars",
            .remedy = "send a list, which may be empty",
            .message = "there is no list of spars"});
    return std::nullopt;
  }
  return answer::spars_answer(answer::read_spars(*body));
}

void spars(const Request& request, Response& response) {
  const auto found = batch_answer(request, response);
  if (found) send_json(response, 200, answer::spars_json(*found));
}

void spars_export(const Request& request, Response& response) {
  const auto found = batch_answer(request, response);
  if (!found) return;
  response.set_header("Content-Disposition", "attachment; filename=\"spars.csv\"");
  send(response, 200, answer::spars_csv(*found), "text/csv");
}

void spars_import(const Request& request, Response& response) {
  const auto body = body_object(request, response, {"csv", "file", "units"});
  if (!body) return;
  for (const char* const name : {"csv", "file", "units"}) {
    const bool wanted = name == std::string_view("csv");
    if (body->contains(name) ? body->at(name).is_string() : !wanted) continue;
    return refuse(response, 422,
                  {.field = name, .remedy = "send it as text", .message = "this is no text"});
  }
  const auto profile =
      body->value("units", "metric") == "inch" ? units::Profile::inch : units::Profile::metric;
  const auto found =
      answer::spars_of_csv(body->at("csv").get<std::string>(), body->value("file", ""), profile);
  send_json(response, 200,
            {{"spars", found.spars}, {"problems", answer::problem_list(found.problems)}});
}

}  // namespace

void add_spar_routes(httplib::Server& http) {
  http.Post("/api/bench/spars", spars);
  http.Post("/api/bench/spars/csv", spars_import);
  http.Post("/api/bench/spars/export", spars_export);
}

}  // namespace propwright::server
