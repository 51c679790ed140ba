/// The workshop: every hall, model, rubber batch, motor and design of a user in one SQLite file.
/// The tables are described for users in docs/workshop-file.md.
///
/// Files: FILE, and beside it FILE-wal and FILE-shm while it is open. Nothing is ever deleted:
/// records are archived, and a file that is migrated or replaced is kept under a new name.
///
/// Durability: a write is on the disk when its function returns (WAL, synchronous=FULL); a kill or
/// a power cut later does not lose it, and a write that was under way is not there at all.
///
/// Threads: every member may be called from any thread at any time; one mutex inside makes them
/// take turns. Several objects and several processes may have one file open; a writer waits for
/// another up to Options::busy_timeout_ms.
///
/// Problems: bad_input for what the caller handed in (`field` is the member: "name", "section",
/// "document", "sort", ...), resource_failed for the file and the disk.
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/workshop/records.h"

namespace propwright::workshop {

using Clock = std::function<std::chrono::system_clock::time_point()>;

/// One step from the tables of version - 1 to those of `version`.
struct Migration {
  int version = 0;  ///< from 1, without gaps
  std::string name;
  std::string sql;
};

struct Options {
  Clock now = [] { return std::chrono::system_clock::now(); };
  bool create = true;  ///< make the file, and the folders above it, where there is none
  int busy_timeout_ms = 5000;
  /// Empty: the program's own steps. Tests hand in others.
  std::vector<Migration> migrations = {};
};

/// The steps of this program, oldest first; the last one's version is the schema version.
std::vector<Migration> migrations();

/// What check found; sound when `problems` is empty.
struct CheckReport {
  std::filesystem::path path;
  int schema_version = 0;
  std::int64_t size_bytes = 0;
  std::vector<std::pair<std::string, std::int64_t>> records;  ///< count by table
  base::Problems problems;
};

struct RestoreReport {
  std::filesystem::path replaced_kept_as;
  std::vector<std::pair<std::string, std::int64_t>> records;  ///< count by table, afterwards
};

struct ImportReport {
  std::vector<std::pair<std::string, std::int64_t>> added;  ///< count by table
  std::int64_t skipped = 0;  ///< records that were there already, equal in everything
};

class Workshop {
 public:
  /// Opens, makes or migrates the file. An older file is backed up beside itself before it is
  /// migrated, in one transaction. Refused, with nothing touched: what is no database, is damaged,
  /// belongs to another program, or comes from a newer Propwright.
  static base::Expected<Workshop> open(const std::filesystem::path& path, Options options = {});
  /// A workshop that is gone with the object.
  static base::Expected<Workshop> in_memory(Options options = {});
  /// Looks at a file without opening it for writing, migrating or touching it: all that the
  /// database itself can verify, and that designs and versions agree. A file that open would refuse
  /// as no database, foreign or newer is a Problem here as well; damage is in the report.
  static base::Expected<CheckReport> check_file(const std::filesystem::path& path);

  /// restore_from for a file that may not open any more: a damaged one is given another name first,
  /// and a missing one is made. Another program's file and a newer one stay as they are.
  static base::Expected<RestoreReport> restore_file(const std::filesystem::path& target,
                                                    const std::filesystem::path& source,
                                                    Options options = {});

  Workshop(Workshop&&) noexcept;
  Workshop& operator=(Workshop&&) noexcept;
  ~Workshop();

  const std::filesystem::path& path() const;  ///< empty for one in memory
  int schema_version() const;
  /// Made once with the file and kept in it: 1 to 64 of a-z and 0-9. A copy of the file has the
  /// same one.
  base::Expected<std::string> id() const;
  /// The backup that open made before it migrated; empty when there was nothing to migrate.
  const std::filesystem::path& migration_backup() const;

  // --- records with one JSON object ----------------------------------------------------------
  /// In the list Content::attached is left empty.
  base::Expected<Page<Record>> list(RecordKind kind, const Query& query = {}) const;
  base::Expected<std::optional<Record>> get(RecordKind kind, const std::string& id) const;
  /// `id` "" makes a new one (16 random letters and digits). An id made elsewhere that exists with
  /// the same content gives the record that is there, so that a repeated call does no harm; with
  /// other content it is a problem of `id`.
  base::Expected<Record> create(RecordKind kind, const Content& content,
                                const std::string& id = {});
  /// The record that is not archived and has this very name, else a new one: in one step, so that
  /// of several who ask at the same time one makes it and the others get the same.
  base::Expected<Record> create_named(RecordKind kind, const Content& content);
  /// `revision` is the one the caller has seen.
  base::Expected<Change<Record>> update(RecordKind kind, const std::string& id,
                                        std::int64_t revision, const Content& content);
  /// Out of the usual lists, and back. Archiving what is archived changes nothing.
  base::Expected<Change<Record>> archive(RecordKind kind, const std::string& id,
                                         std::int64_t revision);
  base::Expected<Change<Record>> restore(RecordKind kind, const std::string& id,
                                         std::int64_t revision);

  /// Every flight of a propeller (Query::flown_with) that is not archived, by time.
  base::Expected<std::vector<FlownFlight>> flown(const FlownWith& propeller) const;

  // --- designs ---------------------------------------------------------------------------------
  base::Expected<Page<DesignRow>> list_designs(const Query& query = {}) const;
  base::Expected<std::optional<Design>> get_design(const std::string& id) const;
  /// Nothing when there is no such design or version.
  base::Expected<std::optional<DesignDocument>> get_version(const std::string& id,
                                                            int version) const;
  base::Expected<Design> create_design(const DesignContent& content);
  /// Changes the latest version; when that one has been built and the document differs from it,
  /// makes a new version instead (Change::new_version).
  base::Expected<Change<Design>> save_design(const std::string& id, std::int64_t revision,
                                             const DesignContent& content);
  /// Makes a new version in any case.
  base::Expected<Change<Design>> add_version(const std::string& id, std::int64_t revision,
                                             const DesignContent& content);
  /// A new design from the latest version of another. Absent: no such design.
  base::Expected<std::optional<Design>> duplicate_design(const std::string& id,
                                                         const std::string& name);
  /// From now on this version's document stands fast. Marking it again keeps the first date.
  base::Expected<Change<Design>> mark_built(const std::string& id, std::int64_t revision,
                                            int version);
  base::Expected<Change<Design>> archive_design(const std::string& id, std::int64_t revision);
  base::Expected<Change<Design>> restore_design(const std::string& id, std::int64_t revision);

  // --- the whole file --------------------------------------------------------------------------
  base::Expected<CheckReport> check() const;
  /// One whole, checked copy in a single file. Problem: there is a file of that name already.
  base::Expected<void> backup_to(const std::filesystem::path& path) const;
  /// Puts the content of another workshop file in the place of this one's, after it has been
  /// checked in full (and migrated, in a copy, if it is older). The replaced content is kept beside
  /// this file. All or nothing.
  base::Expected<RestoreReport> restore_from(const std::filesystem::path& path);
  /// Every record as one JSON document (docs/workshop-export.schema.json); same content, same
  /// bytes.
  base::Expected<std::string> export_json() const;
  /// Adds the records of an export. Every problem is reported with its JSON path as the field; then
  /// nothing is changed. `file` is used in the problems only.
  base::Expected<ImportReport> import_json(const std::string& text, const std::string& file = {});

 private:
  struct Impl;
  explicit Workshop(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace propwright::workshop
