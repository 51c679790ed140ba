// The flight log: entries made anywhere come in, once each, and the whole log goes out.
#include <nlohmann/json.hpp>

#include "propwright/answer/flight_json.h"
#include "record_json.h"

namespace propwright::server {
namespace {

using workshop::RecordKind;

constexpr std::size_t most_flights = 1000;

/// What cannot be read as a flight (written by another hand into the file) is one of which nothing
/// is known.
logbook::Flight logged_flight(const workshop::Record& record) {
  const Json section = Json::parse(record.content.section_json);
  const auto found = section.find("flight");
  if (found != section.end()) {
    if (auto flight = answer::read_logged_flight(*found, "flight")) return *std::move(flight);
  }
  logbook::Flight unknown;
  unknown.id = record.id;
  return unknown;
}

Json flight_row_json(const workshop::Record& record) {
  return {{"revision", record.revision},
          {"updated_at", record.updated_at},
          {"flight", answer::logged_flight_json(logged_flight(record))}};
}

/// Named by its time first, so that a list by name is one by time.
workshop::Content flight_content(const logbook::Flight& flight) {
  std::string name = flight.time.empty() ? "undated" : flight.time.substr(0, 40);
  if (!flight.propeller.empty()) name += " " + flight.propeller.substr(0, 120);
  workshop::Content content;
  content.name = name;
  content.section_json = Json{{"flight", answer::logged_flight_json(flight)}}.dump();
  return content;
}

/// An entry of a merge: the flight, and the revision it was changed from, 0 for a new one.
struct FlightEntry {
  logbook::Flight flight;
  std::int64_t base = 0;
};

base::Expected<FlightEntry> read_flight_entry(const Json& item, const std::string& place) {
  if (!item.is_object()) {
    return base::fail(
        {.field = place, .remedy = "send {\"flight\": {...}}", .message = "this is no entry"});
  }
  for (const auto& [name, value] : item.items()) {
    if (name == "flight" || (name == "base" && value.is_number_integer())) continue;
    return base::fail({.field = place + "." + name,
                       .remedy = "send `flight` and, for a change, `base`",
                       .message = "this does not belong to an entry"});
  }
  const auto table = item.find("flight");
  auto flight =
      answer::read_logged_flight(table == item.end() ? Json() : *table, place + ".flight");
  if (!flight) return base::fail(flight.error());
  if (flight->id.empty()) {
    return base::fail({.field = place + ".flight.id",
                       .remedy = "give each entry an id where it is made",
                       .message = "the id is wanting"});
  }
  return FlightEntry{*std::move(flight), item.value("base", std::int64_t{0})};
}

struct Merged {
  const char* done = "conflict";  ///< added, same, changed, conflict
  workshop::Record present;
};

/// Against what is there already: the same flight twice is one, a change must know what it changes.
base::Expected<Merged> merge_known(App& app, const FlightEntry& entry, workshop::Record present) {
  if (logged_flight(present) == entry.flight) return Merged{"same", std::move(present)};
  if (entry.base != present.revision) return Merged{"conflict", std::move(present)};
  auto change = app.workshop.update(RecordKind::flight, entry.flight.id, entry.base,
                                    flight_content(entry.flight));
  if (!change) return base::fail(change.error());
  const bool written = change->done == workshop::Done::written;
  return Merged{written ? "changed" : "conflict", std::move(change->present)};
}

base::Expected<Merged> merge_entry(App& app, const FlightEntry& entry) {
  auto found = app.workshop.get(RecordKind::flight, entry.flight.id);
  if (!found) return base::fail(found.error());
  if (*found) return merge_known(app, entry, *std::move(*found));
  auto made =
      app.workshop.create(RecordKind::flight, flight_content(entry.flight), entry.flight.id);
  if (made) return Merged{"added", *std::move(made)};
  // Another upload may have been quicker with the same id.
  found = app.workshop.get(RecordKind::flight, entry.flight.id);
  if (!found || !*found) return base::fail(made.error());
  return merge_known(app, entry, *std::move(*found));
}

Json merged_json(const FlightEntry& entry, const Merged& merged) {
  const base::Problems asked = logbook::questions(entry.flight);
  Json json{{"id", entry.flight.id},
            {"done", merged.done},
            {"revision", merged.present.revision},
            {"questions", answer::problem_list(asked)}};
  if (std::string_view(merged.done) == "conflict")
    json["present"] = flight_row_json(merged.present);
  return json;
}

void merge_flights(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"flights"});
  if (!body) return;
  const auto list = body->find("flights");
  if (list == body->end() || !list->is_array() || list->size() > most_flights) {
    return refuse(response, 422,
                  {.field = "flights",
                   .allowed = "a list of up to 1000",
                   .remedy = "send the flights in parts",
                   .message = "there is no such list of flights"});
  }
  // All are read before the first is written: a list is taken as a whole or not at all.
  std::vector<FlightEntry> entries;
  entries.reserve(list->size());
  base::Problems problems;
  for (std::size_t at = 0; at < list->size(); ++at) {
    auto entry = read_flight_entry((*list)[at], "flights[" + std::to_string(at + 1) + "]");
    if (entry) {
      entries.push_back(*std::move(entry));
    } else {
      problems.insert(problems.end(), entry.error().begin(), entry.error().end());
    }
  }
  if (!problems.empty()) return refuse_all(response, 422, problems);
  Json items = Json::array();
  for (const FlightEntry& entry : entries) {
    const auto merged = merge_entry(app, entry);
    if (!merged) return refuse(response, merged.error());
    items.push_back(merged_json(entry, *merged));
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
  send_json(response, 200, {{"total", page->total}, {"items", items}});
}

void flights_csv(App& app, const Request&, Response& response) {
  std::vector<logbook::Flight> flights;
  workshop::Query query{.sort = "name", .limit = 1000};
  for (;;) {
    const auto page = app.workshop.list(RecordKind::flight, query);
    if (!page) return refuse(response, page.error());
    flights.reserve(static_cast<std::size_t>(page->total));
    for (const auto& record : page->items) flights.push_back(logged_flight(record));
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
  http.Get("/api/flights/csv", route(flights_csv));
}

}  // namespace propwright::server
