// Propeller designs and their versions.
#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "record_json.h"

namespace propwright::server {
namespace {

using DesignChange = base::Expected<workshop::Change<workshop::Design>>;

constexpr const char* id_pattern = "([A-Za-z0-9_-]+)";

std::string name_in(const Json& document, const char* section) {
  const Json name =
      document.value(Json::json_pointer(std::string("/job/") + section + "/name"), Json());
  return name.is_string() ? name.get<std::string>() : "";
}

std::optional<workshop::DesignContent> read_content(const Request& request, Response& response) {
  const auto body = body_object(request, response, {"name", "document", "note"});
  if (!body) return std::nullopt;
  base::Problems problems;
  const std::string name = text_member(*body, "name", true, problems);
  const std::string note = text_member(*body, "note", false, problems);
  const Json document = body->contains("document") ? body->at("document") : Json();
  for (const auto& problem : answer::check_document(document, "document.")) {
    problems.push_back(problem);
  }
  if (document.is_object()) {
    for (const auto& [member, value] : document.items()) {
      if (member == "job" || member == "attachments") continue;
      problems.push_back({.field = "document." + member,
                          .allowed = "job, attachments",
                          .remedy = "leave it out",
                          .message = "no member has this name here"});
    }
  }
  if (problems.empty()) return design_content(name, document, note);
  refuse_all(response, 422, problems);
  return std::nullopt;
}

void send_design(Response& response, int status, const workshop::Design& design) {
  response.set_header("ETag", etag(design.row.revision));
  if (status == 201) response.set_header("Location", "/api/designs/" + design.row.id);
  send_json(response, status, design_json(design));
}

void send_change(Response& response, const DesignChange& change) {
  if (!change) return refuse(response, change.error());
  if (change->done == workshop::Done::absent) return not_found(response);
  response.set_header("ETag", etag(change->present.row.revision));
  Json json = design_json(change->present);
  if (change->done == workshop::Done::written) {
    json["new_version"] = change->new_version;
    return send_json(response, 200, json);
  }
  send_json(response, 412,
            {{"problems", answer::problem_list({stale()})}, {"present", std::move(json)}});
}

void list(App& app, const Request& request, Response& response) {
  const auto query = list_query(request, response);
  if (!query) return;
  const auto page = app.workshop.list_designs(*query);
  if (!page) return refuse(response, page.error());
  Json items = Json::array();
  for (const auto& row : page->items) items.push_back(design_row_json(row));
  send_json(response, 200, {{"total", page->total}, {"items", items}});
}

void create(App& app, const Request& request, Response& response) {
  const auto content = read_content(request, response);
  if (!content) return;
  const auto made = app.workshop.create_design(*content);
  if (!made) return refuse(response, made.error());
  send_design(response, 201, *made);
}

void get(App& app, const Request& request, Response& response) {
  const auto found = app.workshop.get_design(request.matches[1]);
  if (!found) return refuse(response, found.error());
  if (!*found) return not_found(response);
  send_design(response, 200, **found);
}

void save(App& app, const Request& request, Response& response) {
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const auto content = read_content(request, response);
  if (!content) return;
  send_change(response, app.workshop.save_design(request.matches[1], *revision, *content));
}

void add_version(App& app, const Request& request, Response& response) {
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const auto content = read_content(request, response);
  if (!content) return;
  send_change(response, app.workshop.add_version(request.matches[1], *revision, *content));
}

void archive(App& app, const Request& request, Response& response) {
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const std::string id = request.matches[1];
  send_change(response, request.matches[2] == "archive"
                            ? app.workshop.archive_design(id, *revision)
                            : app.workshop.restore_design(id, *revision));
}

/// A version number from 1; 0 for what is none.
int version_in(const Json& number) {
  if (!number.is_number_integer()) return 0;
  const auto value = number.get<std::int64_t>();
  return value >= 1 && value <= 1'000'000 ? static_cast<int>(value) : 0;
}

void version(App& app, const Request& request, Response& response) {
  const std::string digits = request.matches[2];
  const int number = digits.size() <= 6 ? std::stoi(digits) : 0;
  const auto found = app.workshop.get_version(request.matches[1], number);
  if (!found) return refuse(response, found.error());
  if (!*found) return not_found(response);
  Json json = version_json((*found)->version);
  json["document"] = Json::parse((*found)->document_json);
  send_json(response, 200, json);
}

void built(App& app, const Request& request, Response& response) {
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const auto body = body_object(request, response, {"version"});
  if (!body) return;
  const int number = body->contains("version") ? version_in(body->at("version")) : 0;
  if (number == 0) {
    return refuse(response, 422,
                  {.field = "version",
                   .allowed = "the number of a version, from 1",
                   .remedy = "send it",
                   .message = "this is no version"});
  }
  send_change(response, app.workshop.mark_built(request.matches[1], *revision, number));
}

void duplicate(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"name"});
  if (!body) return;
  base::Problems problems;
  const std::string name = text_member(*body, "name", true, problems);
  if (!problems.empty()) return refuse_all(response, 422, problems);
  const auto made = app.workshop.duplicate_design(request.matches[1], name);
  if (!made) return refuse(response, made.error());
  if (!*made) return not_found(response);
  send_design(response, 201, **made);
}

}  // namespace

workshop::DesignContent design_content(const std::string& name, const Json& document,
                                       const std::string& note) {
  workshop::DesignContent content{
      .name = name, .document_json = document.dump(), .note = note, .summary = {}};
  content.summary.hall_name = name_in(document, "hall");
  content.summary.model_name = name_in(document, "model");
  const Json attachments =
      document.contains("attachments") ? document.at("attachments") : Json::object();
  const auto loaded = answer::load_document(document.at("job"), attachments);
  if (!loaded) return content;
  content.summary.diameter_m = loaded->job.propeller.diameter_m;
  const auto nominal = predict::predict(loaded->job, loaded->attachments);
  if (!nominal) return content;
  content.summary.duration_s = nominal->flight.duration_s;
  content.summary.sigma_s = predict::sensitivities(loaded->job, *nominal).sigma_s;
  return content;
}

void add_design_routes(httplib::Server& http, App& app) {
  const std::string all = "/api/designs", one = all + "/" + id_pattern;
  const auto route = [&app](void (*answer)(App&, const Request&, Response&)) {
    return [&app, answer](const Request& request, Response& response) {
      answer(app, request, response);
    };
  };
  http.Get(all, route(list));
  http.Post(all, route(create));
  http.Get(one, route(get));
  http.Put(one, route(save));
  http.Post(one + "/(archive|restore)", route(archive));
  http.Post(one + "/versions", route(add_version));
  http.Get(one + "/versions/([0-9]+)", route(version));
  http.Post(one + "/built", route(built));
  http.Post(one + "/duplicate", route(duplicate));
}

}  // namespace propwright::server
