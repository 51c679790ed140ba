#include "files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <system_error>

namespace propwright::workshop {
namespace {

namespace fs = std::filesystem;

bool to_disk(const fs::path& path, int flags) {
  const int file = ::open(path.c_str(), flags | O_CLOEXEC);
  if (file < 0) return false;
  const bool done = ::fsync(file) == 0;
  return ::close(file) == 0 && done;
}

base::Problem failed(const fs::path& path, int error) {
  return {.kind = base::Kind::resource_failed,
          .file = path.string(),
          .remedy = "look at the disk and the rights of the folder",
          .message = "the file cannot be written: " +
                     std::error_code(error, std::generic_category()).message()};
}

/// 0, or the error. Not every file system can refuse to replace; there a look must do.
int move_without_replacing(const fs::path& from, const fs::path& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL && errno != ENOSYS) return errno;
  std::error_code ignored;
  if (fs::exists(fs::symlink_status(to, ignored))) return EEXIST;
  return ::rename(from.c_str(), to.c_str()) == 0 ? 0 : errno;
}

}  // namespace

ScratchFile::ScratchFile(const fs::path& path) : path_(path.string() + ".new-" + random_id()) {}

ScratchFile::~ScratchFile() {
  std::error_code ignored;
  for (const char* const end : {"", "-journal", "-wal", "-shm"}) {
    fs::remove(path_.string() + end, ignored);
  }
}

fs::path wal_of(const fs::path& path) {
  return path.string() + "-wal";
}

fs::path beside(const fs::path& path, const std::string& what, Time now) {
  const std::string stem = fmt::format("{}-{}-{}", path.stem().string(), what, file_time_text(now));
  fs::path free = path.parent_path() / (stem + path.extension().string());
  for (int i = 2; fs::exists(free); ++i) {
    free = path.parent_path() / fmt::format("{}-{}{}", stem, i, path.extension().string());
  }
  return free;
}

FolderLock::FolderLock(const fs::path& folder)
    : folder_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  while (folder_ >= 0 && ::flock(folder_, LOCK_EX) != 0 && errno == EINTR) {
  }
}

FolderLock::~FolderLock() {
  if (folder_ >= 0) ::close(folder_);
}

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

base::Expected<bool> settle(const fs::path& from, const fs::path& to) {
  if (!to_disk(from, O_RDONLY)) return base::fail(failed(from, errno));
  const int error = move_without_replacing(from, to);
  if (error == EEXIST) return false;
  if (error != 0) return base::fail(failed(to, error));
  const fs::path folder = folder_of(to);
  if (!to_disk(folder, O_RDONLY | O_DIRECTORY)) return base::fail(failed(folder, errno));
  return true;
}

}  // namespace propwright::workshop
