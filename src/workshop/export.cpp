#include <sqlite3.h>

#include "export_rows.h"

namespace propwright::workshop {
namespace {

/// JSON that was checked when it was written; if it has changed since, the file is damaged.
Json kept(const std::string& text) {
  try {
    return Json::parse(text);
  } catch (const Json::exception& error) {
    throw SQLite::Exception(error.what(), SQLITE_CORRUPT);
  }
}

Json or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}
Json or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json version_json(const DesignDocument& document) {
  const DesignVersion& version = document.version;
  const Summary& summary = version.summary;
  return {{"version", version.version},
          {"note", version.note},
          {"saved_at", version.saved_at},
          {"built_at", or_null(version.built_at)},
          {"duration_s", or_null(summary.duration_s)},
          {"sigma_s", or_null(summary.sigma_s)},
          {"diameter_m", or_null(summary.diameter_m)},
          {"hall_name", summary.hall_name},
          {"model_name", summary.model_name},
          {"document", kept(document.document_json)}};
}

Json records_of(SQLite::Database& db, const std::string& table) {
  Json list = Json::array();
  if (const auto kind = kind_of(table)) {
    const KindSpec& spec = spec_of(*kind);
    for (const Record& record : records::all(db, spec)) list.push_back(to_json(spec, record));
  } else {
    for (const std::string& id : designs::all_ids(db)) {
      list.push_back(to_json(*designs::whole(db, id)));
    }
  }
  return list;
}

}  // namespace

Json to_json(const KindSpec& spec, const Record& record) {
  const Content& content = record.content;
  Json json{{"id", record.id},
            {"name", content.name},
            {"revision", record.revision},
            {"created_at", record.created_at},
            {"updated_at", record.updated_at},
            {"archived_at", or_null(record.archived_at)}};
  for (const Link& link : spec.links) {
    const auto given = content.links.find(link.column);
    json[link.column] = given == content.links.end() ? Json(nullptr) : Json(given->second);
  }
  json["section"] = kept(content.section_json);
  if (!spec.attached.empty()) json[spec.attached] = content.attached;
  return json;
}

Json to_json(const designs::Whole& design) {
  const DesignRow& row = design.row;
  Json versions = Json::array();
  for (const DesignDocument& version : design.versions) versions.push_back(version_json(version));
  return {{"id", row.id},
          {"name", row.name},
          {"revision", row.revision},
          {"created_at", row.created_at},
          {"updated_at", row.updated_at},
          {"archived_at", or_null(row.archived_at)},
          {"copied_from", or_null(row.copied_from)},
          {"versions", std::move(versions)}};
}

std::string export_json(SQLite::Database& db) {
  Json document{{"format", export_format}, {"format_version", export_version}};
  for (const std::string& table : tables_in_order()) document[table] = records_of(db, table);
  try {
    return document.dump(1) + "\n";
  } catch (const Json::exception& error) {  // text that is no UTF-8
    throw SQLite::Exception(error.what(), SQLITE_CORRUPT);
  }
}

}  // namespace propwright::workshop
