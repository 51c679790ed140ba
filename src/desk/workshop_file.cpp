#include "workshop_file.h"

#include <cstdlib>

namespace propwright::desk {
namespace {

/// A folder that an environment variable names; empty where it names none. What is not absolute
/// does not count (XDG Base Directory Specification).
std::filesystem::path folder_of(const char* variable) {
  const char* const value = std::getenv(variable);
  const std::filesystem::path folder = value == nullptr ? "" : value;
  return folder.is_absolute() ? folder : std::filesystem::path();
}

}  // namespace

base::Expected<std::filesystem::path> workshop_file(const Arguments& arguments) {
  const std::filesystem::path named = arguments.text("--workshop");
  if (!named.empty()) return named;
  std::filesystem::path data = folder_of("XDG_DATA_HOME");
  const std::filesystem::path home = folder_of("HOME");
  if (data.empty() && !home.empty()) data = home / ".local/share";
  if (!data.empty()) return data / "propwright/workshop.sqlite";
  return base::fail({.field = "--workshop",
                     .remedy = "add --workshop FILE",
                     .message = "neither XDG_DATA_HOME nor HOME says where your data are"});
}

}  // namespace propwright::desk
