#include "flights_files.h"

#include <fmt/format.h>

#include "files.h"
#include "job_files.h"

namespace propwright::desk {

using answer::Json;

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

}  // namespace propwright::desk
