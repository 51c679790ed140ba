#include "inspect.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <array>
#include <fstream>
#include <optional>
#include <string_view>

#include "files.h"

namespace propwright::workshop {
namespace {

namespace fs = std::filesystem;

Refusal refused(const fs::path& path, const std::string& message, const std::string& remedy) {
  return {{.kind = base::Kind::resource_failed,
           .file = path.string(),
           .field = "workshop",
           .remedy = remedy,
           .message = message}};
}

Refusal damaged(const fs::path& path, const std::string& how) {
  Refusal refusal = refused(path, "the workshop file is damaged: " + how,
                            "restore a backup with: propwright workshop restore BACKUP");
  refusal.damaged = true;
  return refusal;
}

Refusal failed(const fs::path& path, const SQLite::Exception& error) {
  const int code = error.getErrorCode();
  const bool unsound = code == SQLITE_CORRUPT || code == SQLITE_NOTADB;
  return unsound ? damaged(path, error.what()) : Refusal{problem_of(error, path)};
}

Refusal foreign(const fs::path& path) {
  return refused(path, "this is the database of another program, not a workshop file",
                 "name a file made by propwright");
}

Refusal newer(const fs::path& path, std::int64_t version, int newest) {
  return refused(path,
                 fmt::format("the workshop file comes from a newer Propwright: its tables are "
                             "version {}, this program knows versions up to {}",
                             version, newest),
                 "use the newer program, or a backup made before");
}

/// The header of SQLite files, https://www.sqlite.org/fileformat.html section 1.3.
class Header {
 public:
  explicit Header(std::ifstream& file) {
    file.read(bytes_.data(), static_cast<std::streamsize>(bytes_.size()));
    count_ = static_cast<std::size_t>(file.gcount());
  }
  bool empty() const { return count_ == 0; }
  bool complete() const { return count_ == bytes_.size(); }
  /// As far as it goes.
  bool of_a_database() const {
    constexpr std::string_view magic("SQLite format 3\0", 16);
    return std::string_view(bytes_.data(), count_).starts_with(magic.substr(0, count_));
  }
  std::uint32_t application() const { return number(68, 4); }
  std::uint32_t version() const { return number(60, 4); }
  /// The size the file says it has; 0 where it does not say.
  std::uintmax_t file_size() const {
    const std::uintmax_t page = number(16, 2) == 1 ? 65536 : number(16, 2);
    const bool valid = number(24, 4) == number(92, 4);
    return valid ? page * number(28, 4) : 0;
  }

 private:
  std::uint32_t number(std::size_t at, std::size_t bytes) const {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < bytes; ++i) {
      value = value << 8 | static_cast<unsigned char>(bytes_[at + i]);
    }
    return value;
  }
  std::array<char, 100> bytes_{};
  std::size_t count_ = 0;
};

std::optional<Refusal> look_at_header(const fs::path& path, int newest) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return refused(path, "the workshop file cannot be read", "allow reading it");
  const Header header(file);
  if (header.empty()) return damaged(path, "it is empty, but records wait beside it");
  if (!header.of_a_database()) {
    return refused(path, "this is no workshop file: it is not a database at all",
                   "name a file made by propwright");
  }
  if (!header.complete()) return damaged(path, "it is cut short");
  if (header.application() != static_cast<std::uint32_t>(application_id)) return foreign(path);
  const std::uint32_t version = header.version();
  if (version > static_cast<std::uint32_t>(newest)) return newer(path, version, newest);
  std::error_code error;  // with a log beside it, pages may still wait there
  if (!fs::exists(wal_of(path), error) && fs::file_size(path, error) < header.file_size()) {
    return damaged(path, "it is cut short");
  }
  return std::nullopt;
}

}  // namespace

tl::expected<SQLite::Database, Refusal> open_to_look(const fs::path& path, int newest_version) {
  std::error_code error;
  if (!fs::is_regular_file(path, error)) {
    const bool there = fs::exists(path, error);
    return tl::unexpected<Refusal>(
        refused(path, there ? "this is no file" : "there is no such file", "name a workshop file"));
  }
  if (auto refusal = look_at_header(path, newest_version)) {
    return tl::unexpected<Refusal>(std::move(*refusal));
  }
  // Where a log lies beside the file, its pages count as well; the header alone may be behind it.
  const Access access = fs::exists(wal_of(path), error) ? Access::read : Access::still;
  try {
    SQLite::Database db = connect(path, access, 5000);
    if (number(db, "PRAGMA application_id") != application_id)
      return tl::unexpected<Refusal>(foreign(path));
    const std::int64_t version = number(db, "PRAGMA user_version");
    if (version > newest_version)
      return tl::unexpected<Refusal>(newer(path, version, newest_version));
    return db;
  } catch (const SQLite::Exception& e) {
    return tl::unexpected<Refusal>(failed(path, e));
  }
}

std::optional<Refusal> inspect(const fs::path& path, int newest_version) {
  auto db = open_to_look(path, newest_version);
  if (!db) return std::move(db.error());
  try {
    // The pages only: what is in each row is for `workshop check`, which takes longer.
    db->exec("PRAGMA ignore_check_constraints=ON");
    const std::string verdict = text(*db, "PRAGMA quick_check(1)");
    if (verdict != "ok") return damaged(path, verdict);
  } catch (const SQLite::Exception& e) {
    return failed(path, e);
  }
  return std::nullopt;
}

}  // namespace propwright::workshop
