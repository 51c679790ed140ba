#include "floor_files.h"

#include <algorithm>
#include <filesystem>

#include "field_lines.h"
#include "files.h"
#include "propwright/answer/document.h"
#include "propwright/answer/floor.h"

namespace propwright::desk {
namespace {

using answer::Json;

/// Reads the test that each entry of a batch names.
base::Problems attach_tests(const std::string& name, FloorTables& floor) {
  base::Problems problems;
  Json& batch = floor.tables[name];
  if (!batch.is_object() || !batch.contains("tests") || !batch["tests"].is_array()) return problems;
  std::size_t row = 0;
  for (Json& test : batch["tests"]) {
    ++row;
    if (!test.is_object() || !test.contains("file") || !test["file"].is_string()) continue;
    const std::string place = name + ".tests[" + std::to_string(row) + "]";
    const auto path =
        std::filesystem::path(floor.file).parent_path() / test["file"].get<std::string>();
    auto csv = read_text(path, place + ".file");
    if (csv) {
      floor.tests[place + ".csv"] = path.string();
      test.erase("file");
      test["csv"] = std::move(*csv);
    } else {
      problems.push_back(csv.error().front());
    }
  }
  return problems;
}

}  // namespace

base::Problems FloorTables::placed(base::Problems problems) const {
  for (base::Problem& problem : problems) {
    const auto test = tests.find(problem.file);
    if (test != tests.end()) problem.file = test->second;
  }
  return with_lines(std::move(problems), file, lines);
}

base::Expected<FloorTables> floor_tables(const std::string& file) {
  const auto text = read_text(file);
  if (!text) return tl::unexpected(text.error());
  auto tables = answer::job_json(*text, file);
  if (!tables) return tl::unexpected(tables.error());
  FloorTables floor{std::move(*tables), file, answer::toml_lines(*text), {}};
  base::Problems problems;
  for (const char* name : {"batch", "other"}) {
    if (!floor.tables.contains(name)) continue;
    for (base::Problem& problem : attach_tests(name, floor)) {
      problems.push_back(std::move(problem));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return floor;
}

Answer answer_rubber_file(const Arguments& arguments) {
  for (const auto& given : arguments.values) {
    if (given.first == "--json") continue;
    return wrong_usage({{.field = given.first,
                         .remedy = "write it in the file",
                         .message = "a file of tables has its measures in itself"}});
  }
  const auto floor = floor_tables(arguments.input);
  if (!floor) return no_answer(floor.error());
  Json answer = answer::rubber_document(floor->tables);
  base::Problems problems = floor->placed(answer::problems_of(answer["problems"]));
  answer["problems"] = answer::problem_list(problems);
  const std::string text = arguments.json() ? answer::document(answer) : rubber_tables_text(answer);
  if (problems.empty()) return text;
  const bool anything =
      std::any_of(answer.begin(), answer.end(), [](const Json& part) { return part.is_object(); });
  if (!anything) return no_answer(std::move(problems));
  return partly(text, std::move(problems));
}

}  // namespace propwright::desk
