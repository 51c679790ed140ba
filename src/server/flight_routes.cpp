// The flight log: entries made anywhere come in, once each, and the whole log goes out.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "propwright/answer/flight_json.h"
#include "propwright/answer/flight_merge.h"
#include "record_json.h"

namespace propwright::server {
namespace {

using workshop::RecordKind;

constexpr std::size_t most_flights = 1000;

Json flight_row_json(const workshop::Record& record) {
  return {{"revision", record.revision},
          {"updated_at", record.updated_at},
          {"flight", answer::logged_flight_json(answer::flight_of(record))}};
}

Json merged_json(const answer::FlightEntry& entry, const answer::MergedFlight& merged) {
  const base::Problems asked = logbook::questions(entry.flight);
  Json json{{"id", entry.flight.id},
            {"done", merged.done},
            {"revision", merged.present.revision},
            {"questions", answer::problem_list(asked)}};
  for (const base::Problem& problem : merged.left_out)
    json["questions"].push_back(answer::problem_json(problem));
  if (std::string_view(merged.done) == "conflict")
    json["present"] = flight_row_json(merged.present);
  return json;
}

Json refused_json(const answer::FlightEntry& entry, const base::Problems& problems) {
  return {{"id", entry.flight.id},
          {"done", "refused"},
          {"revision", 0},
          {"questions", Json::array()},
          {"problems", answer::problem_list(problems)}};
}

/// The disc or the file: no flight is to blame, and all may be sent again.
bool is_failure(const base::Problems& problems) {
  return std::any_of(problems.begin(), problems.end(), [](const base::Problem& problem) {
    return problem.kind == base::Kind::resource_failed;
  });
}

/// Another file may be open at this address than the one that the flights were logged for.
bool is_for_this_workshop(App& app, const std::string& id, Response& response) {
  if (id.empty()) return true;
  const auto ours = app.workshop.id();
  if (!ours) {
    refuse(response, ours.error());
    return false;
  }
  if (id == *ours) return true;
  refuse(response, 409,
         {.field = "workshop_id",
          .value = id,
          .allowed = *ours,
          .remedy = "open that workshop, or bring the flights over on the Floor",
          .message = "these flights are for another workshop"});
  return false;
}

void send_merged(App& app, const std::vector<answer::FlightEntry>& entries,
                 const std::string& meter_id, Response& response) {
  Json items = Json::array();
  answer::FlightMerge merge(app.workshop, meter_id);
  for (const answer::FlightEntry& entry : entries) {
    const auto merged = merge.take(entry);
    if (!merged && is_failure(merged.error())) return refuse(response, merged.error());
    items.push_back(merged ? merged_json(entry, *merged) : refused_json(entry, merged.error()));
  }
  send_json(response, 200, {{"flights", items}});
}

/// The list of flights of a request's body; null once it is refused.
const Json* flights_of(const Json& body, Response& response) {
  const auto list = body.find("flights");
  if (list != body.end() && list->is_array() && list->size() <= most_flights) return &*list;
  refuse(response, 422,
         {.field = "flights",
          .allowed = "a list of up to 1000",
          .remedy = "send the flights in parts",
          .message = "there is no such list of flights"});
  return nullptr;
}

void merge_flights(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"flights", "meter_id", "workshop_id"});
  if (!body) return;
  const Json* list = flights_of(*body, response);
  if (!list) return;
  // All are read before the first is written: a list is taken as a whole or not at all.
  std::vector<answer::FlightEntry> entries;
  entries.reserve(list->size());
  base::Problems problems;
  for (std::size_t at = 0; at < list->size(); ++at) {
    auto entry = answer::read_flight_entry((*list)[at], "flights[" + std::to_string(at + 1) + "]");
    if (entry) {
      entries.push_back(*std::move(entry));
    } else {
      problems.insert(problems.end(), entry.error().begin(), entry.error().end());
    }
  }
  const std::string meter = text_member(*body, "meter_id", false, problems);
  const std::string workshop_id = text_member(*body, "workshop_id", false, problems);
  if (!problems.empty()) return refuse_all(response, 422, problems);
  if (is_for_this_workshop(app, workshop_id, response)) send_merged(app, entries, meter, response);
}

/// A flight as it was seen when it was withdrawn.
struct SeenFlight {
  std::string id;
  std::int64_t revision = 0;
};

base::Expected<SeenFlight> read_seen(const Json& item, const std::string& place) {
  const bool sound = item.is_object() && item.size() == 2 && item.contains("id") &&
                     item["id"].is_string() && item.contains("revision") &&
                     item["revision"].is_number_integer();
  if (sound) {
    return SeenFlight{item["id"].get<std::string>(), item["revision"].get<std::int64_t>()};
  }
  return base::fail({.field = place,
                     .allowed = R"({"id": "f1", "revision": 1})",
                     .remedy = "send the id and the revision that you saw",
                     .message = "this names no flight"});
}

/// "withdrawn", "changed" where it is another by now, "unknown".
base::Expected<Json> withdrawn_json(App& app, const SeenFlight& seen) {
  const auto answer = [&](const char* done, std::int64_t revision) {
    return Json{{"id", seen.id}, {"done", done}, {"revision", revision}};
  };
  const auto found = app.workshop.get(RecordKind::flight, seen.id);
  if (!found) return base::fail(found.error());
  if (!*found) return answer("unknown", 0);
  const workshop::Record& present = **found;
  if (!present.archived_at.empty()) return answer("withdrawn", present.revision);
  const auto change = app.workshop.archive(RecordKind::flight, seen.id, seen.revision);
  if (!change) return base::fail(change.error());
  const bool written = change->done == workshop::Done::written;
  return answer(written ? "withdrawn" : "changed", change->present.revision);
}

/// What an import brought, out of the log again with one press.
void withdraw_flights(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"flights", "workshop_id"});
  if (!body) return;
  const Json* list = flights_of(*body, response);
  if (!list) return;
  std::vector<SeenFlight> seen;
  seen.reserve(list->size());
  base::Problems problems;
  for (std::size_t at = 0; at < list->size(); ++at) {
    auto one = read_seen((*list)[at], "flights[" + std::to_string(at + 1) + "]");
    if (one) {
      seen.push_back(*std::move(one));
    } else {
      problems.insert(problems.end(), one.error().begin(), one.error().end());
    }
  }
  const std::string workshop_id = text_member(*body, "workshop_id", false, problems);
  if (!problems.empty()) return refuse_all(response, 422, problems);
  if (!is_for_this_workshop(app, workshop_id, response)) return;
  Json items = Json::array();
  for (const SeenFlight& each : seen) {
    const auto item = withdrawn_json(app, each);
    if (!item) return refuse(response, item.error());
    items.push_back(*item);
  }
  send_json(response, 200, {{"flights", items}});
}

void flight_list(App& app, const Request& request, Response& response) {
  const auto query = list_query(request, response);
  if (!query) return;
  const auto page = app.workshop.list(RecordKind::flight, *query);
  if (!page) return refuse(response, page.error());
  Json items = Json::array();
  for (const auto& record : page->items) items.push_back(flight_row_json(record));
  const auto id = app.workshop.id();
  if (!id) return refuse(response, id.error());
  send_json(response, 200, {{"total", page->total}, {"workshop_id", *id}, {"items", items}});
}

void flights_csv(App& app, const Request&, Response& response) {
  std::vector<logbook::Flight> flights;
  workshop::Query query{.sort = "name", .limit = 1000};
  for (;;) {
    const auto page = app.workshop.list(RecordKind::flight, query);
    if (!page) return refuse(response, page.error());
    flights.reserve(static_cast<std::size_t>(page->total));
    for (const auto& record : page->items) flights.push_back(answer::flight_of(record));
    query.offset += query.limit;
    if (query.offset >= page->total) break;
  }
  response.set_header("Content-Disposition", "attachment; filename=\"flights.csv\"");
  send(response, 200, logbook::write_csv(flights), "text/csv");
}

}  // namespace

void add_flight_routes(httplib::Server& http, App& app) {
  const auto route = [&app](void (*answer)(App&, const Request&, Response&)) {
    return [&app, answer](const Request& request, Response& response) {
      answer(app, request, response);
    };
  };
  http.Get("/api/flights", route(flight_list));
  http.Post("/api/flights/merge", route(merge_flights));
  http.Post("/api/flights/withdraw", route(withdraw_flights));
  http.Get("/api/flights/csv", route(flights_csv));
}

}  // namespace propwright::server
