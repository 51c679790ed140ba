#include <fmt/format.h>

#include <algorithm>

#include "propwright/logbook/flight_log.h"

namespace propwright::logbook {

namespace {

std::string flags_of(const Flight& flight) {
  std::string text;
  const auto add = [&](bool set, const char* word) {
    if (set) text += (text.empty() ? "" : ";") + std::string(word);
  };
  add(flight.aborted, "aborted");
  add(flight.steered, "steered");
  add(flight.hung_up, "hang_up");
  add(flight.left_out, "left_out");
  return text;
}

/// A cell as RFC 4180 has it: what would be cut, taken for a remark or lose its spaces is quoted.
std::string quoted(const std::string& text) {
  const auto blank = [](char c) { return static_cast<unsigned char>(c) <= ' '; };
  const bool plain = text.find_first_of(",;\t\"\n\r#") == std::string::npos;
  if (plain && (text.empty() || (!blank(text.front()) && !blank(text.back())))) return text;
  std::string cell = "\"";
  for (const char c : text) {
    if (c == '"') cell += '"';
    cell += c;
  }
  return cell + '"';
}

std::string cell_of(const Column& column, const Flight& flight) {
  if (column.text != nullptr) return quoted(flight.*column.text);
  if (column.number == nullptr) return flags_of(flight);
  const std::optional<double>& value = flight.*column.number;
  return value ? fmt::format("{}", *value) : std::string();
}

bool always_written(const Column& column) {
  return column.name == "propeller" || column.name == "duration_s";
}

}  // namespace

std::string write_csv(const std::vector<Flight>& flights) {
  std::vector<Column> filled;
  for (const Column& column : columns()) {
    const bool any = std::any_of(flights.begin(), flights.end(), [&](const Flight& flight) {
      return !cell_of(column, flight).empty();
    });
    if (any || always_written(column)) filled.push_back(column);
  }
  std::string text;
  for (const Column& column : filled) {
    text += fmt::format("{}{}", text.empty() ? "" : ",", column.name);
  }
  text += '\n';
  for (const Flight& flight : flights) {
    std::string row;
    for (std::size_t i = 0; i < filled.size(); ++i) {
      row += (i == 0 ? "" : ",") + cell_of(filled[i], flight);
    }
    text += row + '\n';
  }
  return text;
}

}  // namespace propwright::logbook
