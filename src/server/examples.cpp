#include <nlohmann/json.hpp>
#include <stdexcept>

#include "app.h"
#include "embedded_table.h"
#include "propwright/answer/document.h"

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

Example example_of(const std::string& id) {
  auto job = answer::job_json(embedded("examples/" + id + ".toml"), id);
  if (!job) throw std::logic_error("example " + id + ": " + base::to_line(job.error().front()));
  Json attachments{{"rubber_test_csv", ""}, {"polar_csv", ""}};
  const auto attach = [&](const char* section, const char* key, const char* member) {
    const Json file =
        job->value(Json::json_pointer(std::string("/") + section + "/" + key), Json());
    if (file.is_string()) attachments[member] = embedded("examples/" + file.get<std::string>());
  };
  attach("rubber", "test_file", "rubber_test_csv");
  attach("propeller", "polar_file", "polar_csv");
  const std::string title = job->at("job").at("name").get<std::string>();
  return {id, title, {{"job", std::move(*job)}, {"attachments", std::move(attachments)}}};
}

}  // namespace

const std::vector<Example>& examples() {
  static const std::vector<Example> all = [] {
    std::vector<Example> made;
    const std::string folder = "examples/", ending = ".toml";
    for (unsigned i = 0; i < embedded_file_count; ++i) {
      const std::string name = embedded_files[i].name;
      if (!name.starts_with(folder) || !name.ends_with(ending)) continue;
      made.push_back(
          example_of(name.substr(folder.size(), name.size() - folder.size() - ending.size())));
    }
    return made;
  }();
  return all;
}

std::string openapi_text() {
  return embedded("docs/openapi.yaml");
}

}  // namespace propwright::server
