/// Jobs for tests: the examples of the project, read from their files.
#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

#include "propwright/brief/assemble.h"
#include "propwright/brief/file.h"

namespace propwright::support {

/// The text of a file of examples/, "" for no name.
inline std::string example_text(const std::string& file) {
  if (file.empty()) return {};
  std::ifstream stream(std::string(PROPWRIGHT_SOURCE_DIR) + "/examples/" + file);
  if (!stream) throw std::runtime_error("no file examples/" + file);
  std::stringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// "lantern46", "sparrow16" or "heron55".
inline brief::Job example(const std::string& name) {
  const std::string file = name + ".toml";
  auto job = brief::read_job(example_text(file), file);
  if (!job) throw std::runtime_error(base::to_line(job.error().front()));
  return *job;
}

inline brief::Attachments attachments(const brief::Job& job) {
  return {example_text(job.rubber.test_file), example_text(job.propeller.polar_file)};
}

}  // namespace propwright::support
