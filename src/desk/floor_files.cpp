#include "floor_files.h"

#include <algorithm>
#include <filesystem>

#include "files.h"
#include "propwright/answer/document.h"
#include "propwright/answer/floor.h"

namespace propwright::desk {
namespace {

using answer::Json;

/// Reads the test that each entry of a batch names.
base::Problems attach_tests(Json& batch, const std::string& name, const std::string& file) {
  base::Problems problems;
  if (!batch.is_object() || !batch.contains("tests") || !batch["tests"].is_array()) return problems;
  std::size_t row = 0;
  for (Json& test : batch["tests"]) {
    ++row;
    if (!test.is_object() || !test.contains("file") || !test["file"].is_string()) continue;
    const std::string field = name + ".tests[" + std::to_string(row) + "].file";
    const auto path = std::filesystem::path(file).parent_path() / test["file"].get<std::string>();
    auto csv = read_text(path, field);
    if (csv) {
      test.erase("file");
      test["csv"] = std::move(*csv);
    } else {
      problems.push_back(csv.error().front());
    }
  }
  return problems;
}

base::Problems floor_problems(const Json& list, const std::string& file) {
  base::Problems problems = answer::problems_of(list);
  for (base::Problem& problem : problems) {
    if (problem.file.empty()) problem.file = file;
  }
  return problems;
}

}  // namespace

base::Expected<Json> floor_tables(const std::string& file) {
  const auto text = read_text(file);
  if (!text) return tl::unexpected(text.error());
  auto tables = answer::job_json(*text, file);
  if (!tables) return tables;
  base::Problems problems;
  for (const char* name : {"batch", "other"}) {
    if (!tables->contains(name)) continue;
    for (base::Problem& problem : attach_tests((*tables)[name], name, file)) {
      problems.push_back(std::move(problem));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return tables;
}

Answer answer_rubber_file(const Arguments& arguments) {
  for (const auto& given : arguments.values) {
    if (given.first == "--json") continue;
    return wrong_usage({{.field = given.first,
                         .remedy = "write it in the file",
                         .message = "a file of tables has its measures in itself"}});
  }
  auto tables = floor_tables(arguments.input);
  if (!tables) return no_answer(std::move(tables.error()));
  Json answer = answer::rubber_document(*tables);
  base::Problems problems = floor_problems(answer["problems"], arguments.input);
  answer["problems"] = answer::problem_list(problems);
  const std::string text = arguments.json() ? answer::document(answer) : rubber_tables_text(answer);
  if (problems.empty()) return text;
  const bool anything =
      std::any_of(answer.begin(), answer.end(), [](const Json& part) { return part.is_object(); });
  if (!anything) return no_answer(std::move(problems));
  return partly(text, std::move(problems));
}

}  // namespace propwright::desk
