#include "flights_said.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <optional>
#include <set>
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

void note_taps_without_time(FlightsQuestion& asked) {
  if (asked.loaded.empty()) return;
  const auto count = std::count_if(asked.flights.begin(), asked.flights.end(), [](const auto& f) {
    return f.mean_rev_per_s && !f.mean_rev_time_s && logbook::why_left_out(f).empty();
  });
  if (count == 0) return;
  asked.notes.push_back(fmt::format(
      "{} revolutions but not when they were tapped: they fall from launch on, so nothing is "
      "learned from them (mean_rev_time_s).",
      flights_tell(static_cast<std::size_t>(count))));
}

void note_several_models(FlightsQuestion& asked) {
  if (!asked.loaded.empty()) return;
  std::set<std::string> models;
  for (const logbook::Flight& flight : asked.flights) {
    if (!flight.model.empty()) models.insert(flight.model);
  }
  if (models.size() < 2) return;
  asked.notes.push_back(fmt::format(
      "The flights name several models ({}): without their jobs they are compared as if flown on "
      "one. Leave those of other models out.",
      fmt::join(models, ", ")));
}

void note_turns_past_breaking(const FlightsQuestion& asked, const learn::FlownLog& log,
                              std::vector<std::string>& notes) {
  std::vector<std::string> flights;
  flights.reserve(log.used().size());
  for (const std::size_t i : log.used()) {
    const auto& breaking = log.entries()[i].breaking_turns;
    if (!breaking) continue;
    const logbook::Flight& f = asked.flights[i];
    const double turns = std::max(f.turns_wound.value_or(0), f.turns_at_launch.value_or(0));
    flights.push_back(fmt::format("{}: {:.0f} of {:.0f}", i + 1, turns, *breaking));
  }
  if (flights.empty()) return;
  const std::size_t more =
      flights.size() > most_told_questions ? flights.size() - most_told_questions : 0;
  flights.resize(flights.size() - more);
  notes.push_back(fmt::format(
      "More turns were logged than the motor takes as its job has it (flight {}{}): the model "
      "winds "
      "it as far as it goes, and further only where the flights teach that this rubber takes more.",
      fmt::join(flights, ", "), more > 0 ? fmt::format(", and {} more", more) : ""));
}

}  // namespace propwright::answer
