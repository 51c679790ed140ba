// A propeller's life as the pages get it, and what they send to add to it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "life_figures.h"
#include "propwright/answer/flight_json.h"
#include "propwright/base/constants.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

using workshop::Record;
using workshop::RecordKind;

constexpr std::int64_t latest_flights = 20;
constexpr std::size_t most_words = 4000;
constexpr std::size_t most_base64 = 960 * 1024;

base::Expected<std::optional<Record>> linked(const workshop::Workshop& workshop, RecordKind kind,
                                             const Record& propeller, const char* link) {
  const auto found = propeller.content.links.find(link);
  if (found == propeller.content.links.end()) return std::optional<Record>();
  return workshop.get(kind, found->second);
}

base::Expected<std::vector<Record>> all_life_records(const workshop::Workshop& workshop,
                                                     RecordKind kind, workshop::Query query) {
  std::vector<Record> all;
  query.limit = 1000;
  for (;;) {
    auto page = workshop.list(kind, query);
    if (!page) return base::fail(page.error());
    all.insert(all.end(), page->items.begin(), page->items.end());
    query.offset += query.limit;
    if (query.offset >= page->total) return all;
  }
}

base::Expected<void> read_flights(const workshop::Workshop& workshop, LifeRecords& life) {
  const workshop::FlownWith own{life.propeller.id, life.propeller.content.name};
  auto flown = workshop.flown(own);
  if (!flown) return base::fail(flown.error());
  life.flights = *std::move(flown);
  const auto count = static_cast<std::int64_t>(life.flights.size());
  for (std::int64_t at = count - 1; at >= 0 && at >= count - latest_flights; --at) {
    const auto record =
        workshop.get(RecordKind::flight, life.flights[static_cast<std::size_t>(at)].id);
    if (!record) return base::fail(record.error());
    if (!*record) continue;
    const Json table = life_table(Json::parse((*record)->content.section_json), "flight");
    if (auto flight = read_logged_flight(table, "flight")) life.latest.push_back(*flight);
  }
  return {};
}

base::Expected<void> read_design(const workshop::Workshop& workshop, LifeRecords& life) {
  const auto link = life.propeller.content.links.find("design_id");
  if (link == life.propeller.content.links.end()) return {};
  auto design = workshop.get_design(link->second);
  if (!design) return base::fail(design.error());
  if (!*design) return {};
  const Json job = life_table(Json::parse((*design)->document_json), "job");
  const std::string pitch = life_text(life_table(job, "propeller"), "pitch");
  if (const auto pitch_m = units::parse(pitch, units::Dimension::length)) {
    life.design_pitch_m = *pitch_m;
  }
  life.design = std::move((*design)->row);
  return {};
}

Json life_part_json(const char* part, const std::optional<Record>& record) {
  if (!record) return nullptr;
  return {{"part", part}, {"id", record->id}, {"name", record->content.name}};
}

Json event_json(const Record& event) {
  const Json table = life_table(Json::parse(event.content.section_json), "event");
  return {{"id", event.id},
          {"etag", fmt::format("\"{}\"", event.revision)},
          {"kind", life_text(table, "kind")},
          {"time", life_text(table, "time")},
          {"words", life_text(table, "words")}};
}

Json photo_json(const Record& photo) {
  const Json table = life_table(Json::parse(photo.content.section_json), "photo");
  const auto event = photo.content.links.find("event_id");
  return {{"id", photo.id},
          {"etag", fmt::format("\"{}\"", photo.revision)},
          {"time", life_text(table, "time")},
          {"words", life_text(table, "words")},
          {"event_id", event == photo.content.links.end() ? Json(nullptr) : Json(event->second)}};
}

Json label_json(const LabelFacts& facts) {
  const auto known = [](const std::optional<double>& value) {
    return value ? Json(*value) : Json(nullptr);
  };
  return {{"day", facts.day},
          {"mass_kg", known(facts.mass_kg)},
          {"diameter_m", known(facts.diameter_m)},
          {"pitch_m", known(facts.pitch_m)},
          {"pitch_measured", facts.pitch_measured},
          {"set_angle_deg",
           facts.set_angle_rad ? Json(*facts.set_angle_rad / base::degree_rad) : Json(nullptr)},
          {"set_radius_m", known(facts.set_radius_m)}};
}

/// Pitch of the helix through the angles as measured: 2 pi r tan(angle), mean over all readings.
std::optional<double> measured_pitch_m(const LifeFigures& figures) {
  double sum_m = 0;
  int count = 0;
  for (const LifeBlade& blade : figures.blade) {
    for (const LifeAngle& each : blade.angles) {
      sum_m += 2 * base::pi * each.radius_m * std::tan(each.angle_rad);
      ++count;
    }
  }
  return count > 0 && sum_m > 0 ? std::optional(sum_m / count) : std::nullopt;
}

base::Problem life_problem(const char* field, const std::string& value, const std::string& allowed,
                           const std::string& remedy, const std::string& message) {
  return {.field = field, .value = value, .allowed = allowed, .remedy = remedy, .message = message};
}

std::string life_member(const Json& sent, const char* name, std::size_t most,
                        base::Problems& problems) {
  const auto found = sent.find(name);
  if (found == sent.end()) return {};
  if (!found->is_string()) {
    problems.push_back(life_problem(name, "", "text", "write it in quotes", "this is no text"));
    return {};
  }
  const std::string text = found->get<std::string>();
  if (text.size() <= most) return text;
  problems.push_back(life_problem(name, fmt::format("{} bytes", text.size()),
                                  fmt::format("up to {} bytes", most), "send less",
                                  "this is too long"));
  return {};
}

void check_life_time(const std::string& time, base::Problems& problems) {
  if (logbook::is_time(time)) return;
  problems.push_back(life_problem("time", time, "2026-11-25 or 2026-11-25T14:05",
                                  "write the day, and the time of day if it matters",
                                  "this is no day"));
}

/// Groups of four, padded at the end only.
bool is_base64(const std::string& text) {
  if (text.empty() || text.size() % 4 != 0) return false;
  const std::size_t end =
      text.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/");
  return end == text.npos ||
         (end >= text.size() - 2 && text.find_first_not_of('=', end) == text.npos);
}

std::string from_base64(const std::string& text) {
  constexpr std::string_view letters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3);
  unsigned held = 0;
  int bits = 0;
  for (const char letter : text) {
    if (letter == '=') break;
    held = (held << 6U) | static_cast<unsigned>(letters.find(letter));
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes += static_cast<char>((held >> static_cast<unsigned>(bits)) & 0xffU);
  }
  return bytes;
}

bool looks_like(const std::string& type, const std::string& bytes) {
  if (type == "image/jpeg") return bytes.starts_with("\xff\xd8\xff");
  if (type == "image/png") return bytes.starts_with("\x89PNG");
  return type == "image/webp" && bytes.starts_with("RIFF") && bytes.substr(8, 4) == "WEBP";
}

}  // namespace

base::Expected<std::optional<LifeRecords>> read_life(const workshop::Workshop& workshop,
                                                     const std::string& propeller_id) {
  auto propeller = workshop.get(RecordKind::propeller, propeller_id);
  if (!propeller) return base::fail(propeller.error());
  if (!*propeller) return std::optional<LifeRecords>();
  LifeRecords life;
  life.propeller = **std::move(propeller);
  const std::pair<std::optional<Record>*, std::pair<RecordKind, const char*>> parts[] = {
      {&life.blade_a, {RecordKind::blade, "blade_a_id"}},
      {&life.blade_b, {RecordKind::blade, "blade_b_id"}},
      {&life.hub, {RecordKind::hub, "hub_id"}}};
  for (const auto& [into, from] : parts) {
    auto record = linked(workshop, from.first, life.propeller, from.second);
    if (!record) return base::fail(record.error());
    *into = *std::move(record);
  }
  workshop::Query own{.sort = "created", .links = {{"propeller_id", propeller_id}}};
  auto ledgers = all_life_records(workshop, RecordKind::weight, own);
  if (!ledgers) return base::fail(ledgers.error());
  if (!ledgers->empty()) life.ledger = ledgers->front();
  auto events = all_life_records(workshop, RecordKind::event, own);
  if (!events) return base::fail(events.error());
  life.events = *std::move(events);
  std::stable_sort(life.events.begin(), life.events.end(),
                   [](const Record& a, const Record& b) { return life_time(a) < life_time(b); });
  auto photos = all_life_records(workshop, RecordKind::photo, own);
  if (!photos) return base::fail(photos.error());
  life.photos = *std::move(photos);
  if (auto read = read_design(workshop, life); !read) return base::fail(read.error());
  if (auto read = read_flights(workshop, life); !read) return base::fail(read.error());
  return life;
}

LabelFacts label_facts(const LifeRecords& life) {
  const LifeFigures now = life_figures(life_readings(life));
  LabelFacts facts;
  facts.id = life.propeller.id;
  facts.name = life.propeller.content.name;
  const Json propeller = life_table(Json::parse(life.propeller.content.section_json), "propeller");
  facts.day = life_text(propeller, "assembled");
  if (facts.day.empty()) facts.day = life.propeller.created_at.substr(0, 10);
  facts.mass_kg = now.mass_kg;
  const auto length = [&](int which) { return now.blade[which].length_m.value_or(0); };
  if (const double longest = std::max(length(0), length(1)); longest > 0) {
    facts.diameter_m = 2 * longest;
  } else if (life.design) {
    facts.diameter_m = life.design->summary.diameter_m;
  }
  facts.pitch_m = measured_pitch_m(now);
  facts.pitch_measured = facts.pitch_m.has_value();
  if (!facts.pitch_m) facts.pitch_m = life.design_pitch_m;
  facts.set_angle_rad = now.set_angle_rad;
  facts.set_radius_m = now.set_radius_m;
  return facts;
}

Json life_document(const LifeRecords& life, const std::string& day) {
  Json parts = Json::array();
  for (Json part :
       {life_part_json("blade_a", life.blade_a), life_part_json("blade_b", life.blade_b),
        life_part_json("hub", life.hub), life_part_json("weights", life.ledger)}) {
    if (!part.is_null()) parts.push_back(std::move(part));
  }
  Json events = Json::array(), photos = Json::array(), latest = Json::array();
  for (const Record& event : life.events) events.push_back(event_json(event));
  for (const Record& photo : life.photos) photos.push_back(photo_json(photo));
  for (const logbook::Flight& flight : life.latest) latest.push_back(logged_flight_json(flight));
  Json design = nullptr;
  if (life.design) design = {{"id", life.design->id}, {"name", life.design->name}};
  return {{"id", life.propeller.id},
          {"name", life.propeller.content.name},
          {"archived", !life.propeller.archived_at.empty()},
          {"created_at", life.propeller.created_at},
          {"design", design},
          {"parts", parts},
          {"label", label_json(label_facts(life))},
          {"states", life_states(life)},
          {"events", events},
          {"photos", photos},
          {"prompts", life_prompts(life, day)},
          {"flights", {{"total", life.flights.size()}, {"latest", latest}}}};
}

const std::vector<std::string>& life_event_kinds() {
  static const std::vector<std::string> kinds{"measured", "setting", "covered", "stored",
                                              "crash",    "repair",  "note"};
  return kinds;
}

base::Expected<workshop::Content> life_event(const LifeRecords& life, const Json& sent) {
  base::Problems problems;
  const std::string kind = life_member(sent, "kind", 40, problems);
  const std::string time = life_member(sent, "time", 40, problems);
  const std::string words = life_member(sent, "words", most_words, problems);
  const auto& kinds = life_event_kinds();
  if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) {
    const std::string near = base::nearest_name(kind, kinds);
    problems.push_back(
        life_problem("kind", kind, fmt::format("{}", fmt::join(kinds, ", ")),
                     near.empty() ? "choose one of these" : "did you mean " + near + "?",
                     "there is no such event"));
  }
  check_life_time(time, problems);
  if (words.empty() && (kind == "note" || kind == "repair")) {
    problems.push_back(life_problem("words", "", "a few words", "write down what was done",
                                    "a repair or a note needs its words"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  workshop::Content content;
  content.name = time.substr(0, 10) + " " + kind;
  content.section_json =
      Json{{"event",
            {{"kind", kind}, {"time", time}, {"words", words}, {"readings", life_readings(life)}}}}
          .dump();
  content.links = {{"propeller_id", life.propeller.id}};
  return content;
}

base::Expected<workshop::Content> life_photo(const std::string& propeller_id, const Json& sent) {
  base::Problems problems;
  const std::string type = life_member(sent, "type", 40, problems);
  const std::string data = life_member(sent, "data", most_base64, problems);
  const std::string words = life_member(sent, "words", most_words, problems);
  const std::string time = life_member(sent, "time", 40, problems);
  const std::string event_id = life_member(sent, "event_id", 64, problems);
  check_life_time(time, problems);
  if (problems.empty() && (!is_base64(data) || !looks_like(type, from_base64(data)))) {
    problems.push_back(life_problem("data", type, "image/jpeg, image/png or image/webp in base64",
                                    "send the picture as it is, made smaller",
                                    "this is no picture of that type"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  workshop::Content content;
  content.name = time.substr(0, 10) + " photo";
  content.section_json = Json{{"photo", {{"type", type}, {"time", time}, {"words", words}}}}.dump();
  content.attached = data;
  content.links = {{"propeller_id", propeller_id}, {"event_id", event_id}};
  return content;
}

std::optional<std::string> photo_bytes(const Record& photo) {
  if (!is_base64(photo.content.attached)) return std::nullopt;
  return from_base64(photo.content.attached);
}

}  // namespace propwright::answer
