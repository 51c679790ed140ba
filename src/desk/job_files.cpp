#include "job_files.h"

#include <filesystem>
#include <nlohmann/json.hpp>

#include "files.h"
#include "propwright/answer/document.h"
#include "propwright/brief/file.h"

namespace propwright::desk {

base::Expected<LoadedJob> load_job(const std::string& path) {
  const auto text = read_text(path);
  if (!text) return base::fail(text.error());
  auto job = brief::read_job(*text, path);
  if (!job) return base::fail(std::move(job.error()));
  LoadedJob loaded{path, std::move(*job), {}};
  base::Problems problems;
  const auto attach = [&](const std::string& name, const std::string& field, std::string& into) {
    if (name.empty()) return;
    auto attached = read_text(std::filesystem::path(path).parent_path() / name, field);
    if (attached) {
      into = std::move(*attached);
    } else {
      problems.push_back(attached.error().front());
    }
  };
  attach(loaded.job.rubber.test_file, "rubber.test_file", loaded.attachments.rubber_test_csv);
  attach(loaded.job.propeller.polar_file, "propeller.polar_file", loaded.attachments.polar_csv);
  if (!problems.empty()) return base::fail(std::move(problems));
  return loaded;
}

base::Expected<answer::Json> job_document(const std::string& path) {
  const auto loaded = load_job(path);
  if (!loaded) return tl::unexpected(loaded.error());
  const auto text = read_text(path);
  if (!text) return tl::unexpected(text.error());
  auto job = answer::job_json(*text, path);
  if (!job) return tl::unexpected(job.error());
  return answer::Json{{"job", std::move(*job)},
                      {"attachments",
                       {{"rubber_test_csv", loaded->attachments.rubber_test_csv},
                        {"polar_csv", loaded->attachments.polar_csv}}}};
}

}  // namespace propwright::desk
