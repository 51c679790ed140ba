// Halls, models, rubber batches, motors, the form shelf, the bench, and the floor.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "propwright/answer/shelf.h"
#include "record_json.h"

namespace propwright::server {
namespace {

using workshop::RecordKind;

// The kinds that the pages have so far.
constexpr const char* tables =
    "(halls|models|rubbers|motors|forms|cylinders|"
    "rigs|stocks|batches|spars|blades|hubs|propellers|weights|meters|sessions)";
constexpr const char* id_pattern = "([A-Za-z0-9_-]+)";

RecordKind kind_of(const Request& request) {
  return workshop::kind_of(request.matches[1].str()).value();
}

/// Which tables each kind may hold: of the job document, of the shelf, or of the bench.
std::vector<std::string> sections_of(RecordKind kind) {
  switch (kind) {
    case RecordKind::hall:
      return {"hall", "air"};
    case RecordKind::model:
      return {"model", "rules"};
    case RecordKind::rubber:
      return {"rubber", "batch", "breaking"};
    case RecordKind::form:
      return {"form"};
    case RecordKind::cylinder:
      return {"cylinder"};
    case RecordKind::rig:
      return {"rig"};
    case RecordKind::stock:
      return {"stock"};
    case RecordKind::batch:
      return {"batch"};
    case RecordKind::spar:
      return {"spar"};
    case RecordKind::blade:
      return {"blade"};
    case RecordKind::hub:
      return {"hub"};
    case RecordKind::propeller:
      return {"propeller"};
    case RecordKind::weight:
      return {"ledger"};
    case RecordKind::meter:
      return {"meter"};
    case RecordKind::session:
      return {"session"};
    default:
      break;
  }
  return {"motor", "launch", "history"};
}

std::optional<std::map<std::string, std::string>> links_of(const Json& body,
                                                           base::Problems& problems) {
  std::map<std::string, std::string> links;
  const auto found = body.find("links");
  if (found == body.end()) return links;
  const bool sound =
      found->is_object() &&
      std::all_of(found->begin(), found->end(), [](const Json& id) { return id.is_string(); });
  if (!sound) {
    problems.push_back(
        {.field = "links", .remedy = "send an object of ids", .message = "these are no links"});
    return std::nullopt;
  }
  for (const auto& [name, id] : found->items()) links[name] = id.get<std::string>();
  return links;
}

void check_section(const Json& section, RecordKind kind, base::Problems& problems) {
  const auto known = sections_of(kind);
  if (!section.is_object()) {
    problems.push_back({.field = "section",
                        .remedy = "send an object with the tables of the job",
                        .message = "the section is wanting or no object"});
    return;
  }
  for (const auto& [name, table] : section.items()) {
    const bool belongs = std::find(known.begin(), known.end(), name) != known.end();
    if (belongs && table.is_object()) continue;
    problems.push_back(
        {.field = "section." + name,
         .remedy = belongs ? "send an object" : "leave it out",
         .message = belongs ? "this is no table" : "this table belongs to another record"});
  }
  if (!answer::on_shelf(kind)) return;
  const auto wrong = answer::check_shelf_section(kind, section);
  problems.insert(problems.end(), wrong.begin(), wrong.end());
}

std::optional<workshop::Content> read_content(const Request& request, Response& response) {
  const auto body = body_object(request, response, {"name", "section", "curve_csv", "links"});
  if (!body) return std::nullopt;
  base::Problems problems;
  workshop::Content content;
  content.name = text_member(*body, "name", true, problems);
  content.attached = text_member(*body, "curve_csv", false, problems);
  const Json section = body->contains("section") ? body->at("section") : Json();
  check_section(section, kind_of(request), problems);
  if (auto links = links_of(*body, problems)) content.links = std::move(*links);
  if (problems.empty()) {
    content.section_json = section.dump();
    return content;
  }
  refuse_all(response, 422, problems);
  return std::nullopt;
}

void send_record(Response& response, int status, const workshop::Record& record) {
  response.set_header("ETag", etag(record.revision));
  send_json(response, status, record_json(record));
}

void send_change(Response& response,
                 const base::Expected<workshop::Change<workshop::Record>>& change) {
  if (!change) return refuse(response, change.error());
  if (change->done == workshop::Done::absent) return not_found(response);
  if (change->done == workshop::Done::written) return send_record(response, 200, change->present);
  response.set_header("ETag", etag(change->present.revision));
  send_json(
      response, 412,
      {{"problems", answer::problem_list({stale()})}, {"present", record_json(change->present)}});
}

/// The cylinder of an address that came with the program.
const workshop::Record* built_in(const Request& request) {
  if (kind_of(request) != RecordKind::cylinder) return nullptr;
  const auto& all = answer::built_in_cylinders();
  const auto found = std::find_if(all.begin(), all.end(), [&](const workshop::Record& record) {
    return record.id == request.matches[2].str();
  });
  return found == all.end() ? nullptr : &*found;
}

/// True, with the response made, for what came with the program.
bool stands_fast(const Request& request, Response& response) {
  if (built_in(request) == nullptr) return false;
  refuse(response, 422,
         {.field = "id",
          .value = request.matches[2].str(),
          .remedy = "add a cylinder of your own",
          .message = "this cylinder came with the program and is not changed"});
  return true;
}

/// The cylinders that came with the program, after the last of the user's.
void add_built_in(const workshop::Query& query, workshop::Page<workshop::Record>& page) {
  if (query.shown == workshop::Shown::archived) return;
  for (const workshop::Record& record : answer::built_in_cylinders()) {
    if (!workshop::name_matches(query.text, record.content.name)) continue;
    const bool before = page.total < query.offset;
    ++page.total;
    if (before || static_cast<std::int64_t>(page.items.size()) >= query.limit) continue;
    page.items.push_back(record);
  }
}

void list(App& app, const Request& request, Response& response) {
  const auto query = list_query(request, response);
  if (!query) return;
  auto page = app.workshop.list(kind_of(request), *query);
  if (!page) return refuse(response, page.error());
  if (kind_of(request) == RecordKind::cylinder) add_built_in(*query, *page);
  Json items = Json::array();
  for (const auto& record : page->items) items.push_back(record_json(record));
  send_json(response, 200, {{"total", page->total}, {"items", items}});
}

void create(App& app, const Request& request, Response& response) {
  const auto content = read_content(request, response);
  if (!content) return;
  const auto made = app.workshop.create(kind_of(request), *content);
  if (!made) return refuse(response, made.error());
  response.set_header("Location", request.path + "/" + made->id);
  send_record(response, 201, *made);
}

void get(App& app, const Request& request, Response& response) {
  if (const workshop::Record* const record = built_in(request)) {
    return send_record(response, 200, *record);
  }
  const auto found = app.workshop.get(kind_of(request), request.matches[2]);
  if (!found) return refuse(response, found.error());
  if (!*found) return not_found(response);
  send_record(response, 200, **found);
}

void save(App& app, const Request& request, Response& response) {
  if (stands_fast(request, response)) return;
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const auto content = read_content(request, response);
  if (!content) return;
  send_change(response,
              app.workshop.update(kind_of(request), request.matches[2], *revision, *content));
}

void archive(App& app, const Request& request, Response& response) {
  if (stands_fast(request, response)) return;
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const std::string id = request.matches[2];
  send_change(response, request.matches[3] == "archive"
                            ? app.workshop.archive(kind_of(request), id, *revision)
                            : app.workshop.restore(kind_of(request), id, *revision));
}

}  // namespace

void add_record_routes(httplib::Server& http, App& app) {
  const std::string all = std::string("/api/") + tables, one = all + "/" + id_pattern;
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
}

}  // namespace propwright::server
