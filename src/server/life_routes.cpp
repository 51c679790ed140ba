// The life of a propeller: what happened to it, its photos, and the label on its box.
#include <algorithm>
#include <chrono>
#include <ctime>
#include <nlohmann/json.hpp>

#include "propwright/answer/life.h"
#include "propwright/sheet/propeller_labels.h"
#include "qr.h"
#include "record_json.h"

namespace propwright::server {
namespace {

using workshop::RecordKind;

constexpr std::size_t most_labels = 100;

/// Today by this machine, "2026-11-25", where the asker does not say.
std::string this_day() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm local{};
  localtime_r(&now, &local);
  char text[11] = {};
  std::strftime(text, sizeof text, "%Y-%m-%d", &local);
  return text;
}

/// The propeller of the address with all that is its own; nothing, and the response made, where
/// there is none.
std::optional<answer::LifeRecords> life_of(App& app, const std::string& id, Response& response) {
  auto life = answer::read_life(app.workshop, id);
  if (!life) {
    refuse(response, life.error());
    return std::nullopt;
  }
  if (!*life) {
    not_found(response);
    return std::nullopt;
  }
  return **std::move(life);
}

void life(App& app, const Request& request, Response& response) {
  const auto records = life_of(app, request.matches[1], response);
  if (!records) return;
  const std::string day = request.has_param("day") ? request.get_param_value("day") : this_day();
  send_json(response, 200, answer::life_document(*records, day));
}

/// Keeps what was read, and answers with the life as it now stands.
void keep(App& app, RecordKind kind, const base::Expected<workshop::Content>& content,
          const std::string& propeller, Response& response) {
  if (!content) return refuse(response, content.error());
  const auto made = app.workshop.create(kind, *content);
  if (!made) return refuse(response, made.error());
  const auto records = life_of(app, propeller, response);
  if (records) send_json(response, 201, answer::life_document(*records, this_day()));
}

void add_event(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"kind", "time", "words"});
  if (!body) return;
  const auto records = life_of(app, request.matches[1], response);
  if (!records) return;
  keep(app, RecordKind::event, answer::life_event(*records, *body), request.matches[1], response);
}

void add_photo(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"type", "data", "words", "time", "event_id"});
  if (!body) return;
  const std::string id = request.matches[1];
  if (!life_of(app, id, response)) return;
  keep(app, RecordKind::photo, answer::life_photo(id, *body), id, response);
}

/// A photo of this propeller; nothing, and the response made, where there is none.
std::optional<workshop::Record> own_record(App& app, RecordKind kind, const Request& request,
                                           Response& response) {
  auto found = app.workshop.get(kind, request.matches[2]);
  if (!found) {
    refuse(response, found.error());
    return std::nullopt;
  }
  if (!*found || (*found)->content.links["propeller_id"] != request.matches[1].str()) {
    not_found(response);
    return std::nullopt;
  }
  return *std::move(found);
}

void photo(App& app, const Request& request, Response& response) {
  const auto record = own_record(app, RecordKind::photo, request, response);
  if (!record) return;
  auto bytes = answer::photo_bytes(*record);
  if (!bytes) return not_found(response);
  const Json section = Json::parse(record->content.section_json);
  std::string type = "image/jpeg";
  if (const auto table = section.find("photo"); table != section.end()) {
    type = table->value("type", type);
  }
  send(response, 200, *std::move(bytes), type);
}

void put_away(App& app, const Request& request, Response& response, RecordKind kind) {
  const auto revision = seen_revision(request, response);
  if (!revision) return;
  const auto record = own_record(app, kind, request, response);
  if (!record) return;
  const auto change = app.workshop.archive(kind, record->id, *revision);
  if (!change) return refuse(response, change.error());
  if (change->done == workshop::Done::stale) return refuse(response, 412, stale());
  const auto records = life_of(app, request.matches[1], response);
  if (records) send_json(response, 200, answer::life_document(*records, this_day()));
}

/// Where other devices reach the pages; else where this one asked.
std::string base_address(const App& app, const Request& request) {
  const std::string host = request.get_header_value("Host");
  const bool own =
      host.starts_with("127.") || host.starts_with("localhost") || host.starts_with("[");
  if (!own || app.lan_hosts.empty()) return app.scheme() + host;
  return app.scheme() + app.lan_hosts.front() + ":" + std::to_string(app.port);
}

sheet::PropellerLabel label_of(const answer::LifeRecords& life, const std::string& address) {
  const answer::LabelFacts facts = answer::label_facts(life);
  const std::string page = address + "/bench?part=history&propeller=" + facts.id;
  const QrSquares squares = qr_squares(page, true);
  return {facts.name,          facts.id,           facts.day,
          facts.mass_kg,       facts.diameter_m,   facts.pitch_m,
          facts.set_angle_rad, facts.set_radius_m, {squares.across, squares.dark}};
}

void labels(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"propellers", "paper", "units", "date"});
  if (!body) return;
  base::Problems problems;
  const std::string paper = text_member(*body, "paper", false, problems);
  const std::string units = text_member(*body, "units", false, problems);
  const std::string date = text_member(*body, "date", true, problems);
  const auto word = [&](const char* name, const std::string& value, const std::string& allowed,
                        bool known) {
    if (known) return;
    problems.push_back({.field = name,
                        .value = value,
                        .allowed = allowed,
                        .remedy = "use one of these words",
                        .message = "this word is not known here"});
  };
  word("paper", paper, "a4, letter", paper.empty() || paper == "a4" || paper == "letter");
  word("units", units, "metric, inch", units.empty() || units == "metric" || units == "inch");
  const auto list = body->find("propellers");
  const bool sound =
      list != body->end() && list->is_array() && !list->empty() && list->size() <= most_labels &&
      std::all_of(list->begin(), list->end(), [](const Json& id) { return id.is_string(); });
  if (!sound) {
    problems.push_back({.field = "propellers",
                        .allowed = "1 to 100 ids",
                        .remedy = "send the ids of the propellers",
                        .message = "there is no such list"});
  }
  if (!problems.empty()) return refuse_all(response, 422, problems);
  std::vector<sheet::PropellerLabel> all;
  all.reserve(list->size());
  for (const Json& id : *list) {
    const auto records = life_of(app, id.get<std::string>(), response);
    if (!records) return;
    all.push_back(label_of(*records, base_address(app, request)));
  }
  sheet::PacketOptions options;
  options.paper = paper == "letter" ? sheet::Paper::letter : sheet::Paper::a4;
  options.profile = units == "inch" ? units::Profile::inch : units::Profile::metric;
  options.date = date;
  auto pdf = sheet::propeller_labels_pdf(all, options);
  if (!pdf) return refuse(response, pdf.error());
  response.set_header("Content-Disposition", "attachment; filename=\"propeller-labels.pdf\"");
  send(response, 200, std::move(pdf->bytes), "application/pdf");
}

}  // namespace

void add_life_routes(httplib::Server& http, App& app) {
  const auto route = [&app](void (*answer)(App&, const Request&, Response&)) {
    return [&app, answer](const Request& request, Response& response) {
      answer(app, request, response);
    };
  };
  const std::string one = "/api/propellers/([A-Za-z0-9_-]+)", id = "/([A-Za-z0-9_-]+)";
  http.Get(one + "/life", route(life));
  http.Post(one + "/events", route(add_event));
  http.Post(one + "/photos", route(add_photo));
  http.Get(one + "/photos" + id, route(photo));
  http.Post(one + "/events" + id + "/archive", [&app](const Request& request, Response& response) {
    put_away(app, request, response, RecordKind::event);
  });
  http.Post(one + "/photos" + id + "/archive", [&app](const Request& request, Response& response) {
    put_away(app, request, response, RecordKind::photo);
  });
  http.Post("/api/labels", route(labels));
}

}  // namespace propwright::server
