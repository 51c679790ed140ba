// The whole workshop out and in.
#include <nlohmann/json.hpp>

#include "app.h"
#include "http.h"
#include "propwright/answer/document.h"

namespace propwright::server {
namespace {

void export_all(App& app, const Request&, Response& response) {
  auto text = app.workshop.export_json();
  if (!text) return refuse(response, text.error());
  response.set_header("Content-Disposition", "attachment; filename=\"propwright-workshop.json\"");
  send(response, 200, std::move(*text), "application/json");
}

void import_all(App& app, const Request& request, Response& response) {
  // The workshop reads it with all its checks; here only what would not even be JSON is sent back.
  constexpr int deepest = 96;  // a record of 64 levels inside an export
  if (const auto json = answer::read_json(request.body, deepest); !json) {
    return refuse_all(response, 400, json.error());
  }
  const auto report = app.workshop.import_json(request.body, "import");
  if (!report) return refuse(response, report.error());
  Json added = Json::object();
  for (const auto& [table, count] : report->added) added[table] = count;
  send_json(response, 200, {{"added", added}, {"skipped", report->skipped}});
}

}  // namespace

void add_workshop_routes(httplib::Server& http, App& app) {
  http.Get("/api/workshop/export", [&app](const Request& request, Response& response) {
    export_all(app, request, response);
  });
  http.Post("/api/workshop/import", [&app](const Request& request, Response& response) {
    import_all(app, request, response);
  });
}

}  // namespace propwright::server
