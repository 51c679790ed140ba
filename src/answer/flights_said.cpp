#include "flights_said.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <optional>
#include <string_view>

#include "propwright/units/units.h"
#include "si_names.h"

namespace propwright::answer {
namespace {

constexpr std::size_t most_told_questions = 12;

/// "temperature 72.8 degC" of "temperature_K" and 345.93.
std::string spoken(std::string_view column, const std::string& value, units::Profile profile) {
  const auto known = si_name(column);
  std::string name(known ? known->stem : column);
  std::replace(name.begin(), name.end(), '_', ' ');
  if (!known) return name + " " + value;
  return name + " " +
         units::to_text(std::strtod(value.c_str(), nullptr), known->dimension, profile);
}

/// "Flight 2 (2026-11-21T14:05)": numbers count the list, which other pages order otherwise.
std::string name_of_flight(const FlightsQuestion& asked, std::size_t i) {
  const std::string& time = asked.flights[i].time;
  return time.empty() ? fmt::format("Flight {}", i + 1)
                      : fmt::format("Flight {} ({})", i + 1, time);
}

std::string day_of(const logbook::Flight& flight) {
  return flight.time.substr(0, 10);
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// What is held of a temperature that nobody wrote down; goes on from "is taken".
std::string doubt_text(double sigma_K) {
  if (sigma_K <= 0) return " as sure";
  return fmt::format(
      ", and learning holds it for known within {:.3g}\u00a0K ({:.3g}\u00a0°F) only, alike for all "
      "flights of a day",
      sigma_K, 1.8 * sigma_K);
}

std::string flights_tell(std::size_t count) {
  return count == 1 ? "One flight tells" : fmt::format("{} flights tell", count);
}

}  // namespace

void take_questioned_for_unknown(FlightsQuestion& asked) {
  std::size_t told = 0, all = 0;
  for (std::size_t i = 0; i < asked.flights.size(); ++i) {
    const base::Problems questions = logbook::questions(asked.flights[i]);
    for (const base::Problem& one : questions) {
      if (++all > most_told_questions) continue;
      ++told;
      asked.notes.push_back(
          fmt::format("{}: {} is taken for unknown: {}.", name_of_flight(asked, i),
                      spoken(one.field, one.value, asked.profile()), one.message));
    }
    asked.flights[i] = logbook::without_questioned(std::move(asked.flights[i]));
  }
  if (all > told) {
    asked.notes.push_back(fmt::format("{} more values are taken for unknown.", all - told));
  }
}

void take_temperature_of_the_day(FlightsQuestion& asked) {
  if (asked.loaded.empty()) return;
  std::map<std::string, std::vector<double>> known;
  for (const logbook::Flight& flight : asked.flights) {
    if (flight.temperature_K) known[day_of(flight)].push_back(*flight.temperature_K);
  }
  std::size_t of_day = 0, of_job = 0;
  for (logbook::Flight& flight : asked.flights) {
    if (flight.temperature_K || !logbook::why_left_out(flight).empty()) continue;
    const auto day = known.find(day_of(flight));
    if (day == known.end() || day->first.empty()) {
      ++of_job;
      continue;
    }
    flight.temperature_K = median(day->second);
    ++of_day;
  }
  if (of_day > 0) {
    asked.notes.push_back(fmt::format(
        "{} no temperature: that of the other flights of the day is taken.", flights_tell(of_day)));
  }
  if (of_job > 0) {
    asked.notes.push_back(fmt::format(
        "{} no temperature, nor do others of the day: the job's, {}, is taken{}. Warm rubber gives "
        "more, so log it where it can be read.",
        flights_tell(of_job),
        units::to_text(asked.loaded.front().job.air.temperature_K, units::Dimension::temperature,
                       asked.profile()),
        doubt_text(asked.scatter.unread_temperature_K)));
  }
}

}  // namespace propwright::answer
