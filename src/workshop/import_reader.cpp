#include "import_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "export_rows.h"
#include "json_text.h"
#include "text.h"

namespace propwright::workshop {
namespace {

/// The export's own levels stand above those of the sections.
constexpr int deepest_export = deepest_json + 8;
constexpr std::int64_t highest_count = std::int64_t{1} << 53;  // what every JSON reader keeps exact

std::string shown(const Json& json) {
  std::string text = json.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > 60) {
    text.resize(57);
    while (!is_clean_text(text, true)) text.pop_back();  // not in the middle of a letter
    text += "...";
  }
  return text;
}

/// The members of one object. Each is asked for once; then finish() reports those nobody knows.
class Members {
 public:
  Members(const Json& object, std::string path, base::Problems& problems)
      : object_(object), path_(std::move(path)), problems_(problems) {}

  std::string path(const std::string& key) const { return path_.empty() ? key : path_ + "." + key; }

  /// The member where it is given and not null; a problem where it is needed and is not.
  const Json* find(const std::string& key, bool needed, const std::string& allowed) {
    known_.push_back(key);
    const auto member = object_.find(key);
    if (member != object_.end() && !member->is_null()) return &*member;
    if (needed) report(key, "", allowed, "add it", "this member is needed");
    return nullptr;
  }

  std::string text(const std::string& key, bool needed) {
    const Json* member = find(key, needed, "text");
    if (member == nullptr) return {};
    if (member->is_string()) return member->get<std::string>();
    report(key, shown(*member), "text", "write it in quotes", "this is no text");
    return {};
  }

  std::string id(const std::string& key, bool needed) {
    std::string value = text(key, needed);
    if (is_text(key)) check_id(value, path(key), problems_);
    return value;
  }

  std::string time(const std::string& key, bool needed) {
    const std::string value = text(key, needed);
    if (is_text(key) && !is_utc_text(value)) {
      report(key, value, "2026-11-25T15:04:20.123Z", "write date and time in UTC",
             "this is no date and time");
    }
    return value;
  }

  std::int64_t count(const std::string& key) {
    const std::string allowed = fmt::format("1 to {}", highest_count);
    const Json* member = find(key, true, allowed);
    if (member == nullptr) return 1;
    const bool whole = member->is_number_integer() && *member >= 1 && *member <= highest_count;
    if (whole) return member->get<std::int64_t>();
    report(key, shown(*member), allowed, "write a whole number", "this is no count");
    return 1;
  }

  std::optional<double> figure(const std::string& key) {
    const Json* member = find(key, false, "");
    if (member == nullptr) return std::nullopt;
    if (member->is_number()) return member->get<double>();
    report(key, shown(*member), "a number or null", "write a number", "this is no number");
    return std::nullopt;
  }

  /// An object as compact text; "{}" after a problem.
  std::string object(const std::string& key) {
    const Json* member = find(key, true, "a JSON object, {...}");
    if (member == nullptr) return "{}";
    return compact_object(member->dump(), path(key), problems_).value_or("{}");
  }

  /// The items of a list; none where it is left out.
  const Json& list(const std::string& key, bool needed) {
    static const Json none = Json::array();
    const Json* member = find(key, needed, "a list, [...]");
    if (member == nullptr) return none;
    if (member->is_array()) return *member;
    report(key, shown(*member), "a list, [...]", "write a list", "this is no list");
    return none;
  }

  void finish() {
    for (const auto& [key, member] : object_.items()) {
      if (std::find(known_.begin(), known_.end(), key) != known_.end()) continue;
      const std::string near = base::nearest_name(key, known_);
      report(key, "", fmt::format("{}", fmt::join(known_, ", ")),
             near.empty() ? "leave it out" : "did you mean " + near + "?",
             "there is no such member");
    }
  }

  void report(const std::string& key, const std::string& value, const std::string& allowed,
              const std::string& remedy, const std::string& message) {
    problems_.push_back({.field = path(key),
                         .value = value,
                         .allowed = allowed,
                         .remedy = remedy,
                         .message = message});
  }

 private:
  bool is_text(const std::string& key) const {
    const auto member = object_.find(key);
    return member != object_.end() && member->is_string();
  }

  const Json& object_;
  std::string path_;
  base::Problems& problems_;
  std::vector<std::string> known_;
};

bool require_object(const Json& json, const std::string& path, base::Problems& problems) {
  if (json.is_object()) return true;
  problems.push_back({.field = path,
                      .value = shown(json),
                      .allowed = "a JSON object, {...}",
                      .remedy = "write an object",
                      .message = "this is no JSON object"});
  return false;
}

Record read_record(const Json& json, const std::string& path, const KindSpec& spec,
                   base::Problems& problems) {
  Members members(json, path, problems);
  Record record;
  record.kind = spec.kind;
  record.id = members.id("id", true);
  record.content.name = members.text("name", true);
  if (json.contains("name")) check_name(record.content.name, members.path("name"), problems);
  record.revision = members.count("revision");
  record.created_at = members.time("created_at", true);
  record.updated_at = members.time("updated_at", true);
  record.archived_at = members.time("archived_at", false);
  for (const Link& link : spec.links) {
    const std::string id = members.id(link.column, false);
    if (!id.empty()) record.content.links[link.column] = id;
  }
  record.content.section_json = members.object("section");
  if (!spec.attached.empty()) {
    record.content.attached = members.text(spec.attached, false);
    check_attached(spec, record.content.attached, members.path(spec.attached), problems);
  }
  members.finish();
  return record;
}

DesignDocument read_version(const Json& json, const std::string& path, base::Problems& problems) {
  Members members(json, path, problems);
  DesignDocument document;
  DesignVersion& version = document.version;
  version.version = static_cast<int>(std::min<std::int64_t>(members.count("version"), 1 << 30));
  version.note = members.text("note", false);
  check_note(version.note, members.path("note"), problems);
  version.saved_at = members.time("saved_at", true);
  version.built_at = members.time("built_at", false);
  version.summary = {members.figure("duration_s"), members.figure("sigma_s"),
                     members.figure("diameter_m"), members.text("hall_name", false),
                     members.text("model_name", false)};
  check_summary(version.summary, path + ".", problems);
  document.document_json = members.object("document");
  const Json compact = Json::parse(document.document_json);
  if (!compact.empty()) check_document(compact, members.path("document"), problems);
  members.finish();
  return document;
}

void read_versions(const Json& list, const std::string& path, designs::Whole& design,
                   base::Problems& problems) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string place = fmt::format("{}[{}]", path, i);
    if (!require_object(list[i], place, problems)) continue;
    design.versions.push_back(read_version(list[i], place, problems));
    const DesignVersion& version = design.versions.back().version;
    if (version.version != static_cast<int>(i) + 1) {
      problems.push_back({.field = place + ".version",
                          .value = std::to_string(version.version),
                          .allowed = std::to_string(i + 1),
                          .remedy = "count the versions from 1, without gaps",
                          .message = "the versions of a design are out of order"});
    }
    if (!version.built_at.empty()) design.row.built_version = version.version;
  }
}

designs::Whole read_design(const Json& json, const std::string& path, base::Problems& problems) {
  Members members(json, path, problems);
  designs::Whole design;
  DesignRow& row = design.row;
  row.id = members.id("id", true);
  row.name = members.text("name", true);
  if (json.contains("name")) check_name(row.name, members.path("name"), problems);
  row.revision = members.count("revision");
  row.created_at = members.time("created_at", true);
  row.updated_at = members.time("updated_at", true);
  row.archived_at = members.time("archived_at", false);
  row.copied_from = members.id("copied_from", false);
  const Json& versions = members.list("versions", true);
  read_versions(versions, members.path("versions"), design, problems);
  if (versions.empty() && json.contains("versions")) {
    members.report("versions", "", "at least one", "leave the design out",
                   "a design has at least one version");
  }
  if (!design.versions.empty()) {
    row.version = design.versions.back().version.version;
    row.summary = design.versions.back().version.summary;
  }
  members.finish();
  return design;
}

void check_format(Members& members) {
  const std::string format = members.text("format", true);
  if (!format.empty() && format != export_format) {
    members.report("format", format, export_format, "import a file made by workshop export",
                   "this is another kind of file");
  }
  const std::int64_t version = members.count("format_version");
  if (version > export_version) {
    members.report("format_version", std::to_string(version),
                   fmt::format("up to {}", export_version), "use the newer program",
                   "this export comes from a newer Propwright");
  }
}

void read_table(Members& members, const std::string& table, Import& import,
                base::Problems& problems) {
  const Json& list = members.list(table, false);
  const auto kind = kind_of(table);
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string path = fmt::format("{}[{}]", table, i);
    if (!require_object(list[i], path, problems)) continue;
    if (kind) {
      import.records.push_back({path, read_record(list[i], path, spec_of(*kind), problems)});
    } else {
      import.designs.push_back({path, read_design(list[i], path, problems)});
    }
  }
}

}  // namespace

base::Expected<Import> read_import(const std::string& text) {
  const auto json = read_json(text, deepest_export);
  if (!json) return base::fail(json.error());
  base::Problems problems;
  if (!require_object(*json, "", problems)) return base::fail(std::move(problems));
  Members members(*json, "", problems);
  check_format(members);
  Import import;
  for (const std::string& table : tables_in_order()) read_table(members, table, import, problems);
  members.finish();
  if (!problems.empty()) return base::fail(std::move(problems));
  return import;
}

}  // namespace propwright::workshop
