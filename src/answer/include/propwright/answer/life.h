/// The life of a propeller: its parts and readings, what happened to it, the states that repairs
/// part it into, its flights in each, and what should be measured again (docs/openapi.yaml,
/// PropellerLife).
///
/// An event keeps the readings of the bench as they stood when it was written down. A repair closes
/// a state with them: what the bench says from then on belongs to the next one.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/logbook/flight_log.h"
#include "propwright/workshop/workshop.h"

namespace propwright::answer {

/// A propeller with everything that belongs to it, as the workshop holds it.
struct LifeRecords {
  workshop::Record propeller;
  std::optional<workshop::Record> blade_a, blade_b, hub, ledger;
  std::optional<workshop::DesignRow> design;
  std::optional<double> design_pitch_m;
  std::vector<workshop::Record> events;        ///< not archived, by time
  std::vector<workshop::Record> photos;        ///< not archived, oldest first, without the pictures
  std::vector<workshop::FlownFlight> flights;  ///< all, by time
  std::vector<logbook::Flight> latest;         ///< of them, the latest first
};

/// Nothing when there is no such propeller. Problem: the workshop's own.
base::Expected<std::optional<LifeRecords>> read_life(const workshop::Workshop& workshop,
                                                     const std::string& propeller_id);

/// `day` is today, "2026-11-25": weeks are counted up to it.
Json life_document(const LifeRecords& life, const std::string& day);

/// An event as it is to be kept: what was sent, and the readings of the bench beside it. Problems
/// of `kind`, `time` and `words`.
base::Expected<workshop::Content> life_event(const LifeRecords& life, const Json& sent);
/// Words that `kind` of an event may be.
const std::vector<std::string>& life_event_kinds();

/// A photo as it is to be kept: `type` (image/jpeg, image/png or image/webp), `data` in base64, up
/// to 700 kB of picture, `words`, `time`, `event_id`. Problems of these.
base::Expected<workshop::Content> life_photo(const std::string& propeller_id, const Json& sent);
/// The bytes of a photo; nothing where its base64 is damaged.
std::optional<std::string> photo_bytes(const workshop::Record& photo);

/// What a label on its box tells; SI, empty where nothing of it is known.
struct LabelFacts {
  std::string id, name, day;
  std::optional<double> mass_kg, diameter_m, pitch_m, set_angle_rad, set_radius_m;
  bool pitch_measured = false;  ///< mean over the angles read; else the design's
};
LabelFacts label_facts(const LifeRecords& life);

}  // namespace propwright::answer
