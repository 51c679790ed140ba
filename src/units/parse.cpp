#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/units/units.h"
#include "reading.h"
#include "unit_table.h"

namespace propwright::units {
namespace {

/// What is being read, for the problems.
struct Request {
  std::string_view text;  ///< as the user wrote it
  Dimension dimension;
  const std::string& field;
};

tl::unexpected<base::Problems> refuse(const Request& request, std::string message,
                                      std::string remedy) {
  return base::fail({.field = request.field,
                     .value = shown(request.text),
                     .allowed = accepted_units(request.dimension),
                     .remedy = std::move(remedy),
                     .message = std::move(message)});
}

std::string example(Dimension dimension) {
  if (dimension == Dimension::ratio) return "write 0.06 or 6 %";
  return fmt::format("write a number and a unit, for example \"12 {}\"",
                     units_of(dimension).front()->typed);
}

/// "write 1.5, not 1,5" with the digits around the first comma of the text.
std::string comma_remedy(std::string_view text) {
  const std::size_t comma = text.find(',');
  std::size_t begin = comma;
  std::size_t end = comma + 1;
  while (begin > 0 && is_digit(text[begin - 1])) --begin;
  while (end < text.size() && is_digit(text[end])) ++end;
  const std::string_view before = text.substr(begin, comma - begin);
  const std::string_view after = text.substr(comma + 1, end - comma - 1);
  if (before.empty() || after.empty() || before.size() + after.size() > 20) {
    return "remove the comma; the decimal mark is a point: write 1.5, not 1,5";
  }
  return fmt::format("write {0}.{1}, not {0},{1}; leave no mark between thousands", before, after);
}

bool same_but_for_case(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

/// The spelling the user most likely meant; "" when none is near.
std::string nearest_spelling(std::string_view spelling, Dimension dimension) {
  const std::vector<std::string> known = spellings_of(dimension);
  const auto same = std::find_if(known.begin(), known.end(), [&](const std::string& candidate) {
    return same_but_for_case(candidate, spelling);
  });
  if (same != known.end()) return *same;
  return base::nearest_name(std::string(spelling.substr(0, 40)), known);
}

tl::unexpected<base::Problems> refuse_unit(const Request& request, std::string_view spelling) {
  const std::string wanted = dimension_name(request.dimension);
  const std::string found = dimensions_of(spelling);
  if (spelling.empty()) {
    return refuse(request, "the unit is missing",
                  fmt::format("write the unit after the number, for example \"{} {}\"",
                              shown(request.text), units_of(request.dimension).front()->typed));
  }
  if (!found.empty()) {
    return refuse(request, fmt::format("\"{}\" measures {}, not {}", spelling, found, wanted),
                  fmt::format("give a {} here", request.dimension == Dimension::ratio
                                                    ? "number from 0 to 1 or a percentage"
                                                    : wanted));
  }
  const std::string near = nearest_spelling(spelling, request.dimension);
  return refuse(
      request, fmt::format("\"{}\" is not a unit of {}", shown(spelling), wanted),
      near.empty() ? example(request.dimension) : fmt::format("did you mean \"{}\"?", near));
}

base::Expected<double> in_si(const Request& request, double value, const Unit& unit) {
  const double si = unit.conversion.to_si(value);
  if (!std::isfinite(si)) {
    return refuse(request, "the number is too large or too small to compute with",
                  "check the exponent");
  }
  if (request.dimension == Dimension::temperature && si < 0) {
    return refuse(request, "the temperature is below absolute zero (-273.15 degC)",
                  "check the sign and the unit");
  }
  return si;
}

/// "12:41", minutes and seconds, once the number before the colon is read.
base::Expected<double> minutes_and_seconds(const Request& request, const Number& minutes) {
  const std::string_view digits = minutes.rest.substr(1);
  const std::optional<Number> seconds = read_number(digits);
  const bool two_digits = digits.size() >= 2 && is_digit(digits[0]) && is_digit(digits[1]) &&
                          (digits.size() == 2 || digits[2] == '.');
  if (!minutes.plain_whole || !two_digits || !seconds || !seconds->rest.empty() ||
      seconds->value >= 60 || !std::isfinite(minutes.value)) {
    return refuse(request, "this is not minutes and seconds", "write them as 12:41 or 12 min 41 s");
  }
  return minutes.value * 60 + seconds->value;
}

/// "12 min 41 s": whole hours and minutes before the last part, each unit smaller than the one
/// before and never filled up ("90 s" after minutes is a slip of the pen).
base::Expected<double> sum_of_parts(const Request& request, Number part) {
  double sum_s = 0;
  double previous_unit_s = 0;
  while (true) {
    const std::size_t end = std::min(part.rest.find_first_of("0123456789"), part.rest.size());
    std::string_view spelling = part.rest.substr(0, end);
    spelling = spelling.substr(0, spelling.find_last_not_of(' ') + 1);
    const std::string_view rest = part.rest.substr(end);
    const Unit* unit = find_unit(spelling, Dimension::time);
    if (unit == nullptr) return refuse_unit(request, spelling);
    const double unit_s = unit->conversion.to_si(1);
    const bool first = previous_unit_s == 0;
    const bool follows =
        first || (unit_s < previous_unit_s && part.value * unit_s < previous_unit_s);
    if (!follows || (!rest.empty() && !part.plain_whole)) {
      return refuse(request, "the parts of this time do not fit together",
                    "write whole hours and minutes before seconds, as 12 min 41 s");
    }
    const base::Expected<double> part_s = in_si(request, part.value, *unit);
    if (!part_s) return part_s;
    sum_s += *part_s;
    if (rest.empty()) return sum_s;
    previous_unit_s = unit_s;
    const std::optional<Number> next = read_number(rest);
    if (!next) return refuse(request, "this is not a time", "write it as 12 min 41 s");
    part = *next;
  }
}

base::Expected<double> parse_time(const Request& request, const Number& number) {
  if (number.rest.starts_with(':')) return minutes_and_seconds(request, number);
  return sum_of_parts(request, number);
}

}  // namespace

base::Expected<double> parse(std::string_view text, Dimension dimension, const std::string& field) {
  const Request request{text, dimension, field};
  const std::string ascii = plain(text);
  if (ascii.empty()) return refuse(request, "nothing is written here", example(dimension));
  if (has_quote_mark(text)) {
    return refuse(request, "a quote mark is not read as a unit",
                  dimension == Dimension::angle ? "write deg" : "write in or ft");
  }
  if (ascii.find(',') != std::string::npos) {
    return refuse(request, "a comma cannot stand in a quantity", comma_remedy(ascii));
  }
  const std::optional<Number> number = read_number(ascii);
  if (!number) return refuse(request, "this does not begin with a number", example(dimension));
  if (!std::isfinite(number->value)) {
    return refuse(request, "the number is too large or too small to compute with",
                  "check the exponent");
  }
  if (dimension == Dimension::time && !number->rest.empty()) return parse_time(request, *number);
  const Unit* unit = find_unit(number->rest, dimension);
  if (unit == nullptr) return refuse_unit(request, number->rest);
  return in_si(request, number->value, *unit);
}

std::string accepted_units(Dimension dimension) {
  std::string list;
  for (const Unit* unit : units_of(dimension)) {
    if (!list.empty()) list += ", ";
    list += unit->typed.empty() ? "a pure number" : unit->typed;
  }
  return list;
}

}  // namespace propwright::units
