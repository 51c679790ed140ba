/// The tables of data/, read by column name.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "propwright/base/table.h"

namespace propwright::published {

/// The table data/`name`; `numbers` are its columns of numbers, all others are text.
inline base::Table table(const std::string& name, const std::vector<std::string>& numbers) {
  std::ifstream stream(std::string(PROPWRIGHT_TEST_DATA_DIR) + "/" + name);
  std::stringstream text;
  text << stream.rdbuf();
  std::vector<base::ColumnRule> rules;
  for (const std::string& column : numbers) rules.push_back({.name = column});
  auto result = base::Table::read(text.str(), rules, name, true);
  if (!result) throw std::runtime_error(base::to_line(result.error().front()));
  return *result;
}

/// The row whose columns `key` hold these texts; fails the test where there is none.
inline std::size_t row_of(const base::Table& table,
                          const std::vector<std::pair<std::string, std::string>>& key) {
  for (std::size_t row = 0; row < table.rows(); ++row) {
    bool same = true;
    for (const auto& [column, text] : key) same = same && table.text(row, column) == text;
    if (same) return row;
  }
  throw std::runtime_error("no row " + key.front().second + ", " + key.back().second);
}

}  // namespace propwright::published
