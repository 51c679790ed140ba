/// A small valid job file and ways to spoil it.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

#include "propwright/base/problem.h"
#include "propwright/brief/file.h"

namespace propwright::brief {

inline constexpr const char* sample = R"([job]
name = "Sample"

[hall]
roof_height = "8 m"

[model]
mass = "3 g"
wing_span = "460 mm"
wing_chord = "130 mm"

[motor]
strip_width = "2.3 mm"
loop_length = "315 mm"

[propeller]
diameter = "380 mm"
pitch = "660 mm"

[propeller.outline]
root_radius = "30 mm"
root_chord = "16 mm"
widest_chord = "58 mm"
)";

/// The sample with `from` replaced by `to`.
inline std::string sample_with(const std::string& from, const std::string& to) {
  std::string text = sample;
  const auto at = text.find(from);
  if (at == std::string::npos) throw std::logic_error("the sample does not hold " + from);
  return text.replace(at, from.size(), to);
}

/// The sample with a line before its first section.
inline std::string sample_after(const std::string& line) {
  return line + "\n" + sample;
}

inline Job read_sample(const std::string& text = sample) {
  auto job = read_job(text, "sample.toml");
  if (!job) throw std::logic_error(base::to_line(job.error().front()));
  return *job;
}

/// The problems of a text that must not be accepted.
inline base::Problems problems_of(const std::string& text) {
  const auto job = read_job(text, "sample.toml");
  EXPECT_FALSE(job.has_value()) << text;
  return job ? base::Problems{} : job.error();
}

/// The one problem of a text with one thing wrong; its printed line for comparison.
inline std::string only_line(const std::string& text) {
  const base::Problems problems = problems_of(text);
  std::string lines;
  for (const auto& problem : problems) lines += (lines.empty() ? "" : "\n") + to_line(problem);
  return lines;
}

inline std::string file_text(const std::string& path_below_project) {
  std::ifstream in(std::string(PROPWRIGHT_SOURCE_DIR) + "/" + path_below_project, std::ios::binary);
  if (!in) throw std::runtime_error("cannot open " + path_below_project);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

inline std::string example_text(const std::string& name) {
  return file_text(std::string("examples/").append(name).append(".toml"));
}

}  // namespace propwright::brief
