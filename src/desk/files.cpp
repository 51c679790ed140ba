#include "files.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <sstream>
#include <system_error>

namespace propwright::desk {
namespace fs = std::filesystem;
namespace {

std::string reason(int error) {
  return error != 0 ? std::strerror(error) : "the disk refused";
}

}  // namespace

base::Expected<std::string> read_text(const fs::path& path, const std::string& field,
                                      std::size_t largest_MB) {
  const auto refuse = [&](const std::string& why) {
    return base::fail({.kind = base::Kind::resource_failed,
                       .file = path.string(),
                       .field = field,
                       .remedy = "check the path and the rights",
                       .message = "the file cannot be read: " + why});
  };
  std::error_code error;
  if (fs::is_directory(path, error)) return refuse("it is a folder");
  errno = 0;
  std::ifstream in(path, std::ios::binary);
  if (!in) return refuse(reason(errno));
  std::string bytes;
  char block[1 << 16];
  while (in.read(block, sizeof block) || in.gcount() > 0) {
    bytes.append(block, static_cast<std::size_t>(in.gcount()));
    if (bytes.size() > largest_MB << 20U) {
      return refuse("it is larger than " + std::to_string(largest_MB) + " MB");
    }
  }
  if (in.bad()) return refuse(reason(errno));
  return bytes;
}

base::Expected<void> write_whole(const fs::path& path, const std::string& bytes) {
  const fs::path part = path.string() + ".part";
  const auto refuse = [&](const std::string& why) {
    std::error_code ignored;
    fs::remove(part, ignored);
    return base::fail({.kind = base::Kind::resource_failed,
                       .file = path.string(),
                       .remedy = "choose a folder that can be written and has room",
                       .message = "the file cannot be written: " + why});
  };
  errno = 0;
  std::ofstream out(part, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  if (!out) return refuse(reason(errno));
  std::error_code error;
  fs::rename(part, path, error);
  if (error) return refuse(error.message());
  return {};
}

}  // namespace propwright::desk
