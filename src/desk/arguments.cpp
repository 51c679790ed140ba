#include "arguments.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <charconv>
#include <cmath>

namespace propwright::desk {

const std::vector<std::string>& Arguments::all(const std::string& option) const {
  static const std::vector<std::string> none;
  const auto found = values.find(option);
  return found == values.end() ? none : found->second;
}

std::string Arguments::text(const std::string& option, const std::string& otherwise) const {
  const auto& given = all(option);
  return given.empty() ? otherwise : given.front();
}

namespace {

/// "0 m/s to 50 m/s", leaving out an open end.
std::string range_text(units::Dimension dimension, Limits limits) {
  const auto text = [&](double si) {
    return units::to_exact_text(si, dimension, units::Profile::metric);
  };
  if (limits.high >= 1e300) return text(limits.low) + " or more";
  if (limits.low <= -1e300) return "up to " + text(limits.high);
  return text(limits.low) + " to " + text(limits.high);
}

}  // namespace

std::optional<double> OptionReader::read(const std::string& option, const std::string& text,
                                         units::Dimension dimension, Limits limits) {
  auto value = units::parse(text, dimension, option);
  if (!value) {
    for (base::Problem& problem : value.error()) problems.push_back(std::move(problem));
    return std::nullopt;
  }
  if (*value >= limits.low && *value <= limits.high) return *value;
  problems.push_back({.field = option,
                      .value = text,
                      .allowed = range_text(dimension, limits),
                      .remedy = "check the number and its unit",
                      .message = "the value is out of range"});
  return std::nullopt;
}

std::optional<double> OptionReader::quantity(const std::string& option, units::Dimension dimension,
                                             Limits limits) {
  if (!arguments_.has(option)) return std::nullopt;
  return read(option, arguments_.text(option), dimension, limits);
}

std::vector<double> OptionReader::quantities(const std::string& option, units::Dimension dimension,
                                             Limits limits) {
  std::vector<double> read_values;
  for (const std::string& text : arguments_.all(option)) {
    if (const auto value = read(option, text, dimension, limits)) read_values.push_back(*value);
  }
  return read_values;
}

std::optional<long long> OptionReader::count(const std::string& option, long long low,
                                             long long high) {
  if (!arguments_.has(option)) return std::nullopt;
  const std::string text = arguments_.text(option);
  long long number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool read = error == std::errc() && end == text.data() + text.size();
  if (read && number >= low && number <= high) return number;
  problems.push_back(
      {.field = option,
       .value = text,
       .allowed = fmt::format("whole numbers from {} to {}", low, high),
       .remedy = "give a count without a unit",
       .message = read ? "the number is out of range" : "this is not a whole number"});
  return std::nullopt;
}

std::string OptionReader::word(const std::string& option, const std::vector<std::string>& words) {
  std::string text = arguments_.text(option, words.front());
  for (const std::string& known : words) {
    if (text == known) return text;
  }
  const std::string near = base::nearest_name(text, words);
  problems.push_back({.field = option,
                      .value = text,
                      .allowed = fmt::format("{}", fmt::join(words, ", ")),
                      .remedy = near.empty() ? "choose one of these" : "did you mean " + near + "?",
                      .message = "this word is not known here"});
  return words.front();
}

}  // namespace propwright::desk
