#include "bench_reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

constexpr std::size_t most_bench_rows = 400;

/// Without what was left empty.
Json filled_in(const Json& table) {
  if (!table.is_object()) return table;
  Json kept = Json::object();
  for (const auto& [key, value] : table.items()) {
    const bool empty = value.is_null() ||
                       (value.is_string() && value.get_ref<const std::string&>().find_first_not_of(
                                                 ' ') == std::string::npos);
    if (!empty) kept[key] = value;
  }
  return kept;
}

}  // namespace

BenchReader::BenchReader(const Json& table, std::string place,
                         const std::vector<std::string>& known)
    : kept_(filled_in(table)), prefix_(std::move(place) + "."), reader_(kept_, prefix_, known) {}

bool BenchReader::has(const char* name) const {
  return reader_.has(name);
}

std::optional<double> BenchReader::quantity(const char* name, units::Dimension dimension,
                                            BenchRange range) {
  // A pure number may come as a number.
  if (has(name) && kept_[name].is_number() && dimension == units::Dimension::ratio) {
    kept_[name] = fmt::format("{}", kept_[name].get<double>());
  }
  return reader_.quantity(name, dimension, range);
}

double BenchReader::needed(const char* name, units::Dimension dimension, BenchRange range) {
  if (!has(name)) {
    if (kept_.is_object()) {
      wrong(name, "this is needed",
            fmt::format("give it with its unit, for example {}", example_quantity(dimension)));
    }
    return 0;
  }
  return quantity(name, dimension, range).value_or(0);
}

std::optional<double> BenchReader::length(const char* name, BenchRange range) {
  return quantity(name, units::Dimension::length, range);
}

std::optional<double> BenchReader::mass(const char* name, BenchRange range) {
  return quantity(name, units::Dimension::mass, range);
}

std::optional<double> BenchReader::angle(const char* name, double low_deg, double high_deg) {
  return quantity(name, units::Dimension::angle,
                  {low_deg * base::degree_rad, high_deg * base::degree_rad});
}

std::optional<double> BenchReader::share(const char* name, BenchRange range) {
  return quantity(name, units::Dimension::ratio, range);
}

std::vector<double> BenchReader::lengths(const char* name, BenchRange range) {
  return reader_.quantities(name, units::Dimension::length, range);
}

std::optional<int> BenchReader::count(const char* name, int low, int high) {
  if (!has(name)) return std::nullopt;
  const Json& value = kept_[name];
  if (value.is_number_integer()) {
    const auto number = value.get<std::int64_t>();
    if (number >= low && number <= high) return static_cast<int>(number);
  }
  own_.push_back({.field = prefix_ + name,
                  .value = value.dump().substr(0, 80),
                  .allowed = fmt::format("{} to {}", low, high),
                  .remedy = "give a whole number",
                  .message = "this is no such number"});
  return std::nullopt;
}

std::string BenchReader::word(const char* name, const std::vector<std::string>& words) {
  return reader_.word(name, words);
}

std::vector<std::pair<std::string, std::string>> BenchReader::texts(const char* name) {
  return reader_.texts(name);
}

std::vector<std::string> BenchReader::words(const char* name,
                                            const std::vector<std::string>& known) {
  std::vector<std::string> all;
  for (const auto& [field, word] : reader_.texts(name)) {
    if (std::find(known.begin(), known.end(), word) != known.end()) {
      all.push_back(word);
      continue;
    }
    own_.push_back({.field = field,
                    .value = word.substr(0, 80),
                    .allowed = fmt::format("{}", fmt::join(known, ", ")),
                    .remedy = "use one of these words",
                    .message = "this word is not known here"});
  }
  return all;
}

std::string BenchReader::text(const char* name, const std::string& otherwise) {
  const std::string found = reader_.text(name).substr(0, 200);
  return found.empty() ? otherwise : found;
}

std::optional<bool> BenchReader::truth(const char* name) {
  if (!has(name)) return std::nullopt;
  return reader_.truth(name);
}

std::vector<std::pair<Json, std::string>> BenchReader::tables(const char* name) {
  std::vector<std::pair<Json, std::string>> all;
  if (!has(name)) return all;
  const Json& list = kept_[name];
  if (!list.is_array() || list.size() > most_bench_rows) {
    wrong(name, "this is no list of tables", fmt::format("send up to {} tables", most_bench_rows));
    return all;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    all.emplace_back(list[i], fmt::format("{}{}[{}]", prefix_, name, i + 1));
  }
  return all;
}

Json BenchReader::table(const char* name) const {
  return has(name) ? kept_[name] : Json();
}

void BenchReader::wrong(const char* name, const std::string& message, const std::string& remedy) {
  own_.push_back({.field = prefix_ + name, .remedy = remedy, .message = message});
}

void BenchReader::add(const base::Problems& more) {
  own_.insert(own_.end(), more.begin(), more.end());
}

base::Problems BenchReader::problems() const {
  base::Problems all = reader_.problems;
  all.insert(all.end(), own_.begin(), own_.end());
  return all;
}

}  // namespace propwright::answer
