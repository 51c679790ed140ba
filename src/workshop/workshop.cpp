#include "propwright/workshop/workshop.h"

#include <mutex>

#include "copies.h"
#include "kinds.h"
#include "migrate.h"
#include "tables.h"

namespace propwright::workshop {

struct Workshop::Impl {
  explicit Impl(Store opened) : store(std::move(opened)) {}
  std::mutex mutex;
  Store store;

  /// One caller at a time; what SQLite throws becomes a problem. `work` takes the Store.
  template <class T, class Work>
  base::Expected<T> run(Work work) {
    const std::lock_guard lock(mutex);
    try {
      return work(store);
    } catch (const SQLite::Exception& error) {
      return base::fail(problem_of(error, store.path));
    }
  }
  /// The same for reading: one state of the file throughout, whatever others write meanwhile.
  template <class T, class Work>
  base::Expected<T> look(Work work) {
    return run<T>([&](Store& opened) -> base::Expected<T> {
      SQLite::Transaction transaction(opened.db);
      return work(opened.db);
    });
  }
};

Workshop::Workshop(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Workshop::Workshop(Workshop&&) noexcept = default;
Workshop& Workshop::operator=(Workshop&&) noexcept = default;
Workshop::~Workshop() = default;

base::Expected<Workshop> Workshop::open(const std::filesystem::path& path, Options options) {
  if (path.empty()) {
    return base::fail({.field = "workshop",
                       .remedy = "name the workshop file",
                       .message = "the name of the workshop file is empty"});
  }
  auto store = open_store(path, std::move(options));
  if (!store) return base::fail(store.error());
  return Workshop(std::make_unique<Impl>(std::move(*store)));
}

base::Expected<Workshop> Workshop::in_memory(Options options) {
  auto store = open_store({}, std::move(options));
  if (!store) return base::fail(store.error());
  return Workshop(std::make_unique<Impl>(std::move(*store)));
}

base::Expected<CheckReport> Workshop::check_file(const std::filesystem::path& path) {
  return workshop::check_file(path, newest_version(migrations()));
}

base::Expected<RestoreReport> Workshop::restore_file(const std::filesystem::path& target,
                                                     const std::filesystem::path& source,
                                                     Options options) {
  try {
    return workshop::restore_file(target, source, std::move(options));
  } catch (const SQLite::Exception& error) {
    return base::fail(problem_of(error, target));
  }
}

const std::filesystem::path& Workshop::path() const {
  return impl_->store.path;
}
int Workshop::schema_version() const {
  return newest_version(impl_->store.options.migrations);
}
base::Expected<std::string> Workshop::id() const {
  return impl_->look<std::string>(
      [](SQLite::Database& db) { return text(db, "SELECT id FROM identity"); });
}
const std::filesystem::path& Workshop::migration_backup() const {
  return impl_->store.migration_backup;
}

base::Expected<Page<Record>> Workshop::list(RecordKind kind, const Query& query) const {
  return impl_->look<Page<Record>>(
      [&](SQLite::Database& db) { return records::list(db, spec_of(kind), query); });
}

base::Expected<std::optional<Record>> Workshop::get(RecordKind kind, const std::string& id) const {
  return impl_->look<std::optional<Record>>(
      [&](SQLite::Database& db) { return records::get(db, spec_of(kind), id); });
}

base::Expected<Record> Workshop::create(RecordKind kind, const Content& content,
                                        const std::string& id) {
  return impl_->run<Record>(
      [&](Store& store) { return records::create(store, spec_of(kind), content, id); });
}

base::Expected<Record> Workshop::create_named(RecordKind kind, const Content& content) {
  return impl_->run<Record>(
      [&](Store& store) { return records::create_named(store, spec_of(kind), content); });
}

base::Expected<Change<Record>> Workshop::update(RecordKind kind, const std::string& id,
                                                std::int64_t revision, const Content& content) {
  return impl_->run<Change<Record>>(
      [&](Store& store) { return records::update(store, spec_of(kind), id, revision, content); });
}

base::Expected<Change<Record>> Workshop::archive(RecordKind kind, const std::string& id,
                                                 std::int64_t revision) {
  return impl_->run<Change<Record>>([&](Store& store) {
    return records::set_archived(store, spec_of(kind), id, revision, true);
  });
}

base::Expected<Change<Record>> Workshop::restore(RecordKind kind, const std::string& id,
                                                 std::int64_t revision) {
  return impl_->run<Change<Record>>([&](Store& store) {
    return records::set_archived(store, spec_of(kind), id, revision, false);
  });
}

base::Expected<std::vector<FlownFlight>> Workshop::flown(const FlownWith& propeller) const {
  return impl_->look<std::vector<FlownFlight>>(
      [&](SQLite::Database& db) { return records::flown(db, propeller); });
}

base::Expected<Page<DesignRow>> Workshop::list_designs(const Query& query) const {
  return impl_->look<Page<DesignRow>>(
      [&](SQLite::Database& db) { return designs::list(db, query); });
}

base::Expected<std::optional<Design>> Workshop::get_design(const std::string& id) const {
  return impl_->look<std::optional<Design>>(
      [&](SQLite::Database& db) { return designs::get(db, id); });
}

base::Expected<std::optional<DesignDocument>> Workshop::get_version(const std::string& id,
                                                                    int version) const {
  return impl_->look<std::optional<DesignDocument>>(
      [&](SQLite::Database& db) { return designs::get_version(db, id, version); });
}

base::Expected<Design> Workshop::create_design(const DesignContent& content) {
  return impl_->run<Design>([&](Store& store) { return designs::create(store, content); });
}

base::Expected<Change<Design>> Workshop::save_design(const std::string& id, std::int64_t revision,
                                                     const DesignContent& content) {
  return impl_->run<Change<Design>>(
      [&](Store& store) { return designs::save(store, id, revision, content, false); });
}

base::Expected<Change<Design>> Workshop::add_version(const std::string& id, std::int64_t revision,
                                                     const DesignContent& content) {
  return impl_->run<Change<Design>>(
      [&](Store& store) { return designs::save(store, id, revision, content, true); });
}

base::Expected<std::optional<Design>> Workshop::duplicate_design(const std::string& id,
                                                                 const std::string& name) {
  return impl_->run<std::optional<Design>>(
      [&](Store& store) { return designs::duplicate(store, id, name); });
}

base::Expected<Change<Design>> Workshop::mark_built(const std::string& id, std::int64_t revision,
                                                    int version) {
  return impl_->run<Change<Design>>(
      [&](Store& store) { return designs::mark_built(store, id, revision, version); });
}

base::Expected<Change<Design>> Workshop::archive_design(const std::string& id,
                                                        std::int64_t revision) {
  return impl_->run<Change<Design>>(
      [&](Store& store) { return designs::set_archived(store, id, revision, true); });
}

base::Expected<Change<Design>> Workshop::restore_design(const std::string& id,
                                                        std::int64_t revision) {
  return impl_->run<Change<Design>>(
      [&](Store& store) { return designs::set_archived(store, id, revision, false); });
}

base::Expected<CheckReport> Workshop::check() const {
  return impl_->look<CheckReport>([&](SQLite::Database& db) {
    return check_database(db, impl_->store.path, schema_version());
  });
}

base::Expected<void> Workshop::backup_to(const std::filesystem::path& path) const {
  return impl_->run<void>([&](Store& store) { return copy_database(store.db, path); });
}

base::Expected<RestoreReport> Workshop::restore_from(const std::filesystem::path& path) {
  return impl_->run<RestoreReport>(
      [&](Store& store) { return workshop::restore_from(store, path); });
}

base::Expected<std::string> Workshop::export_json() const {
  return impl_->look<std::string>([&](SQLite::Database& db) { return workshop::export_json(db); });
}

base::Expected<ImportReport> Workshop::import_json(const std::string& text,
                                                   const std::string& file) {
  return impl_->run<ImportReport>(
      [&](Store& store) { return workshop::import_json(store, text, file); });
}

}  // namespace propwright::workshop
