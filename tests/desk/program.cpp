#include "program.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace propwright::desk::test {
namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

Folder::Folder() {
  std::string pattern = (fs::temp_directory_path() / "propwright-desk-XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = pattern;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::string Folder::file(const std::string& name, const std::string& text) const {
  std::ofstream(path_ / name, std::ios::binary) << text;
  return (path_ / name).string();
}

Outcome run(const std::string& words) {
  const Folder folder;
  const fs::path err = folder.path() / "err";
  const std::string line = "cd '" PROPWRIGHT_SOURCE_DIR "' || exit 99; 2>'" + err.string() + "' '" +
                           std::string(PROPWRIGHT_PROGRAM "' ") + words;
  FILE* pipe = popen(line.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("the program cannot be run");
  Outcome result;
  char block[4096];
  for (std::size_t got = 0; (got = fread(block, 1, sizeof block, pipe)) > 0;) {
    result.out.append(block, got);
  }
  const int status = pclose(pipe);
  result.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  result.err = read(err);
  return result;
}

nlohmann::json problem_of(const Outcome& run, const std::string& field) {
  const auto problems = run.json().at("problems");
  for (const auto& problem : problems) {
    if (problem.at("field") == field) return problem;
  }
  ADD_FAILURE() << "no problem names " << field << " in\n" << run.out;
  return nlohmann::json::object();
}

}  // namespace propwright::desk::test
