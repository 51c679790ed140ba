/// Reading and writing the rows of the tables. Names as the members of Workshop; every function
/// throws SQLite::Exception when the file fails.
#pragma once

#include "content.h"
#include "store.h"

namespace propwright::workshop {

/// One value of a row, or NULL.
void bind_optional(SQLite::Statement& statement, int at, const std::optional<double>& value);
/// NULL for "".
void bind_unless_empty(SQLite::Statement& statement, int at, const std::string& value);
std::optional<double> optional_number(const SQLite::Column& column);

namespace records {

std::optional<Record> get(SQLite::Database& db, const KindSpec& spec, const std::string& id);
base::Expected<Page<Record>> list(SQLite::Database& db, const KindSpec& spec, const Query& query);
base::Expected<Record> create(Store& store, const KindSpec& spec, const Content& content,
                              const std::string& id);
base::Expected<Record> create_named(Store& store, const KindSpec& spec, const Content& given);
base::Expected<Change<Record>> update(Store& store, const KindSpec& spec, const std::string& id,
                                      std::int64_t revision, const Content& content);
base::Expected<Change<Record>> set_archived(Store& store, const KindSpec& spec,
                                            const std::string& id, std::int64_t revision,
                                            bool archived);
std::vector<FlownFlight> flown(SQLite::Database& db, const FlownWith& propeller);
/// A row as it is, for import.
void insert(SQLite::Database& db, const KindSpec& spec, const Record& record);
/// All, by id.
std::vector<Record> all(SQLite::Database& db, const KindSpec& spec);

}  // namespace records

namespace designs {

/// A design with the documents of all its versions, for export and import; oldest first.
struct Whole {
  DesignRow row;
  std::vector<DesignDocument> versions;
};

std::optional<Design> get(SQLite::Database& db, const std::string& id);
std::optional<DesignDocument> get_version(SQLite::Database& db, const std::string& id, int version);
base::Expected<Page<DesignRow>> list(SQLite::Database& db, const Query& query);
base::Expected<Design> create(Store& store, const DesignContent& content);
/// `always_new`: add_version instead of save_design.
base::Expected<Change<Design>> save(Store& store, const std::string& id, std::int64_t revision,
                                    const DesignContent& content, bool always_new);
base::Expected<std::optional<Design>> duplicate(Store& store, const std::string& id,
                                                const std::string& name);
base::Expected<Change<Design>> mark_built(Store& store, const std::string& id,
                                          std::int64_t revision, int version);
base::Expected<Change<Design>> set_archived(Store& store, const std::string& id,
                                            std::int64_t revision, bool archived);
void insert(SQLite::Database& db, const Whole& design);
std::optional<Whole> whole(SQLite::Database& db, const std::string& id);
std::vector<std::string> all_ids(SQLite::Database& db);

}  // namespace designs

/// One JSON document with every record, and back.
std::string export_json(SQLite::Database& db);
base::Expected<ImportReport> import_json(Store& store, const std::string& text,
                                         const std::string& file);

}  // namespace propwright::workshop
