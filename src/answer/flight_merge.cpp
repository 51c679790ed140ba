#include "propwright/answer/flight_merge.h"

#include <fmt/format.h>

#include <cmath>

#include <nlohmann/json.hpp>
#include <tuple>

#include "propwright/answer/document.h"
#include "propwright/answer/flight_json.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

using workshop::RecordKind;

/// FNV-1a, 64 bits (public domain): the same content is the same id on every machine.
std::string id_from_content(const std::string& text) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char letter : text) {
    hash ^= static_cast<unsigned char>(letter);
    hash *= 1099511628211ULL;
  }
  return fmt::format("c{:016x}", hash);
}

/// Ids of flights by what was understood of them: those of a JSON file, and those that rows of a
/// CSV file had from older programs.
class ContentIds {
 public:
  std::string next(const logbook::Flight& flight) {
    using Replace = Json::error_handler_t;
    std::string content = logged_flight_json(flight).dump(-1, ' ', false, Replace::replace);
    const int before = seen_[content]++;
    if (before > 0) content += fmt::format("#{}", before + 1);
    return id_from_content(content);
  }

 private:
  std::map<std::string, int> seen_;
};

void give_ids(std::vector<FlightEntry>& entries) {
  ContentIds ids;
  for (FlightEntry& entry : entries) {
    if (entry.flight.id.empty()) entry.flight.id = ids.next(entry.flight);
  }
}

base::Expected<FlightFile> read_json_flights(const Json& json, const std::string& file) {
  const auto list = json.is_object() ? json.find("flights") : json.end();
  if (!json.is_object() || list == json.end() || !list->is_array()) {
    return base::fail({.file = file,
                       .field = "flights",
                       .allowed = "{\"flights\": [...]}",
                       .remedy = "give a log that the Floor has saved, or a CSV file",
                       .message = "there are no flights in this file"});
  }
  FlightFile read;
  std::vector<FlightEntry>& entries = read.entries;
  entries.reserve(list->size());
  base::Problems problems;
  for (std::size_t at = 0; at < list->size(); ++at) {
    const std::string place = fmt::format("flights[{}]", at + 1);
    auto flight = read_logged_flight((*list)[at], place);
    if (flight) {
      for (base::Problem& question : logbook::questions(*flight, file)) {
        question.field = place + "." + question.field;
        read.questions.push_back(std::move(question));
      }
      entries.push_back({*std::move(flight), 0});
    } else {
      problems.insert(problems.end(), flight.error().begin(), flight.error().end());
    }
  }
  for (base::Problem& problem : problems) problem.file = file;
  if (!problems.empty()) return base::fail(std::move(problems));
  give_ids(entries);
  return read;
}

/// At most `bytes` of a text, cut between two letters of its UTF-8.
std::string whole_letters(const std::string& text, std::size_t bytes) {
  if (text.size() <= bytes) return text;
  while (bytes > 0 && (static_cast<unsigned char>(text[bytes]) & 0xC0U) == 0x80U) --bytes;
  return text.substr(0, bytes);
}

/// Those that are not archived and have this very name.
base::Expected<std::vector<workshop::Record>> records_named(const workshop::Workshop& workshop,
                                                            RecordKind kind,
                                                            const std::string& name) {
  std::vector<workshop::Record> all;
  const auto found = workshop.list(kind, {.text = whole_letters(name, 200), .limit = 1000});
  if (!found) return base::fail(found.error());
  for (const workshop::Record& record : found->items) {
    if (record.content.name == name) all.push_back(record);
  }
  return all;
}

/// The day and the air of its first flight, as a builder would write them.
Json session_table(const logbook::Flight& flight) {
  using D = units::Dimension;
  Json table = Json::object();
  if (flight.time.size() >= 10) table["day"] = flight.time.substr(0, 10);
  const auto add = [&](const char* name, const std::optional<double>& si, D dimension) {
    const bool sound = si && std::isfinite(*si) && *si >= 0;
    if (sound) table[name] = units::to_exact_text(*si, dimension, units::Profile::metric);
  };
  add("temperature", flight.temperature_K, D::temperature);
  add("pressure", flight.pressure_Pa, D::pressure);
  add("humidity", flight.humidity, D::ratio);
  add("roof", flight.roof_m, D::length);
  return table;
}

}  // namespace

logbook::Flight flight_of(const workshop::Record& record) {
  const Json section = Json::parse(record.content.section_json);
  const auto found = section.find("flight");
  if (found != section.end()) {
    if (auto flight = read_logged_flight(*found, "flight")) return *std::move(flight);
  }
  logbook::Flight unknown;
  unknown.id = record.id;
  return unknown;
}

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
  auto flight = read_logged_flight(table == item.end() ? Json() : *table, place + ".flight");
  if (!flight) return base::fail(flight.error());
  if (flight->id.empty()) {
    return base::fail({.field = place + ".flight.id",
                       .remedy = "give each entry an id where it is made",
                       .message = "the id is wanting"});
  }
  return FlightEntry{*std::move(flight), item.value("base", std::int64_t{0})};
}

base::Expected<FlightFile> read_flight_file(const std::string& text, const std::string& file) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first != text.npos && (text[first] == '{' || text[first] == '[')) {
    auto json = read_json(text, 16);
    if (!json) {
      base::Problems problems = json.error();
      for (base::Problem& problem : problems) problem.file = file;
      return base::fail(std::move(problems));
    }
    return read_json_flights(*json, file);
  }
  auto log = logbook::read_csv(text, file);
  if (!log) return base::fail(log.error());
  FlightFile read;
  read.questions = std::move(log->questions);
  read.unknown_columns = std::move(log->unknown_columns);
  read.passed_over = std::move(log->passed_over);
  read.entries.reserve(log->flights.size());
  ContentIds older;
  for (std::size_t row = 0; row < log->flights.size(); ++row) {
    FlightEntry entry{std::move(log->flights[row]), 0};
    entry.flight.line = 0;  // of the file, not of the flight
    if (entry.flight.id.empty()) entry.former_id = older.next(entry.flight);
    entry.flight.id = std::move(log->row_ids[row]);
    read.entries.push_back(std::move(entry));
  }
  return read;
}

base::Expected<std::string> FlightMerge::named(RecordKind kind, const std::string& name) {
  if (name.empty()) return std::string();
  const auto [known, fresh] = names_.try_emplace({kind, name});
  if (!fresh) return known->second;
  const auto found = records_named(workshop_, kind, name);
  if (!found) return base::fail(found.error());
  if (found->size() == 1) known->second = found->front().id;
  return known->second;
}

/// A meter that is not in this workshop is no reason to lose a flight: its link is left out.
base::Expected<void> FlightMerge::know_meter() {
  if (meter_known_ || meter_id_.empty()) return {};
  const auto found = workshop_.get(RecordKind::meter, meter_id_);
  if (!found) return base::fail(found.error());
  meter_known_ = true;
  if (*found) return {};
  left_out_.push_back({.field = "meter_id",
                       .value = meter_id_,
                       .remedy = "choose the meter of the visit on the Floor, Rubber, Visits",
                       .message = "this workshop has no such torque meter: the session is made "
                                  "without one"});
  meter_id_.clear();
  return {};
}

base::Expected<void> FlightMerge::know_session(const logbook::Flight& flight) {
  const std::string& name = flight.session;
  if (name.empty() || name.size() > 200 || names_.contains({RecordKind::session, name})) return {};
  const auto found = records_named(workshop_, RecordKind::session, name);
  if (!found) return base::fail(found.error());
  if (!found->empty()) return {};
  if (auto known = know_meter(); !known) return known;
  workshop::Content content;
  content.name = name;
  content.section_json = Json{{"session", session_table(flight)}}.dump();
  if (!meter_id_.empty()) content.links = {{"meter_id", meter_id_}};
  const auto made = workshop_.create_named(RecordKind::session, content);
  if (!made) return base::fail(made.error());
  return {};
}

/// Named by its time first, so that a list by name is one by time.
base::Expected<workshop::Content> FlightMerge::content_of(const logbook::Flight& flight) {
  std::string name = flight.time.empty() ? "undated" : whole_letters(flight.time, 40);
  if (!flight.propeller.empty()) name += " " + whole_letters(flight.propeller, 120);
  if (auto known = know_session(flight); !known) return base::fail(known.error());
  workshop::Content content;
  content.name = name;
  content.section_json = Json{{"flight", logged_flight_json(flight)}}.dump();
  const std::tuple<RecordKind, const char*, const std::string*> links[] = {
      {RecordKind::propeller, "propeller_id", &flight.propeller},
      {RecordKind::motor, "motor_id", &flight.motor},
      {RecordKind::model, "model_id", &flight.model},
      {RecordKind::session, "session_id", &flight.session}};
  for (const auto& [kind, column, text] : links) {
    const auto id = named(kind, *text);
    if (!id) return base::fail(id.error());
    if (!id->empty()) content.links[column] = *id;
  }
  return content;
}

/// Against what is there already: the same flight twice is one, a change must know what it changes.
base::Expected<MergedFlight> FlightMerge::take_known(const FlightEntry& entry,
                                                     workshop::Record present) {
  if (!present.archived_at.empty()) return take_withdrawn(entry, present);
  if (flight_of(present) == entry.flight) return MergedFlight{"same", std::move(present)};
  if (entry.base != present.revision) return MergedFlight{"conflict", std::move(present)};
  const auto content = content_of(entry.flight);
  if (!content) return base::fail(content.error());
  auto change = workshop_.update(RecordKind::flight, entry.flight.id, entry.base, *content);
  if (!change) return base::fail(change.error());
  const bool written = change->done == workshop::Done::written;
  return MergedFlight{written ? "changed" : "conflict", std::move(change->present)};
}

/// One that was withdrawn and comes again is in the log again, as it comes: nobody sees the other
/// state there.
base::Expected<MergedFlight> FlightMerge::take_withdrawn(const FlightEntry& entry,
                                                         const workshop::Record& present) {
  const auto content = content_of(entry.flight);
  if (!content) return base::fail(content.error());
  auto back = workshop_.restore(RecordKind::flight, present.id, present.revision);
  if (!back) return base::fail(back.error());
  if (back->done != workshop::Done::written || flight_of(back->present) == entry.flight) {
    const bool written = back->done == workshop::Done::written;
    return MergedFlight{written ? "added" : "conflict", std::move(back->present)};
  }
  auto change = workshop_.update(RecordKind::flight, present.id, back->present.revision, *content);
  if (!change) return base::fail(change.error());
  const bool written = change->done == workshop::Done::written;
  return MergedFlight{written ? "added" : "conflict", std::move(change->present)};
}

base::Expected<MergedFlight> FlightMerge::take(const FlightEntry& entry) {
  left_out_.clear();
  auto merged = take_new_or_known(entry);
  if (merged) merged->left_out = left_out_;
  return merged;
}

base::Expected<MergedFlight> FlightMerge::take_new_or_known(const FlightEntry& entry) {
  auto found = workshop_.get(RecordKind::flight, entry.flight.id);
  if (!found) return base::fail(found.error());
  if (*found) return take_known(entry, *std::move(*found));
  if (!entry.former_id.empty()) {
    auto former = workshop_.get(RecordKind::flight, entry.former_id);
    if (!former) return base::fail(former.error());
    if (*former) {
      FlightEntry same = entry;
      same.flight.id = entry.former_id;
      return take_known(same, *std::move(*former));
    }
  }
  const auto content = content_of(entry.flight);
  if (!content) return base::fail(content.error());
  auto made = workshop_.create(RecordKind::flight, *content, entry.flight.id);
  if (made) return MergedFlight{"added", *std::move(made)};
  // Another upload may have been quicker with the same id.
  found = workshop_.get(RecordKind::flight, entry.flight.id);
  if (!found || !*found) return base::fail(made.error());
  return take_known(entry, *std::move(*found));
}

}  // namespace propwright::answer
