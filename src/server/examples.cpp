#include <filesystem>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "app.h"
#include "embedded_table.h"
#include "propwright/answer/document.h"
#include "propwright/answer/flight_json.h"

namespace propwright::server {
namespace {

using answer::Json;

std::string embedded(const std::string& name) {
  for (unsigned i = 0; i < embedded_file_count; ++i) {
    const EmbeddedFile& file = embedded_files[i];
    if (name == file.name) return {file.begin, file.end};
  }
  throw std::logic_error("not embedded: " + name);
}

/// `path`: of the job in the repository, "examples/lantern46.toml"; the files it names stand beside
/// it.
Example example_of(const std::filesystem::path& path) {
  const std::string id = path.stem().string();
  auto job = answer::job_json(embedded(path.generic_string()), id);
  if (!job) throw std::logic_error("example " + id + ": " + base::to_line(job.error().front()));
  Json attachments{{"rubber_test_csv", ""}, {"polar_csv", ""}};
  const auto attach = [&](const char* section, const char* key, const char* member) {
    const Json file =
        job->value(Json::json_pointer(std::string("/") + section + "/" + key), Json());
    if (!file.is_string()) return;
    const auto beside = path.parent_path() / file.get<std::string>();
    attachments[member] = embedded(beside.lexically_normal().generic_string());
  };
  attach("rubber", "test_file", "rubber_test_csv");
  attach("propeller", "polar_file", "polar_csv");
  const std::string title = job->at("job").at("name").get<std::string>();
  return {id, title, {{"job", std::move(*job)}, {"attachments", std::move(attachments)}}};
}

bool stands_in(const std::filesystem::path& file, const char* folder, const char* ending) {
  return file.parent_path() == folder && file.extension() == ending;
}

Json invented_flights(const std::string& name) {
  const auto log = logbook::read_csv(embedded(name), name);
  if (!log) throw std::logic_error(base::to_line(log.error().front()));
  Json list = Json::array();
  for (const logbook::Flight& flight : log->flights) {
    list.push_back(answer::logged_flight_json(flight));
  }
  return list;
}

}  // namespace

const std::vector<Example>& examples() {
  static const std::vector<Example> all = [] {
    std::vector<Example> made;
    for (unsigned i = 0; i < embedded_file_count; ++i) {
      const std::filesystem::path file(embedded_files[i].name);
      if (stands_in(file, "examples", ".toml")) made.push_back(example_of(file));
    }
    return made;
  }();
  return all;
}

Json example_flights() {
  Json designs = Json::array();
  for (const char* path : {"examples/lantern46.toml", "examples/flights/lantern46-b.toml"}) {
    const Example example = example_of(path);
    const std::string propeller = example.document["job"]["propeller"]["name"].get<std::string>();
    designs.push_back({{"id", example.id},
                       {"title", example.title + ", " + propeller},
                       {"document", example.document}});
  }
  return {
      {"title", "Lantern 46 with two propellers"},
      {"note",
       "Flown by the flight model under a truth of its own, and scattered: to see a verdict by."},
      {"flights", invented_flights("examples/flights/lantern46-two-propellers.csv")},
      {"designs", std::move(designs)}};
}

Json example_rubber() {
  return Json::parse(embedded("examples/floor/rubber-shelf.json"));
}

std::string openapi_text() {
  return embedded("docs/openapi.yaml");
}

}  // namespace propwright::server
