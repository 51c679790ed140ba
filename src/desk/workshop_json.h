/// JSON of what `propwright workshop` did.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::desk {

/// What an action did; members that do not belong to it are left out of the answer.
struct WorkshopAnswer {
  std::string action;
  std::string workshop;   ///< the file worked on
  std::string file = {};  ///< the other file: backup, export
  std::string kept_as = {};
  std::optional<int> schema_version = {};
  std::optional<std::int64_t> size_bytes = {}, skipped = {};
  std::vector<std::pair<std::string, std::int64_t>> records = {};  ///< count by table
  std::vector<std::string> differing = {};  ///< ids of flights that were left out
  base::Problems questions = {};            ///< of flights that were taken in
  std::vector<std::string> unknown_columns = {};
  std::vector<int> passed_over = {};  ///< lines taken for remarks
  std::string sentence;
};

std::string workshop_json(const WorkshopAnswer& answer);

}  // namespace propwright::desk
