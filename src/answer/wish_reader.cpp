#include "wish_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <regex>

#include "propwright/base/problem.h"

namespace propwright::answer {
namespace {

constexpr std::size_t most_quantities = 20;

/// Ranges are told in the units of the text: "0.005 in" is answered in thou and inches.
units::Profile profile_of(const std::string& text) {
  static const std::regex inch("[0-9 /.](in|thou|ft|lb|oz|degF)");
  return std::regex_search(text, inch) ? units::Profile::inch : units::Profile::metric;
}

}  // namespace

const char* example_quantity(units::Dimension dimension) {
  switch (dimension) {
    case units::Dimension::angle:
      return "\"45 deg\"";
    case units::Dimension::ratio:
      return "\"2 %\"";
    case units::Dimension::mass:
      return "\"27 mg\"";
    case units::Dimension::areal_density:
      return "\"12 g/m2\"";
    case units::Dimension::density:
      return "\"80 kg/m3\"";
    case units::Dimension::force:
      return "\"0.5 N\"";
    case units::Dimension::rotation:
      return "\"50 rpm\"";
    case units::Dimension::temperature:
      return "\"20 degC\"";
    default:
      return "\"100 mm\"";
  }
}

QuantityReader::QuantityReader(const Json& json, std::string prefix, std::vector<std::string> known)
    : json_(json), prefix_(std::move(prefix)) {
  if (!json_.is_object()) {
    problems.push_back({.field = prefix_.substr(0, prefix_.rfind('.')),
                        .remedy = "send an object, which may be empty",
                        .message = "this is no object"});
    return;
  }
  for (const auto& [key, value] : json_.items()) {
    if (std::find(known.begin(), known.end(), key) != known.end()) continue;
    const std::string near = base::nearest_name(key, known);
    problems.push_back({.field = prefix_ + key,
                        .remedy = near.empty() ? "leave it out" : "did you mean " + near + "?",
                        .message = "there is no such field"});
  }
}

bool QuantityReader::has(const char* name) const {
  if (!json_.is_object()) return false;
  const auto found = json_.find(name);
  return found != json_.end() && !found->is_null();
}

std::optional<double> QuantityReader::one(const std::string& field, const std::string& text,
                                          units::Dimension dimension,
                                          std::pair<double, double> range) {
  const auto read = units::parse(text, dimension, field);
  if (!read) {
    problems.insert(problems.end(), read.error().begin(), read.error().end());
    return std::nullopt;
  }
  if (*read >= range.first && *read <= range.second) return *read;
  // Shares are typed and told in %; a ratio that may be above one is a plain number.
  const bool share = dimension == units::Dimension::ratio && range.second <= 1;
  const auto print = [&](double si) {
    return share ? fmt::format("{:.4g} %", 100 * si)
                 : units::to_text(si, dimension, profile_of(text));
  };
  problems.push_back({.field = field,
                      .value = text.substr(0, 80),
                      .allowed = print(range.first) + " to " + print(range.second),
                      .remedy = "check the number and its unit",
                      .message = "the value is out of range"});
  return std::nullopt;
}

void QuantityReader::no_text(const std::string& field, const Json& value,
                             units::Dimension dimension) {
  problems.push_back(
      {.field = field,
       .value = value.dump().substr(0, 80),
       .remedy = std::string("write it with its unit, for example ") + example_quantity(dimension),
       .message = "this is no text"});
}

std::optional<double> QuantityReader::quantity(const char* name, units::Dimension dimension,
                                               std::pair<double, double> range) {
  if (!has(name)) return std::nullopt;
  const std::string field = prefix_ + name;
  if (json_[name].is_string()) return one(field, json_[name].get<std::string>(), dimension, range);
  no_text(field, json_[name], dimension);
  return std::nullopt;
}

std::string QuantityReader::text(const char* name) {
  if (!has(name)) return {};
  if (json_[name].is_string()) return json_[name].get<std::string>();
  no_text(prefix_ + name, json_[name], units::Dimension::length);
  return {};
}

std::vector<std::pair<std::string, std::string>> QuantityReader::texts(const char* name) {
  std::vector<std::pair<std::string, std::string>> all;
  if (!has(name)) return all;
  const Json& list = json_[name];
  if (!list.is_array() || list.size() > most_quantities) {
    problems.push_back({.field = prefix_ + name,
                        .remedy = fmt::format("send a list of up to {} lengths", most_quantities),
                        .message = "this is no short list"});
    return all;
  }
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string field = fmt::format("{}{}[{}]", prefix_, name, i + 1);
    if (list[i].is_string()) {
      all.emplace_back(field, list[i].get<std::string>());
    } else {
      no_text(field, list[i], units::Dimension::length);
    }
  }
  return all;
}

std::vector<double> QuantityReader::quantities(const char* name, units::Dimension dimension,
                                               std::pair<double, double> range) {
  std::vector<double> all;
  for (const auto& [field, text] : texts(name)) {
    if (const auto value = one(field, text, dimension, range)) all.push_back(*value);
  }
  return all;
}

bool QuantityReader::truth(const char* name) {
  if (!has(name)) return false;
  if (json_[name].is_boolean()) return json_[name].get<bool>();
  problems.push_back({.field = prefix_ + name,
                      .value = json_[name].dump().substr(0, 80),
                      .remedy = "send true or false",
                      .message = "this is neither true nor false"});
  return false;
}

std::string QuantityReader::word(const char* name, const std::vector<std::string>& words) {
  if (!has(name)) return {};
  const Json& value = json_[name];
  const std::string text = value.is_string() ? value.get<std::string>() : "";
  if (std::find(words.begin(), words.end(), text) != words.end()) return text;
  problems.push_back({.field = prefix_ + name,
                      .value = value.dump().substr(0, 80),
                      .allowed = fmt::format("{}", fmt::join(words, ", ")),
                      .remedy = "use one of these words",
                      .message = "this word is not known here"});
  return {};
}

}  // namespace propwright::answer
