/// Flights logged anywhere come into the workshop, each once, however often they are sent.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/logbook/flight_log.h"
#include "propwright/workshop/workshop.h"

namespace propwright::answer {

/// A flight, and the revision it was changed from, 0 for a new one.
struct FlightEntry {
  logbook::Flight flight;
  std::int64_t base = 0;
  std::string former_id = {};  ///< under which an older program may have taken the same row in
};

/// The flight of a record. What cannot be read as one (written by another hand into the file) is
/// one of which nothing is known.
logbook::Flight flight_of(const workshop::Record& record);

/// An entry as it is sent, {"flight": {...}, "base": 3}. Problems of `place`.
base::Expected<FlightEntry> read_flight_entry(const Json& item, const std::string& place);

/// Flights out of a file, and what of it was not believed or not understood.
struct FlightFile {
  std::vector<FlightEntry> entries;
  base::Problems questions;                  ///< values kept as written, with line and column
  std::vector<std::string> unknown_columns;  ///< not taken in
  std::vector<int> passed_over;              ///< lines that were taken for remarks
};

/// The pages' JSON, {"flights": [{...}]}, or the flight log file as CSV. A flight without an id
/// gets one from its content and from how many of the very same stand before it (of a CSV file,
/// logbook::RowIds), so that the file may come twice, here or in the pages, and no flight of it is
/// lost. Problems: with the file and the place in it.
base::Expected<FlightFile> read_flight_file(const std::string& text, const std::string& file);

struct MergedFlight {
  const char* done = "conflict";  ///< added, same, changed, conflict
  workshop::Record present;       ///< as it now stands in the workshop
  base::Problems left_out = {};   ///< links that lead nowhere here, left out
};

/// Merges flights one by one. A flight is linked to the propeller, motor, model and session that
/// have the name it was logged with, where one only has it. A session that the workshop does not
/// know is made, with the day and the air of the flight, and with `meter_id` as the torque meter
/// its torques were read on, where one is given and is there.
class FlightMerge {
 public:
  explicit FlightMerge(workshop::Workshop& workshop, std::string meter_id = {})
      : workshop_(workshop), meter_id_(std::move(meter_id)) {}
  base::Expected<MergedFlight> take(const FlightEntry& entry);

 private:
  base::Expected<workshop::Content> content_of(const logbook::Flight& flight);
  /// The id of the record of that name; "" for none and for several.
  base::Expected<std::string> named(workshop::RecordKind kind, const std::string& name);
  base::Expected<void> know_session(const logbook::Flight& flight);
  base::Expected<void> know_meter();
  base::Expected<MergedFlight> take_new_or_known(const FlightEntry& entry);
  base::Expected<MergedFlight> take_known(const FlightEntry& entry, workshop::Record present);
  base::Expected<MergedFlight> take_withdrawn(const FlightEntry& entry,
                                              const workshop::Record& present);

  workshop::Workshop& workshop_;
  std::string meter_id_;
  bool meter_known_ = false;
  base::Problems left_out_;  ///< of the flight under way
  std::map<std::pair<workshop::RecordKind, std::string>, std::string> names_;  ///< asked so far
};

}  // namespace propwright::answer
