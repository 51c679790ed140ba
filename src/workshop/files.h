/// Files beside the workshop file: names that are free, moves that replace nothing.
#pragma once

#include <filesystem>
#include <string>

#include "propwright/base/problem.h"
#include "text.h"

namespace propwright::workshop {

/// A file that is gone with the object, with what SQLite puts beside it.
class ScratchFile {
 public:
  /// A free name beside `path`; no file is made.
  explicit ScratchFile(const std::filesystem::path& path);
  ~ScratchFile();
  ScratchFile(const ScratchFile&) = delete;
  ScratchFile& operator=(const ScratchFile&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

/// While it lives no other program, and no other thread, holds the same folder's; waits for it. A
/// file system that knows no locks gives none, silently.
class FolderLock {
 public:
  explicit FolderLock(const std::filesystem::path& folder);
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;

 private:
  int folder_ = -1;
};

/// The folder a file lies in.
std::filesystem::path folder_of(const std::filesystem::path& path);

/// FILE-wal
std::filesystem::path wal_of(const std::filesystem::path& path);

/// A free name beside the file: workshop.sqlite, "replaced" -> workshop-replaced-TIME.sqlite
std::filesystem::path beside(const std::filesystem::path& path, const std::string& what, Time now);

/// Brings the file to the disk and gives it its name, all at once; false when the name is taken.
base::Expected<bool> settle(const std::filesystem::path& from, const std::filesystem::path& to);

}  // namespace propwright::workshop
