#include <fmt/format.h>

#include "listing.h"
#include "tables.h"
#include "text.h"

namespace propwright::workshop {

void bind_optional(SQLite::Statement& statement, int at, const std::optional<double>& value) {
  if (value) {
    statement.bind(at, *value);
  } else {
    statement.bind(at);
  }
}

void bind_unless_empty(SQLite::Statement& statement, int at, const std::string& value) {
  if (value.empty()) {
    statement.bind(at);
  } else {
    statement.bind(at, value);
  }
}

std::optional<double> optional_number(const SQLite::Column& column) {
  return column.isNull() ? std::nullopt : std::optional(column.getDouble());
}

namespace records {
namespace {

/// The fixed columns first, then what is attached where there is any, then the links.
constexpr const char* fixed_columns =
    "id, name, section, revision, created_at, updated_at, archived_at";
constexpr int fixed_count = 7;

std::string columns_of(const KindSpec& spec) {
  std::string columns = fixed_columns;
  if (!spec.attached.empty()) columns += ", " + spec.attached;
  for (const Link& link : spec.links) columns += ", " + link.column;
  return columns;
}

Record read(SQLite::Statement& row, const KindSpec& spec) {
  const auto text = [&](int at) { return row.getColumn(at).getString(); };
  Record record;
  record.kind = spec.kind;
  record.id = text(0);
  record.content.name = text(1);
  record.content.section_json = text(2);
  record.revision = row.getColumn(3).getInt64();
  record.created_at = text(4);
  record.updated_at = text(5);
  record.archived_at = text(6);
  int at = fixed_count;
  if (!spec.attached.empty()) record.content.attached = text(at++);
  for (const Link& link : spec.links) {
    if (!row.getColumn(at).isNull()) record.content.links[link.column] = text(at);
    ++at;
  }
  return record;
}

/// Every link must lead to a record that is there.
base::Problems dangling(SQLite::Database& db, const KindSpec& spec, const Content& content) {
  base::Problems problems;
  for (const Link& link : spec.links) {
    const auto given = content.links.find(link.column);
    if (given == content.links.end()) continue;
    SQLite::Statement target(db, "SELECT 1 FROM " + link.table + " WHERE id = ?");
    target.bind(1, given->second);
    if (target.executeStep()) continue;
    problems.push_back({.field = link.column,
                        .value = given->second,
                        .allowed = "an id in " + link.table,
                        .remedy = "make that record first",
                        .message = "there is no such record to link to"});
  }
  return problems;
}

bool same(const Content& a, const Content& b) {
  return a.name == b.name && a.section_json == b.section_json && a.attached == b.attached &&
         a.links == b.links;
}

/// The content from parameter `at` on, in the order of the columns it is bound to.
void bind_content(SQLite::Statement& statement, int at, const KindSpec& spec,
                  const Content& content) {
  statement.bind(at++, content.name);
  statement.bind(at++, content.section_json);
  statement.bind(at++, folded(content.name));
  if (!spec.attached.empty()) statement.bind(at++, content.attached);
  for (const Link& link : spec.links) {
    const auto given = content.links.find(link.column);
    bind_unless_empty(statement, at++, given == content.links.end() ? "" : given->second);
  }
}

std::string content_assignments(const KindSpec& spec) {
  std::string assignments = "name = ?, section = ?, search_text = ?";
  if (!spec.attached.empty()) assignments += ", " + spec.attached + " = ?";
  for (const Link& link : spec.links) assignments += ", " + link.column + " = ?";
  return assignments;
}

int content_count(const KindSpec& spec) {
  return 3 + (spec.attached.empty() ? 0 : 1) + static_cast<int>(spec.links.size());
}

}  // namespace

std::optional<Record> get(SQLite::Database& db, const KindSpec& spec, const std::string& id) {
  SQLite::Statement row(
      db, fmt::format("SELECT {} FROM {} WHERE id = ?", columns_of(spec), spec.table));
  row.bind(1, id);
  return row.executeStep() ? std::optional(read(row, spec)) : std::nullopt;
}

std::vector<Record> all(SQLite::Database& db, const KindSpec& spec) {
  SQLite::Statement row(db,
                        fmt::format("SELECT {} FROM {} ORDER BY id", columns_of(spec), spec.table));
  std::vector<Record> result;
  while (row.executeStep()) result.push_back(read(row, spec));
  return result;
}

base::Expected<Page<Record>> list(SQLite::Database& db, const KindSpec& spec, const Query& query) {
  base::Problems problems;
  check_links(spec, query.links, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  std::map<std::string, std::string> orders{
      {"name", "name COLLATE NOCASE"}, {"created", "created_at"}, {"updated", "updated_at"}};
  if (spec.kind == RecordKind::flight) orders["flown"] = "section ->> '$.flight.time'";
  if (query.flown_with && spec.kind != RecordKind::flight) {
    return base::fail({.field = "propeller",
                       .remedy = "leave it out",
                       .message = fmt::format("{} are not flown with a propeller", spec.table)});
  }
  const auto listing = Listing::of(spec.table, query, orders);
  if (!listing) return base::fail(listing.error());
  Page<Record> page{listing->total(db), {}};
  if (!listing->shows_any(page.total)) return page;
  KindSpec bare = spec;  // a list of long curves or of pictures would be slow, and nobody reads it
  bare.attached.clear();
  SQLite::Statement rows = listing->rows(db, columns_of(bare));
  while (rows.executeStep()) page.items.push_back(read(rows, bare));
  return page;
}

// The plus keeps the planner from walking all flights in the order of their time.
std::vector<FlownFlight> flown(SQLite::Database& db, const FlownWith& propeller) {
  SQLite::Statement row(
      db, fmt::format("SELECT id, coalesce(section ->> '$.flight.time', '') AS time, "
                      "section ->> '$.flight.duration_s', "
                      "coalesce(section ->> '$.flight.flag', '') "
                      "FROM flights WHERE rowid IN ({}) AND +archived_at IS NULL ORDER BY time",
                      rows_of_propeller));
  row.bind(1, propeller.propeller_id);
  row.bind(2, propeller.propeller);
  std::vector<FlownFlight> flights;
  while (row.executeStep()) {
    flights.push_back({row.getColumn(0).getString(), row.getColumn(1).getString(),
                       optional_number(row.getColumn(2)), row.getColumn(3).getString()});
  }
  return flights;
}

void insert(SQLite::Database& db, const KindSpec& spec, const Record& record) {
  std::string columns = "name, section, search_text";
  if (!spec.attached.empty()) columns += ", " + spec.attached;
  for (const Link& link : spec.links) columns += ", " + link.column;
  std::string marks = "?, ?, ?, ?, ?";
  for (int i = 0; i < content_count(spec); ++i) marks += ", ?";
  SQLite::Statement row(
      db, fmt::format("INSERT INTO {} (id, revision, created_at, updated_at, archived_at, {}) "
                      "VALUES ({})",
                      spec.table, columns, marks));
  row.bind(1, record.id);
  row.bind(2, record.revision);
  row.bind(3, record.created_at);
  row.bind(4, record.updated_at);
  bind_unless_empty(row, 5, record.archived_at);
  bind_content(row, 6, spec, record.content);
  row.exec();
}

base::Expected<Record> create(Store& store, const KindSpec& spec, const Content& given,
                              const std::string& id) {
  auto content = checked(spec, given);
  base::Problems problems = content ? base::Problems() : content.error();
  if (!id.empty()) check_id(id, "id", problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  if (auto present = get(store.db, spec, id)) {
    if (same(present->content, *content)) return *present;
    return base::fail({.field = "id",
                       .value = id,
                       .allowed = "an id that is free",
                       .remedy = "change the record that is there, or take another id",
                       .message = "there is another record with this id"});
  }
  problems = dangling(store.db, spec, *content);
  if (!problems.empty()) return base::fail(std::move(problems));
  const std::string now = utc_text(store.options.now());
  const Record record{spec.kind,          id.empty() ? random_id() : id, 1, now, now, {},
                      std::move(*content)};
  insert(store.db, spec, record);
  transaction.commit();
  return record;
}

base::Expected<Record> create_named(Store& store, const KindSpec& spec, const Content& given) {
  auto content = checked(spec, given);
  if (!content) return base::fail(content.error());
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  SQLite::Statement row(store.db,
                        fmt::format("SELECT {} FROM {} WHERE name = ? AND archived_at IS NULL "
                                    "ORDER BY created_at, id LIMIT 1",
                                    columns_of(spec), spec.table));
  row.bind(1, content->name);
  if (row.executeStep()) return read(row, spec);
  base::Problems problems = dangling(store.db, spec, *content);
  if (!problems.empty()) return base::fail(std::move(problems));
  const std::string now = utc_text(store.options.now());
  const Record record{spec.kind, random_id(), 1, now, now, {}, std::move(*content)};
  insert(store.db, spec, record);
  transaction.commit();
  return record;
}

base::Expected<Change<Record>> update(Store& store, const KindSpec& spec, const std::string& id,
                                      std::int64_t revision, const Content& given) {
  const auto content = checked(spec, given);
  if (!content) return base::fail(content.error());
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  auto present = get(store.db, spec, id);
  if (!present) return Change<Record>{};
  if (present->revision != revision) return Change<Record>{Done::stale, std::move(*present)};
  auto problems = dangling(store.db, spec, *content);
  if (!problems.empty()) return base::fail(std::move(problems));
  SQLite::Statement row(
      store.db,
      fmt::format("UPDATE {} SET {}, revision = revision + 1, updated_at = ? WHERE id = ?",
                  spec.table, content_assignments(spec)));
  bind_content(row, 1, spec, *content);
  row.bind(content_count(spec) + 1, utc_text(store.options.now()));
  row.bind(content_count(spec) + 2, id);
  row.exec();
  present = get(store.db, spec, id);
  transaction.commit();
  return Change<Record>{Done::written, std::move(*present)};
}

base::Expected<Change<Record>> set_archived(Store& store, const KindSpec& spec,
                                            const std::string& id, std::int64_t revision,
                                            bool archived) {
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  auto present = get(store.db, spec, id);
  if (!present) return Change<Record>{};
  if (present->revision != revision) return Change<Record>{Done::stale, std::move(*present)};
  if (present->archived_at.empty() != archived) {
    return Change<Record>{Done::written, std::move(*present)};  // it is so already
  }
  SQLite::Statement row(store.db, fmt::format("UPDATE {} SET archived_at = ?, updated_at = ?, "
                                              "revision = revision + 1 WHERE id = ?",
                                              spec.table));
  const std::string now = utc_text(store.options.now());
  bind_unless_empty(row, 1, archived ? now : "");
  row.bind(2, now);
  row.bind(3, id);
  row.exec();
  present = get(store.db, spec, id);
  transaction.commit();
  return Change<Record>{Done::written, std::move(*present)};
}

}  // namespace records
}  // namespace propwright::workshop
