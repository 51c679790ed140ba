/// What the workshop keeps, as plain values. JSON travels as text; times are UTC text,
/// "2026-11-25T15:04:20.123Z", "" for "not".
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace propwright::workshop {

/// Records that hold one JSON object. Designs have versions and stand apart.
enum class RecordKind {
  hall,
  model,
  rubber,
  motor,
  spar,
  blade,
  propeller,
  weight,
  flight,
  form,
  cylinder,
  rig,
  stock,
  hub,
  batch,
  meter,
  session,
  event,
  photo
};

inline constexpr std::array<RecordKind, 19> record_kinds{
    RecordKind::hall,    RecordKind::model, RecordKind::rubber,    RecordKind::motor,
    RecordKind::spar,    RecordKind::blade, RecordKind::propeller, RecordKind::weight,
    RecordKind::flight,  RecordKind::form,  RecordKind::cylinder,  RecordKind::rig,
    RecordKind::stock,   RecordKind::hub,   RecordKind::batch,     RecordKind::meter,
    RecordKind::session, RecordKind::event, RecordKind::photo};

/// The table, which is also the key in the export: "halls", "models", "rubbers", ...
std::string_view table_of(RecordKind kind);
/// The kind kept in a table; nothing for any other word.
std::optional<RecordKind> kind_of(std::string_view table);

/// What a user writes in a record.
struct Content {
  std::string name;  ///< 1 to 200 bytes of UTF-8, not only spaces
  std::string section_json =
      {};  ///< one JSON object, at most 1 MiB and 64 levels; kept without spaces
  /// At most 1 MiB of text beside the section, "" for none: of rubbers the bench test as CSV
  /// (column curve_csv), of photos the picture in base64 (image_base64); other kinds have none.
  std::string attached = {};
  /// Ids of other records by column, e.g. {"rubber_id", "..."} of a motor; docs/workshop-file.md
  /// has the list. A link that is left out is none.
  std::map<std::string, std::string> links = {};
};

struct Record {
  RecordKind kind = RecordKind::hall;
  std::string id;             ///< 1 to 64 of a-z, 0-9, "-" and "_"
  std::int64_t revision = 0;  ///< counts the writes, from 1; the entity tag of the pages
  std::string created_at, updated_at, archived_at;
  Content content;
};

/// Figures of a design for the list, computed by the caller when it saves.
struct Summary {
  std::optional<double> duration_s = {}, sigma_s = {}, diameter_m = {};
  std::string hall_name = {}, model_name = {};
};

/// What a user saves in a design.
struct DesignContent {
  std::string name;           ///< as Content::name
  std::string document_json;  ///< {"job": {...}, "attachments": {...}}; limits as section_json
  std::string note = {};      ///< of this version, at most 4000 bytes
  Summary summary = {};
};

/// A design as the list shows it; `summary` is that of the latest version.
struct DesignRow {
  std::string id;
  std::string name;
  std::int64_t revision = 0;
  std::string created_at, updated_at, archived_at;
  int version = 0;                   ///< the latest, from 1
  std::optional<int> built_version;  ///< the latest of those that were built
  std::string copied_from;           ///< id of the design it is a duplicate of
  Summary summary;
};

struct DesignVersion {
  int version = 0;
  std::string saved_at, built_at;
  std::string note;
  Summary summary;
};

/// One version with its document.
struct DesignDocument {
  DesignVersion version;
  std::string document_json;
};

/// A design with the document of its latest version; `versions` from the latest to the first.
struct Design {
  DesignRow row;
  std::string document_json;
  std::string note;
  std::vector<DesignVersion> versions;
};

/// Which records a list shows.
enum class Shown { present, archived, all };

/// A propeller by its id and its name.
struct FlownWith {
  std::string propeller_id, propeller;
};

/// What the statistics of a propeller need of one of its flights; the whole flight is a record.
struct FlownFlight {
  std::string id;
  std::string time;                       ///< local, "2026-11-21T14:05"; "" where it is not known
  std::optional<double> duration_s = {};  ///< time flown
  std::string flag;                       ///< "aborted;steered"; "" for a free flight
};

struct Query {
  std::string text = {};  ///< every word must occur in the name (designs: also hall, model, note);
                          ///< small and capital letters are the same
  Shown shown = Shown::present;
  /// "name", "created", "updated"; flights also "flown"; designs also "duration", "diameter",
  /// "hall", "model". A leading
  /// "-" turns the order. What is unknown comes last.
  std::string sort = "-updated";
  std::int64_t limit = 50;  ///< 0 to 1000
  std::int64_t offset = 0;  ///< from 0
  /// Only records with these links, {"batch_id", "..."}. Not of designs.
  std::map<std::string, std::string> links = {};
  /// Flights only: those of one propeller, linked to it, or linked to none and logged by its name.
  std::optional<FlownWith> flown_with = {};
};

/// Whether a list with this Query::text shows a record of this name.
bool name_matches(const std::string& text, const std::string& name);

template <class T>
struct Page {
  std::int64_t total = 0;  ///< of the query without limit and offset
  std::vector<T> items;
};

enum class Done {
  written,
  stale,   ///< somebody wrote since: nothing is changed, `present` is the record as it stands
  absent,  ///< there is no such id (or version); `present` is empty
};

/// How a write of a record that exists ended.
template <class T>
struct Change {
  Done done = Done::absent;
  T present;                 ///< the record as it now stands in the file
  bool new_version = false;  ///< designs: this write made one
};

}  // namespace propwright::workshop
