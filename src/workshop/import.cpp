#include <fmt/format.h>

#include <map>
#include <set>

#include "export_rows.h"
#include "import_reader.h"

namespace propwright::workshop {
namespace {

bool equal(const Json& a, const Json& b) {
  // The order of members is not content.
  return nlohmann::json(a) == nlohmann::json(b);
}

/// Which records of the import are new, and what stands in the way of the others.
class Plan {
 public:
  Plan(SQLite::Database& db, const Import& import) : db_(db) {
    for (const auto& [path, record] : import.records) {
      const KindSpec& spec = spec_of(record.kind);
      note_id(spec.table, record.id, path);
      const auto present = records::get(db, spec, record.id);
      if (!present) {
        records_.push_back(&record);
      } else {
        compare(spec.table, record.id, path, to_json(spec, *present), to_json(spec, record));
      }
    }
    for (const auto& [path, design] : import.designs) {
      note_id("designs", design.row.id, path);
      const auto present = designs::whole(db, design.row.id);
      if (!present) {
        designs_.push_back(&design);
      } else {
        compare("designs", design.row.id, path, to_json(*present), to_json(design));
      }
    }
    check_links(import);
  }

  base::Problems problems;

  ImportReport carry_out() {
    for (const Record* record : records_) {
      const KindSpec& spec = spec_of(record->kind);
      records::insert(db_, spec, *record);
      ++added_[spec.table];
    }
    for (const designs::Whole* design : designs_) designs::insert(db_, *design);
    added_["designs"] += static_cast<std::int64_t>(designs_.size());
    ImportReport report;
    for (const std::string& table : tables_in_order()) {
      report.added.emplace_back(table, added_[table]);
    }
    report.skipped = skipped_;
    return report;
  }

 private:
  void note_id(const std::string& table, const std::string& id, const std::string& path) {
    if (ids_[table].insert(id).second) return;
    problems.push_back({.field = path + ".id",
                        .value = id,
                        .allowed = "each id once",
                        .remedy = "leave one of them out",
                        .message = fmt::format("this id stands twice in {}", table)});
  }

  void compare(const std::string& table, const std::string& id, const std::string& path,
               const Json& present, const Json& given) {
    if (equal(present, given)) {
      ++skipped_;
      return;
    }
    problems.push_back(
        {.field = path + ".id",
         .value = id,
         .allowed = "an id that is free, or the same content",
         .remedy = "leave the record out, or import into a new workshop",
         .message = fmt::format("the workshop has another record with this id in {}", table)});
  }

  void check_link(const std::string& table, const std::string& id, const std::string& field) {
    if (id.empty() || ids_[table].contains(id)) return;
    SQLite::Statement target(db_, "SELECT 1 FROM " + table + " WHERE id = ?");
    target.bind(1, id);
    if (target.executeStep()) return;
    problems.push_back({.field = field,
                        .value = id,
                        .allowed = "an id in " + table + " of the file or of the workshop",
                        .remedy = "add that record, or write null",
                        .message = "there is no such record to link to"});
  }

  void check_links(const Import& import) {
    for (const auto& [path, record] : import.records) {
      for (const Link& link : spec_of(record.kind).links) {
        const auto given = record.content.links.find(link.column);
        if (given == record.content.links.end()) continue;
        check_link(link.table, given->second, path + "." + link.column);
      }
    }
    for (const auto& [path, design] : import.designs) {
      check_link("designs", design.row.copied_from, path + ".copied_from");
    }
  }

  SQLite::Database& db_;
  std::vector<const Record*> records_;
  std::vector<const designs::Whole*> designs_;
  std::map<std::string, std::set<std::string>> ids_;
  std::map<std::string, std::int64_t> added_;
  std::int64_t skipped_ = 0;
};

tl::unexpected<base::Problems> fail_in(const std::string& file, base::Problems problems) {
  for (base::Problem& problem : problems) problem.file = file;
  return base::fail(std::move(problems));
}

}  // namespace

base::Expected<ImportReport> import_json(Store& store, const std::string& text,
                                         const std::string& file) {
  const auto import = read_import(text);
  if (!import) return fail_in(file, import.error());
  SQLite::Transaction transaction(store.db, SQLite::TransactionBehavior::IMMEDIATE);
  Plan plan(store.db, *import);
  if (!plan.problems.empty()) return fail_in(file, std::move(plan.problems));
  const ImportReport report = plan.carry_out();
  transaction.commit();
  return report;
}

}  // namespace propwright::workshop
