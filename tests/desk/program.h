/// Runs the built program from the top of the source tree and catches what it says.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

namespace propwright::desk::test {

struct Outcome {
  int status = -1;
  std::string out, err;
  /// stdout as JSON; the whole of it must be one document.
  nlohmann::json json() const { return nlohmann::json::parse(out); }
};

/// `words` as a shell takes them.
Outcome run(const std::string& words);

/// An empty folder of its own, gone at the end.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  const std::filesystem::path& path() const { return path_; }
  std::string file(const std::string& name, const std::string& text) const;

 private:
  std::filesystem::path path_;
};

std::string read(const std::filesystem::path& path);

/// The problem that concerns a field; fails the test when there is none.
nlohmann::json problem_of(const Outcome& run, const std::string& field);

}  // namespace propwright::desk::test
