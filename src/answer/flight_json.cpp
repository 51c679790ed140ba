#include "propwright/answer/flight_json.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace propwright::answer {
namespace {

constexpr std::size_t longest_cell = 4000;

struct FlightFlag {
  std::string_view word;
  bool logbook::Flight::*member;
};
constexpr FlightFlag flight_flags[] = {{"aborted", &logbook::Flight::aborted},
                                       {"steered", &logbook::Flight::steered},
                                       {"hang_up", &logbook::Flight::hung_up},
                                       {"left_out", &logbook::Flight::left_out}};

base::Problem wrong_cell(const std::string& field, const Json& value, std::string allowed,
                         std::string message) {
  return {.field = field,
          .value = value.dump(-1, ' ', false, Json::error_handler_t::replace).substr(0, 80),
          .allowed = std::move(allowed),
          .remedy = "correct it, or leave it out where it is not known",
          .message = std::move(message)};
}

bool set_flag(logbook::Flight& flight, std::string_view word) {
  for (const FlightFlag& flag : flight_flags) {
    if (flag.word != word) continue;
    flight.*flag.member = true;
    return true;
  }
  return false;
}

/// "aborted;steered"
bool set_flags(logbook::Flight& flight, std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(';'), text.size());
    if (!set_flag(flight, text.substr(0, end))) return false;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return true;
}

void read_cell(logbook::Flight& flight, const logbook::Column& column, const Json& value,
               const std::string& field, base::Problems& problems) {
  if (column.number != nullptr) {
    if (value.is_number() && std::isfinite(value.get<double>())) {
      flight.*column.number = value.get<double>();
    } else {
      problems.push_back(wrong_cell(field, value, "a number in SI", "this is no number"));
    }
    return;
  }
  if (!value.is_string() || value.get_ref<const std::string&>().size() > longest_cell) {
    problems.push_back(
        wrong_cell(field, value, "text up to 4000 bytes", "this is no text, or too long"));
    return;
  }
  if (column.text != nullptr) {
    flight.*column.text = value.get<std::string>();
  } else if (!set_flags(flight, value.get_ref<const std::string&>())) {
    problems.push_back(wrong_cell(field, value,
                                  "aborted, steered, hang_up, left_out, with ; between",
                                  "no flag has this name"));
  }
}

}  // namespace

Json logged_flight_json(const logbook::Flight& flight) {
  Json table = Json::object();
  for (const logbook::Column& column : logbook::columns()) {
    const std::string name(column.name);
    if (column.number != nullptr) {
      if (const auto& value = flight.*column.number) table[name] = *value;
    } else if (column.text != nullptr) {
      if (const std::string& text = flight.*column.text; !text.empty()) table[name] = text;
    } else {
      std::string words;
      for (const FlightFlag& flag : flight_flags) {
        if (flight.*flag.member) words.append(words.empty() ? "" : ";").append(flag.word);
      }
      if (!words.empty()) table[name] = words;
    }
  }
  return table;
}

base::Expected<logbook::Flight> read_logged_flight(const Json& table, const std::string& place) {
  if (!table.is_object()) {
    return base::fail({.field = place,
                       .remedy = "send an object with the columns of a flight log",
                       .message = "this is no flight"});
  }
  const auto& columns = logbook::columns();
  logbook::Flight flight;
  base::Problems problems;
  for (const auto& [name, value] : table.items()) {
    const auto is_it = [&name = name](const logbook::Column& column) {
      return column.name == name;
    };
    const auto column = std::find_if(columns.begin(), columns.end(), is_it);
    const std::string field = place + "." + name;
    if (column == columns.end()) {
      problems.push_back({.field = field,
                          .allowed = "a column of a flight log",
                          .remedy = "leave it out",
                          .message = "no column has this name"});
    } else {
      read_cell(flight, *column, value, field, problems);
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return flight;
}

}  // namespace propwright::answer
