#include "workshop_json.h"

#include <nlohmann/json.hpp>

#include "propwright/answer/json_text.h"

namespace propwright::desk {

std::string workshop_json(const WorkshopAnswer& answer) {
  answer::Json json{{"action", answer.action}, {"workshop", answer.workshop}};
  if (!answer.file.empty()) json["file"] = answer.file;
  if (!answer.kept_as.empty()) json["replaced_kept_as"] = answer.kept_as;
  if (answer.schema_version) json["schema_version"] = *answer.schema_version;
  if (answer.size_bytes) json["size_bytes"] = *answer.size_bytes;
  if (answer.skipped) json["skipped"] = *answer.skipped;
  answer::Json records = answer::Json::array();
  for (const auto& [table, count] : answer.records) {
    records.push_back({{"table", table}, {"count", count}});
  }
  if (answer.action == "import-flights") {
    json["differing"] = answer.differing;
    json["questions"] = answer::problem_list(answer.questions);
    json["unknown_columns"] = answer.unknown_columns;
    json["passed_over"] = answer.passed_over;
  }
  json["records"] = std::move(records);
  json["done"] = answer.sentence;
  return answer::document(json);
}

}  // namespace propwright::desk
