#include "flights_files.h"

#include <fmt/format.h>

#include <sstream>

#include "console.h"
#include "files.h"
#include "job_files.h"
#include "propwright/brief/file.h"

namespace propwright::desk {

using answer::Json;

base::Expected<Json> while_wanted(
    const std::string& what,
    const std::function<base::Expected<Json>(const answer::StillWanted&)>& ask) {
  const StopOnInterrupt interrupt;
  Progress progress(what);
  return ask([&](double share) {
    progress.update(share);
    return !StopOnInterrupt::asked();
  });
}

tl::unexpected<Failure> no_flights_answer(base::Problems problems) {
  Failure failure(std::move(problems));
  if (StopOnInterrupt::asked()) failure.status = status::stopped;
  return tl::unexpected<Failure>(std::move(failure));
}

base::Expected<Json> flights_question(const Arguments& arguments) {
  base::Problems problems;
  Json question = Json::object();
  auto csv = read_text(arguments.input);
  if (csv) {
    question["csv"] = std::move(*csv);
  } else {
    problems = csv.error();
  }
  Json jobs = Json::array();
  for (const std::string& path : arguments.all("--job")) {
    auto document = job_document(path);
    if (document) {
      jobs.push_back(std::move(*document));
    } else {
      problems.insert(problems.end(), document.error().begin(), document.error().end());
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  question["jobs"] = std::move(jobs);
  return question;
}

base::Problems flights_problems(base::Problems problems, const Arguments& arguments) {
  const std::vector<std::string>& jobs = arguments.all("--job");
  for (base::Problem& problem : problems) {
    for (std::size_t i = 0; i < jobs.size(); ++i) {
      if (problem.file == fmt::format("jobs[{}]", i + 1)) problem.file = jobs[i];
    }
    if (problem.file == "csv") problem.file = arguments.input;
    if (problem.field == "jobs") problem.field = "--job";
    if (problem.field == "flights" && problem.file.empty()) problem.file = arguments.input;
  }
  return problems;
}

std::string learned_lines(const Json& table) {
  if (table.empty()) return {};
  const auto line = [](const auto& item) {
    return fmt::format("{} = {}\n", item.key(), item.value().dump());
  };
  std::string lines = "[learned]\n", rows;
  for (const auto& item : table.items()) {
    if (!item.value().is_array()) {
      lines += line(item);
      continue;
    }
    for (const Json& row : item.value()) {
      rows += fmt::format("\n[[learned.{}]]\n", item.key());
      for (const auto& field : row.items()) rows += line(field);
    }
  }
  return lines + rows;
}

std::string with_learned(const std::string& job_text, const std::string& lines) {
  std::istringstream text(job_text);
  std::string kept, line;
  bool inside = false;
  while (std::getline(text, line)) {
    const auto first = line.find_first_not_of(" \t");
    if (first != std::string::npos && line[first] == '[') {
      const std::string heading = line.substr(first);
      inside = heading.starts_with("[learned]") || heading.starts_with("[[learned.");
    }
    if (!inside) kept += line + "\n";
  }
  while (kept.ends_with("\n\n")) kept.pop_back();
  return kept + "\n" + lines;
}

base::Expected<void> keep_learned(const Json& answer, const Arguments& arguments) {
  const std::vector<std::string>& paths = arguments.all("--job");
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const std::string lines = learned_lines(answer["learned"].at(i)["table"]);
    if (lines.empty()) continue;
    const auto text = read_text(paths[i]);
    if (!text) return base::fail(text.error());
    const std::string next = with_learned(*text, lines);
    const auto job = brief::read_job(next, paths[i]);
    if (!job) return base::fail(job.error());
    const auto written = write_whole(paths[i], next);
    if (!written) return base::fail(written.error());
  }
  return {};
}

}  // namespace propwright::desk
