#include "propwright/answer/batch_log.h"

#include <algorithm>
#include <map>
#include <utility>

#include "bench_parts.h"
#include "floor_parts.h"
#include "life_figures.h"
#include "propwright/answer/flight_merge.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

using workshop::Record;
using workshop::RecordKind;
using D = units::Dimension;

/// The reason that the floor writes for a motor that broke while it was wound.
constexpr const char* wound_to_break = "motor broke while winding";
constexpr double usual_thickness_m = 1.03e-3;
constexpr int usual_strands = 2;

bool broke_in_winding(const logbook::Flight& flight) {
  return flight.reason == wound_to_break && !flight.duration_s;
}

/// In order of time; nothing was wound after a break that has no date.
std::string log_time(const logbook::Flight& flight) {
  return flight.time.empty() && broke_in_winding(flight) ? "~" : flight.time;
}

bool believed(const std::optional<double>& value, BenchRange range) {
  return value && *value >= range.first && *value <= range.second;
}

template <class F>
base::Expected<void> each_batch_record(const workshop::Workshop& workshop, RecordKind kind,
                                       workshop::Query query, F use) {
  query.limit = 1000;
  for (;;) {
    const auto page = workshop.list(kind, query);
    if (!page) return base::fail(page.error());
    for (const Record& record : page->items) use(record);
    query.offset += query.limit;
    if (query.offset >= page->total) return {};
  }
}

std::optional<double> strip_noted(const Json& table, const char* name, D dimension) {
  const auto read = units::parse(life_text(table, name), dimension);
  return read ? std::optional(*read) : std::nullopt;
}

/// What is known of a motor's record for this.
struct KnownMotor {
  std::string id = {}, name = {}, rubber_id = {};
  std::optional<double> section_m2 = {}, length_m = {};
};

/// The strip, and the loop as rested last, else broken in, else as tied.
KnownMotor known_motor(const Record& record) {
  KnownMotor known{.id = record.id, .name = record.content.name};
  const auto link = record.content.links.find("rubber_id");
  if (link != record.content.links.end()) known.rubber_id = link->second;
  const Json section = Json::parse(record.content.section_json);
  const Json motor = life_table(section, "motor"), history = life_table(section, "history");
  if (const auto width_m = strip_noted(motor, "strip_width", D::length)) {
    const double thickness_m =
        strip_noted(motor, "strip_thickness", D::length).value_or(usual_thickness_m);
    const auto strands = motor.find("strands");
    const bool counted = strands != motor.end() && strands->is_number_integer();
    known.section_m2 = *width_m * thickness_m * (counted ? strands->get<int>() : usual_strands);
  }
  known.length_m = strip_noted(history, "rested_length", D::length);
  if (!known.length_m) known.length_m = strip_noted(motor, "loop_length", D::length);
  if (!known.length_m) known.length_m = strip_noted(history, "fresh_length", D::length);
  return known;
}

/// A batch with what says whether a flight is of it.
class BatchFlights {
 public:
  explicit BatchFlights(const Record& rubber)
      : id_(rubber.id), name_(rubber::name_key(rubber.content.name)) {}

  base::Expected<void> read(const workshop::Workshop& workshop) {
    using Shown = workshop::Shown;
    auto done = each_batch_record(workshop, RecordKind::rubber, {}, [&](const Record& record) {
      if (record.id != id_ && rubber::name_key(record.content.name) == name_) name_.clear();
    });
    if (!done) return done;
    // A motor that broke may be put away by now.
    done = each_batch_record(workshop, RecordKind::motor, {.shown = Shown::all, .sort = "name"},
                             [&](const Record& record) { add(known_motor(record)); });
    if (!done) return done;
    return each_batch_record(
        workshop, RecordKind::flight, {.sort = "name"}, [&](const Record& record) {
          const auto link = record.content.links.find("motor_id");
          sort(logbook::without_questioned(flight_of(record)),
               link == record.content.links.end() ? std::string() : link->second);
        });
  }

  /// Of one motor, or of one name, by time; a motor without a name is alone.
  const std::map<std::string, std::vector<logbook::Flight>>& flights() const { return flights_; }
  const KnownMotor* motor(const std::string& key) const {
    const auto found = motors_.find(key);
    return found == motors_.end() ? nullptr : &found->second;
  }

 private:
  void add(KnownMotor motor) {
    if (motor.rubber_id == id_) {
      const auto [at, fresh] = by_name_.try_emplace(rubber::name_key(motor.name), motor.id);
      if (!fresh) at->second.clear();  // two of that name: a name alone tells neither
    }
    std::string id = motor.id;
    motors_.emplace(std::move(id), std::move(motor));
  }

  void sort(logbook::Flight flight, const std::string& linked) {
    if (flight.left_out || (!flight.turns_wound && !broke_in_winding(flight))) return;
    const std::string batch = rubber::name_key(flight.batch);
    const bool names_batch = !name_.empty() && batch == name_;
    const std::string motor_name = rubber::name_key(flight.motor);
    const KnownMotor* known = motor(linked);
    if (known == nullptr && !motor_name.empty() && (batch.empty() || names_batch)) {
      if (const auto named = by_name_.find(motor_name); named != by_name_.end()) {
        known = motor(named->second);
      }
    }
    const bool has_batch = known != nullptr && !known->rubber_id.empty();
    if (has_batch ? known->rubber_id != id_ : !names_batch) return;
    const std::string key = known != nullptr ? known->id : motor_name;
    if (key.empty() && !broke_in_winding(flight)) return;
    flights_[key.empty() ? flight.id : key].push_back(std::move(flight));
  }

  std::string id_, name_;
  std::map<std::string, KnownMotor> motors_;
  std::map<std::string, std::string> by_name_;
  std::map<std::string, std::vector<logbook::Flight>> flights_;
};

/// The wind that tells most of a motor: its break, else the greatest that it held.
const logbook::Flight& telling(const std::vector<logbook::Flight>& winds) {
  if (broke_in_winding(winds.back()) && winds.back().turns_wound) return winds.back();
  const auto turns = [](const logbook::Flight& f) {
    return broke_in_winding(f) ? 0.0 : f.turns_wound.value_or(0);
  };
  return *std::max_element(winds.begin(), winds.end(),
                           [&](const auto& a, const auto& b) { return turns(a) < turns(b); });
}

LoggedMotor logged_motor(const std::vector<logbook::Flight>& winds, const KnownMotor* known) {
  const logbook::Flight& told = telling(winds);
  const bool broke = broke_in_winding(winds.back());
  LoggedMotor motor;
  motor.motor = known != nullptr ? known->name : told.motor;
  motor.motor_id = known != nullptr ? known->id : "";
  motor.end = !broke                     ? LoggedEnd::held
              : winds.back().turns_wound ? LoggedEnd::broke
                                         : LoggedEnd::broke_unknown;
  motor.turns = told.turns_wound;
  motor.flight = told.id;
  motor.time = told.time;
  motor.winds = static_cast<int>(winds.size());
  // Noted in one flight of a motor, its size holds for all of it.
  const auto sized = std::find_if(winds.rbegin(), winds.rend(), [](const auto& flight) {
    return believed(flight.motor_section_m2, floor_section_m2) &&
           believed(flight.motor_length_m, floor_loop_m);
  });
  motor.size_of_flight = sized != winds.rend();
  if (motor.size_of_flight) {
    motor.section_m2 = sized->motor_section_m2;
    motor.length_m = sized->motor_length_m;
    return motor;
  }
  const bool full = told.motor_part.value_or(1) == 1;
  if (known == nullptr || !full || !believed(known->section_m2, floor_section_m2) ||
      !believed(known->length_m, floor_loop_m)) {
    return motor;
  }
  motor.section_m2 = known->section_m2;
  motor.length_m = known->length_m;
  return motor;
}

const char* logged_end_word(LoggedEnd end) {
  switch (end) {
    case LoggedEnd::broke:
      return "broke";
    case LoggedEnd::broke_unknown:
      return "broke_unknown";
    case LoggedEnd::held:
      break;
  }
  return "held";
}

Json logged_motor_json(const LoggedMotor& motor) {
  const auto text = [](const std::optional<double>& si, D dimension) {
    return si ? Json(units::to_exact_text(*si, dimension, units::Profile::metric)) : Json();
  };
  const bool sized = motor.section_m2 && motor.length_m;
  return {{"key", motor.key},
          {"motor", motor.motor},
          {"motor_id", motor.motor_id.empty() ? Json() : Json(motor.motor_id)},
          {"end", logged_end_word(motor.end)},
          {"turns", number_or_null(motor.turns)},
          {"section", text(motor.section_m2, D::area)},
          {"length", text(motor.length_m, D::length)},
          {"size_of", !sized ? Json() : Json(motor.size_of_flight ? "flight" : "motor")},
          {"flight", motor.flight},
          {"time", motor.time},
          {"winds", motor.winds},
          {"usable", sized && believed(motor.turns, floor_turns)}};
}

}  // namespace

base::Expected<std::optional<std::vector<LoggedMotor>>> read_batch_log(
    const workshop::Workshop& workshop, const std::string& rubber_id) {
  using Answer = std::optional<std::vector<LoggedMotor>>;
  const auto rubber = workshop.get(RecordKind::rubber, rubber_id);
  if (!rubber) return base::fail(rubber.error());
  if (!*rubber) return Answer();
  BatchFlights batch(**rubber);
  if (auto done = batch.read(workshop); !done) return base::fail(done.error());
  std::vector<LoggedMotor> motors;
  motors.reserve(batch.flights().size());
  for (const auto& [key, flights] : batch.flights()) {
    std::vector<logbook::Flight> ordered = flights, winds;
    std::stable_sort(ordered.begin(), ordered.end(),
                     [](const auto& a, const auto& b) { return log_time(a) < log_time(b); });
    std::string own = key;
    winds.reserve(ordered.size());
    for (std::size_t i = 0; i < ordered.size(); ++i) {
      winds.push_back(ordered[i]);
      const bool ends = broke_in_winding(ordered[i]);
      if (!ends && i + 1 < ordered.size()) continue;
      LoggedMotor motor = logged_motor(winds, batch.motor(key));
      motor.key = own;
      motors.push_back(std::move(motor));
      own = key + " after " + ordered[i].id;
      winds.clear();
    }
  }
  std::stable_sort(motors.begin(), motors.end(), [](const auto& a, const auto& b) {
    return std::pair(a.end == LoggedEnd::held, a.time) <
           std::pair(b.end == LoggedEnd::held, b.time);
  });
  return Answer(std::move(motors));
}

Json batch_log_document(const std::vector<LoggedMotor>& motors) {
  Json list = Json::array();
  for (const LoggedMotor& motor : motors) list.push_back(logged_motor_json(motor));
  return {{"motors", std::move(list)}};
}

}  // namespace propwright::answer
