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

Option workshop_option(const std::string& group) {
  return {"--workshop", "FILE", group,
          "The workshop file; left out: propwright/workshop.sqlite in your data folder"};
}

base::Expected<answer::Shelf> shelf_of(const Arguments& arguments) {
  const auto path = workshop_file(arguments);
  if (!path) return tl::unexpected(path.error());
  workshop::Options options;
  options.create = false;
  const auto opened = workshop::Workshop::open(*path, options);
  if (!opened) return tl::unexpected(opened.error());
  return answer::read_shelf(*opened);
}

base::Expected<form::Cylinder> cylinder_of_option(const Arguments& arguments,
                                                  const std::string& text) {
  auto common = answer::cylinder_of(text, {}, "--cylinder");
  const auto path = workshop_file(arguments);
  std::error_code error;
  const bool has_workshop =
      arguments.has("--workshop") || (path && std::filesystem::exists(*path, error));
  if (common || !has_workshop) return common;
  const auto shelf = shelf_of(arguments);
  if (!shelf) return tl::unexpected(shelf.error());
  return answer::cylinder_of(text, *shelf, "--cylinder");
}

}  // namespace propwright::desk
