/// Tables beside the tests (tests/published/data).
#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "propwright/base/table.h"

namespace propwright::test {

inline std::string published_text(const std::string& name) {
  std::ifstream file(PROPWRIGHT_TEST_DATA_DIR "/" + name);
  if (!file) throw std::runtime_error("no test data " + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

inline base::Table table_of(std::string_view csv, const std::vector<std::string>& columns,
                            const std::string& name) {
  std::vector<base::ColumnRule> rules;
  for (const std::string& column : columns) rules.push_back({column});
  auto table = base::Table::read(csv, rules, name, true);
  if (!table) throw std::runtime_error(base::to_line(table.error().front()));
  return *table;
}

inline base::Table published_table(const std::string& name,
                                   const std::vector<std::string>& columns) {
  return table_of(published_text(name), columns, name);
}

}  // namespace propwright::test
