#include <fmt/format.h>
#include <sqlite3.h>

#include "listing.h"
#include "tables.h"
#include "text.h"

namespace propwright::workshop::designs {
namespace {

constexpr const char* summary_columns = "duration_s, sigma_s, diameter_m, hall_name, model_name";

std::string row_columns() {
  return std::string(
             "id, name, revision, created_at, updated_at, archived_at, version, built_version, "
             "copied_from, ") +
         summary_columns;
}
std::string version_columns() {
  return std::string("version, saved_at, built_at, note, ") + summary_columns;
}

Summary read_summary(SQLite::Statement& row, int at) {
  return {optional_number(row.getColumn(at)), optional_number(row.getColumn(at + 1)),
          optional_number(row.getColumn(at + 2)), row.getColumn(at + 3).getString(),
          row.getColumn(at + 4).getString()};
}

DesignRow read_row(SQLite::Statement& row) {
  const auto text = [&](int at) { return row.getColumn(at).getString(); };
  DesignRow design{.id = text(0),
                   .name = text(1),
                   .revision = row.getColumn(2).getInt64(),
                   .created_at = text(3),
                   .updated_at = text(4),
                   .archived_at = text(5),
                   .version = row.getColumn(6).getInt(),
                   .built_version = {},
                   .copied_from = text(8),
                   .summary = read_summary(row, 9)};
  if (!row.getColumn(7).isNull()) design.built_version = row.getColumn(7).getInt();
  return design;
}

DesignVersion read_version(SQLite::Statement& row) {
  return {row.getColumn(0).getInt(), row.getColumn(1).getString(), row.getColumn(2).getString(),
          row.getColumn(3).getString(), read_summary(row, 4)};
}

int bind_summary(SQLite::Statement& statement, int at, const Summary& summary) {
  bind_optional(statement, at++, summary.duration_s);
  bind_optional(statement, at++, summary.sigma_s);
  bind_optional(statement, at++, summary.diameter_m);
  statement.bind(at++, summary.hall_name);
  statement.bind(at++, summary.model_name);
  return at;
}

std::string search_text(const std::string& name, const Summary& summary, const std::string& note) {
  return folded(fmt::format("{}\n{}\n{}\n{}", name, summary.hall_name, summary.model_name, note));
}

std::optional<DesignRow> get_row(SQLite::Database& db, const std::string& id) {
  SQLite::Statement row(db, fmt::format("SELECT {} FROM designs WHERE id = ?", row_columns()));
  row.bind(1, id);
  return row.executeStep() ? std::optional(read_row(row)) : std::nullopt;
}

void insert_version(SQLite::Database& db, const std::string& id, const DesignDocument& document) {
  SQLite::Statement row(db, fmt::format("INSERT INTO design_versions (design_id, document, {}) "
                                        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                                        version_columns()));
  const DesignVersion& version = document.version;
  row.bind(1, id);
  row.bind(2, document.document_json);
  row.bind(3, version.version);
  row.bind(4, version.saved_at);
  bind_unless_empty(row, 5, version.built_at);
  row.bind(6, version.note);
  bind_summary(row, 7, version.summary);
  row.exec();
}

/// All of a version but its document.
void update_version(SQLite::Database& db, const std::string& id, const DesignVersion& version) {
  SQLite::Statement row(
      db,
      "UPDATE design_versions SET saved_at = ?, note = ?, duration_s = ?, sigma_s = ?, "
      "diameter_m = ?, hall_name = ?, model_name = ? WHERE design_id = ? AND version = ?");
  row.bind(1, version.saved_at);
  row.bind(2, version.note);
  const int at = bind_summary(row, 3, version.summary);
  row.bind(at, id);
  row.bind(at + 1, version.version);
  row.exec();
}

void update_document(SQLite::Database& db, const std::string& id, int version,
                     const std::string& document) {
  SQLite::Statement row(
      db, "UPDATE design_versions SET document = ? WHERE design_id = ? AND version = ?");
  row.bind(1, document);
  row.bind(2, id);
  row.bind(3, version);
  row.exec();
}

/// The row of the design after its version `latest` was written; counts the revision.
void update_row(SQLite::Database& db, const std::string& id, const std::string& name,
                const DesignVersion& latest, const std::string& now) {
  SQLite::Statement row(
      db,
      "UPDATE designs SET name = ?, version = ?, search_text = ?, updated_at = ?, duration_s = ?, "
      "sigma_s = ?, diameter_m = ?, hall_name = ?, model_name = ?, revision = revision + 1 "
      "WHERE id = ?");
  row.bind(1, name);
  row.bind(2, latest.version);
  row.bind(3, search_text(name, latest.summary, latest.note));
  row.bind(4, now);
  row.bind(bind_summary(row, 5, latest.summary), id);
  row.exec();
}

Design create_row(Store& store, const DesignContent& content, const std::string& copied_from) {
  const std::string now = utc_text(store.options.now());
  const std::string id = random_id();
  insert(store.db,
         {.row = {.id = id,
                  .name = content.name,
                  .revision = 1,
                  .created_at = now,
                  .updated_at = now,
                  .archived_at = {},
                  .version = 1,
                  .built_version = {},
                  .copied_from = copied_from,
                  .summary = content.summary},
          .versions = {{{1, now, {}, content.note, content.summary}, content.document_json}}});
  return *get(store.db, id);
}

/// The design as it stands, and whether the caller has seen it so.
Change<Design> look(SQLite::Database& db, const std::string& id, std::int64_t revision) {
  auto present = get(db, id);
  if (!present) return {};
  const bool seen = present->row.revision == revision;
  return {seen ? Done::written : Done::stale, std::move(*present)};
}

}  // namespace

std::optional<Design> get(SQLite::Database& db, const std::string& id) {
  auto row = get_row(db, id);
  if (!row) return std::nullopt;
  Design design{std::move(*row), {}, {}, {}};
  SQLite::Statement versions(
      db, fmt::format("SELECT {} FROM design_versions WHERE design_id = ? ORDER BY version DESC",
                      version_columns()));
  versions.bind(1, id);
  while (versions.executeStep()) design.versions.push_back(read_version(versions));
  if (design.versions.empty() || design.versions.front().version != design.row.version) {
    throw SQLite::Exception("design " + id + " lacks its latest version", SQLITE_CORRUPT);
  }
  if (auto latest = get_version(db, id, design.row.version)) {
    design.document_json = std::move(latest->document_json);
    design.note = std::move(latest->version.note);
  }
  return design;
}

std::optional<DesignDocument> get_version(SQLite::Database& db, const std::string& id,
                                          int version) {
  SQLite::Statement row(
      db,
      fmt::format("SELECT {}, document FROM design_versions WHERE design_id = ? AND version = ?",
                  version_columns()));
  row.bind(1, id);
  row.bind(2, version);
  if (!row.executeStep()) return std::nullopt;
  return DesignDocument{read_version(row), row.getColumn(9).getString()};
}

base::Expected<Page<DesignRow>> list(SQLite::Database& db, const Query& query) {
  if (!query.links.empty()) {
    return base::fail({.field = query.links.begin()->first,
                       .allowed = "no links",
                       .remedy = "leave it out",
                       .message = "designs are not listed by their links"});
  }
  const auto listing = Listing::of("designs", query,
                                   {{"name", "name COLLATE NOCASE"},
                                    {"created", "created_at"},
                                    {"updated", "updated_at"},
                                    {"duration", "duration_s"},
                                    {"diameter", "diameter_m"},
                                    {"hall", "nullif(hall_name, '') COLLATE NOCASE"},
                                    {"model", "nullif(model_name, '') COLLATE NOCASE"}});
  if (!listing) return base::fail(listing.error());
  Page<DesignRow> page{listing->total(db), {}};
  if (!listing->shows_any(page.total)) return page;
  SQLite::Statement rows = listing->rows(db, row_columns());
  while (rows.executeStep()) page.items.push_back(read_row(rows));
  return page;
}

base::Expected<Design> create(Store& store, const DesignContent& given) {
  const auto content = checked(given);
  if (!content) return base::fail(content.error());
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  Design design = create_row(store, *content, {});
  transaction.commit();
  return design;
}

base::Expected<Change<Design>> save(Store& store, const std::string& id, std::int64_t revision,
                                    const DesignContent& given, bool always_new) {
  const auto content = checked(given);
  if (!content) return base::fail(content.error());
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  Change<Design> change = look(store.db, id, revision);
  if (change.done != Done::written) return change;
  const Design& before = change.present;
  const bool built = !before.versions.front().built_at.empty();
  const bool differs = before.document_json != content->document_json;
  change.new_version = always_new || (built && differs);
  const std::string now = utc_text(store.options.now());
  DesignVersion latest{
      before.row.version + (change.new_version ? 1 : 0), now, {}, content->note, content->summary};
  if (change.new_version) {
    insert_version(store.db, id, {latest, content->document_json});
  } else {
    if (differs) update_document(store.db, id, latest.version, content->document_json);
    update_version(store.db, id, latest);
  }
  update_row(store.db, id, content->name, latest, now);
  change.present = *get(store.db, id);
  transaction.commit();
  return change;
}

base::Expected<std::optional<Design>> duplicate(Store& store, const std::string& id,
                                                const std::string& name) {
  base::Problems problems;
  check_name(name, "name", problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  const auto original = get(store.db, id);
  if (!original) return std::optional<Design>();
  Design copy =
      create_row(store, {name, original->document_json, original->note, original->row.summary}, id);
  transaction.commit();
  return std::optional(std::move(copy));
}

base::Expected<Change<Design>> mark_built(Store& store, const std::string& id,
                                          std::int64_t revision, int version) {
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  Change<Design> change = look(store.db, id, revision);
  if (change.done != Done::written) return change;
  const auto document = get_version(store.db, id, version);
  if (!document) return Change<Design>{};
  if (!document->version.built_at.empty()) return change;
  const std::string now = utc_text(store.options.now());
  SQLite::Statement row(
      store.db, "UPDATE design_versions SET built_at = ? WHERE design_id = ? AND version = ?");
  row.bind(1, now);
  row.bind(2, id);
  row.bind(3, version);
  row.exec();
  SQLite::Statement design(store.db,
                           "UPDATE designs SET built_version = max(ifnull(built_version, 0), ?), "
                           "updated_at = ?, revision = revision + 1 WHERE id = ?");
  design.bind(1, version);
  design.bind(2, now);
  design.bind(3, id);
  design.exec();
  change.present = *get(store.db, id);
  transaction.commit();
  return change;
}

base::Expected<Change<Design>> set_archived(Store& store, const std::string& id,
                                            std::int64_t revision, bool archived) {
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  Change<Design> change = look(store.db, id, revision);
  if (change.done != Done::written) return change;
  if (change.present.row.archived_at.empty() != archived) return change;
  const std::string now = utc_text(store.options.now());
  SQLite::Statement row(store.db,
                        "UPDATE designs SET archived_at = ?, updated_at = ?, "
                        "revision = revision + 1 WHERE id = ?");
  bind_unless_empty(row, 1, archived ? now : "");
  row.bind(2, now);
  row.bind(3, id);
  row.exec();
  change.present = *get(store.db, id);
  transaction.commit();
  return change;
}

void insert(SQLite::Database& db, const Whole& design) {
  const DesignRow& row = design.row;
  SQLite::Statement statement(db,
                              fmt::format("INSERT INTO designs (search_text, {}) "
                                          "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                                          row_columns()));
  statement.bind(1, search_text(row.name, row.summary, design.versions.back().version.note));
  statement.bind(2, row.id);
  statement.bind(3, row.name);
  statement.bind(4, row.revision);
  statement.bind(5, row.created_at);
  statement.bind(6, row.updated_at);
  bind_unless_empty(statement, 7, row.archived_at);
  statement.bind(8, row.version);
  if (row.built_version) statement.bind(9, *row.built_version);
  bind_unless_empty(statement, 10, row.copied_from);
  bind_summary(statement, 11, row.summary);
  statement.exec();
  for (const DesignDocument& version : design.versions) insert_version(db, row.id, version);
}

std::optional<Whole> whole(SQLite::Database& db, const std::string& id) {
  auto row = get_row(db, id);
  if (!row) return std::nullopt;
  Whole design{std::move(*row), {}};
  for (int version = 1; version <= design.row.version; ++version) {
    if (auto document = get_version(db, id, version)) {
      design.versions.push_back(std::move(*document));
    }
  }
  return design;
}

std::vector<std::string> all_ids(SQLite::Database& db) {
  std::vector<std::string> ids;
  SQLite::Statement rows(db, "SELECT id FROM designs ORDER BY id");
  while (rows.executeStep()) ids.push_back(rows.getColumn(0).getString());
  return ids;
}

}  // namespace propwright::workshop::designs
