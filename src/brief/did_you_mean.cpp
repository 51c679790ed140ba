#include <fmt/format.h>

#include <cctype>
#include <cmath>
#include <cstdlib>

#include "fields.h"
#include "propwright/units/units.h"
#include "source.h"

namespace propwright::brief {
namespace {

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool fits(const std::string& text, const FieldFacts& field) {
  const auto value = units::parse(text, field.dimension);
  return value && *value >= field.low && *value <= field.high;
}

/// Steps a slip of the pen makes: a decimal place or three, or inches for another unit.
bool is_slip(double factor) {
  for (const double step : {10.0, 100.0, 1000.0, 25.4, 2.54}) {
    if (std::abs(factor / step - 1) < 1e-9 || std::abs(factor * step - 1) < 1e-9) return true;
  }
  return false;
}

std::string in_other_units(const std::string& text, const FieldFacts& field) {
  const auto [number, unit] = split_quantity(text);
  const auto as_given = units::parse(text, field.dimension);
  std::string found;
  int count = 0;
  std::string list = units::accepted_units(field.dimension) + ", ";
  if (field.dimension == units::Dimension::ratio) list = "%, ";
  for (std::size_t comma = list.find(", "); comma != std::string::npos && count < 2;
       comma = list.find(", ")) {
    const std::string candidate = number + " " + list.substr(0, comma);
    list.erase(0, comma + 2);
    const auto value = units::parse(candidate, field.dimension);
    if (!value || !as_given || !fits(candidate, field) || !is_slip(*value / *as_given)) continue;
    found += fmt::format("{}\"{}\"", count++ == 0 ? "" : " or ", candidate);
  }
  return found;
}

std::string a_decimal_place_off(const std::string& text, const FieldFacts& field) {
  const auto [number, unit] = split_quantity(text);
  char* end = nullptr;
  const double value = std::strtod(number.c_str(), &end);
  if (number.empty() || *end != '\0' || !std::isfinite(value)) return {};
  for (const double step : {0.1, 10.0}) {
    const std::string candidate = trimmed(fmt::format("{:.6g} {}", value * step, unit));
    if (fits(candidate, field)) return fmt::format("\"{}\"", candidate);
  }
  return {};
}

}  // namespace

std::pair<std::string, std::string> split_quantity(const std::string& text) {
  std::size_t end = 0;
  while (end < text.size()) {
    const char c = text[end];
    const bool exponent = (c == 'e' || c == 'E') && end > 0 && is_digit(text[end - 1]) &&
                          end + 1 < text.size() &&
                          (is_digit(text[end + 1]) || text[end + 1] == '-' || text[end + 1] == '+');
    const bool part_of_number =
        is_digit(c) || c == '.' || c == '-' || c == '+' || c == '/' || c == ' ' || exponent;
    if (!part_of_number) break;
    ++end;
  }
  return {trimmed(text.substr(0, end)), trimmed(text.substr(end))};
}

std::string did_you_mean(const std::string& text, const FieldFacts& field) {
  if (field.kind != Kind::quantity) return {};
  std::string found = in_other_units(text, field);
  if (found.empty()) found = a_decimal_place_off(text, field);
  return found.empty() ? found : fmt::format("did you mean {}?", found);
}

}  // namespace propwright::brief
