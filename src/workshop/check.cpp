#include <fmt/format.h>

#include "copies.h"
#include "inspect.h"
#include "store.h"

namespace propwright::workshop {
namespace {

base::Problem damage(const std::filesystem::path& path, const std::string& field,
                     const std::string& message) {
  return {.kind = base::Kind::resource_failed,
          .file = path.string(),
          .field = field,
          .remedy = "restore a backup with: propwright workshop restore BACKUP",
          .message = message};
}

void check_pages(SQLite::Database& db, CheckReport& report) {
  SQLite::Statement rows(db, "PRAGMA integrity_check(100)");
  while (rows.executeStep()) {
    const std::string line = rows.getColumn(0).getString();
    if (line != "ok") report.problems.push_back(damage(report.path, "", line));
  }
}

void check_links(SQLite::Database& db, CheckReport& report) {
  SQLite::Statement rows(db, "PRAGMA foreign_key_check");
  while (rows.executeStep()) {
    const std::string table = rows.getColumn(0).getString();
    const std::string row = rows.getColumn(1).getString();
    const std::string target = rows.getColumn(2).getString();
    report.problems.push_back(
        damage(report.path, table,
               fmt::format("row {} links to a record of {} that does not exist", row, target)));
  }
}

/// Designs repeat figures of their latest version; versions are counted from 1 without gaps.
constexpr const char* disagreeing_designs =
    "SELECT d.id FROM designs d LEFT JOIN design_versions v"
    "  ON v.design_id = d.id AND v.version = d.version "
    "WHERE v.version IS NULL"
    " OR d.version <> (SELECT count(*) FROM design_versions a WHERE a.design_id = d.id)"
    " OR d.built_version IS NOT (SELECT max(version) FROM design_versions b"
    "    WHERE b.design_id = d.id AND b.built_at IS NOT NULL)"
    " OR (d.duration_s, d.sigma_s, d.diameter_m, d.hall_name, d.model_name)"
    "    IS NOT (v.duration_s, v.sigma_s, v.diameter_m, v.hall_name, v.model_name)";

void check_designs(SQLite::Database& db, CheckReport& report) {
  SQLite::Statement rows(db, disagreeing_designs);
  while (rows.executeStep()) {
    report.problems.push_back(damage(
        report.path, "designs",
        fmt::format("design {} does not agree with its versions", rows.getColumn(0).getString())));
  }
}

base::Expected<CheckReport> damaged_file(const std::filesystem::path& path,
                                         const std::string& how) {
  CheckReport report;
  report.path = path;
  report.problems.push_back(damage(path, "", how));
  return report;
}

}  // namespace

base::Expected<CheckReport> check_file(const std::filesystem::path& path, int newest) {
  auto file = open_to_look(path, newest);
  if (!file) {
    if (!file.error().damaged) return base::fail(file.error().problem);
    return damaged_file(path, file.error().problem.message);
  }
  try {
    // SQLite 3.40 leaves CHECK constraints out of the check of a file that is open for reading
    // only, so a copy in memory is checked, page by page the same.
    SQLite::Database copy = connect(":memory:", Access::create, 0);
    replace_content(copy, *file, 5000);
    return check_database(copy, path, newest);
  } catch (const SQLite::Exception& error) {
    return damaged_file(path, error.what());
  }
}

base::Expected<CheckReport> check_database(SQLite::Database& db, const std::filesystem::path& path,
                                           int newest) {
  CheckReport report;
  report.path = path;
  try {
    report.schema_version = static_cast<int>(number(db, "PRAGMA user_version"));
    report.size_bytes = number(db, "PRAGMA page_count") * number(db, "PRAGMA page_size");
    check_pages(db, report);
    if (!report.problems.empty()) return report;
    check_links(db, report);
    report.records = count_records(db);
    const bool ours = report.schema_version == newest && db.tableExists("design_versions");
    if (ours) check_designs(db, report);
  } catch (const SQLite::Exception& error) {
    report.problems.push_back(damage(path, "", error.what()));
  }
  return report;
}

}  // namespace propwright::workshop
