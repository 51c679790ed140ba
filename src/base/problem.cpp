#include "propwright/base/problem.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace propwright::base {

std::string to_line(const Problem& problem) {
  std::string line;
  if (!problem.file.empty()) {
    line += problem.file;
    line += problem.line > 0 ? fmt::format(":{}: ", problem.line) : std::string(": ");
  } else if (problem.line > 0) {
    line += fmt::format("line {}: ", problem.line);
  }
  if (!problem.field.empty()) line += problem.field + ": ";
  line += problem.message;
  if (!problem.value.empty()) line += fmt::format(" (given: {})", problem.value);
  if (!problem.allowed.empty()) line += "; allowed: " + problem.allowed;
  if (!problem.remedy.empty()) line += "; " + problem.remedy;
  return line;
}

namespace {

std::size_t edit_distance(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replace = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, replace});
    }
  }
  return row[b.size()];
}

}  // namespace

std::string nearest_name(const std::string& word, const std::vector<std::string>& known) {
  std::string best;
  std::size_t best_distance = std::string::npos;
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(word, candidate);
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  const std::size_t limit = std::max<std::size_t>(1, (word.size() + 1) / 3);
  return best_distance <= limit ? best : std::string();
}

}  // namespace propwright::base
