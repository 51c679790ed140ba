#include <fmt/format.h>

#include <charconv>
#include <chrono>
#include <cmath>

#include "propwright/logbook/flight_log.h"

namespace propwright::logbook {

namespace {

/// A question and the member it is about.
struct Question {
  base::Problem problem;
  std::optional<double> Flight::*member = nullptr;
  std::string Flight::*text = nullptr;
};

class Asker {
 public:
  Asker(const Flight& flight, const std::string& file) : flight_(flight), file_(file) {}

  void ask(std::string_view column, std::optional<double> Flight::*member, std::string allowed,
           std::string remedy, std::string message) {
    asked_.push_back({{.file = file_,
                       .line = flight_.line,
                       .field = std::string(column),
                       .value = fmt::format("{}", (flight_.*member).value_or(0)),
                       .allowed = std::move(allowed),
                       .remedy = std::move(remedy),
                       .message = std::move(message)},
                      member});
  }

  void ask_text(std::string_view column, std::string Flight::*text, std::string allowed,
                std::string remedy, std::string message) {
    asked_.push_back({{.file = file_,
                       .line = flight_.line,
                       .field = std::string(column),
                       .value = flight_.*text,
                       .allowed = std::move(allowed),
                       .remedy = std::move(remedy),
                       .message = std::move(message)},
                      nullptr,
                      text});
  }

  std::vector<Question> take() { return std::move(asked_); }

 private:
  const Flight& flight_;
  const std::string& file_;
  std::vector<Question> asked_;
};

constexpr const char* correct_or_empty = "correct it, or leave it empty where it is not known";

/// What to do with a number far out of its range: most often the unit slipped.
std::string unit_remedy(const Column& column, double value) {
  if (column.name == "temperature_K" && value > -40 && value < 60) {
    return fmt::format("the column is in kelvin: {} degC is {:.2f}", value, value + 273.15);
  }
  if (column.name == "humidity" && value > 1 && value <= 100) {
    return fmt::format("the column is a share: {} % is {}", value, value / 100);
  }
  if (column.name == "pressure_Pa" && value > 600 && value < 1100) {
    return fmt::format("the column is in pascal: {} hPa is {}", value, 100 * value);
  }
  if (column.name == "model_mass_kg" && value > 0.1 && value < 50) {
    return fmt::format("the column is in kilograms: {} g is {}", value, value / 1000);
  }
  return correct_or_empty;
}

void ask_ranges(const Flight& f, Asker& asker) {
  for (const Column& column : columns()) {
    if (column.number == nullptr) continue;
    const std::optional<double>& value = f.*column.number;
    if (!value || (*value >= column.low && *value <= column.high)) continue;
    asker.ask(column.name, column.number, fmt::format("{} to {}", column.low, column.high),
              unit_remedy(column, *value), "hardly possible");
  }
}

void ask_turns(const Flight& f, Asker& asker) {
  const auto launch = f.turns_at_launch ? f.turns_at_launch : f.turns_wound;
  if (f.turns_left && launch && *f.turns_left > *launch) {
    asker.ask("turns_left", &Flight::turns_left, fmt::format("0 to {}", *launch), correct_or_empty,
              "more turns left than there were at launch");
  }
  if (f.turns_at_launch && f.turns_wound && *f.turns_at_launch > *f.turns_wound) {
    asker.ask("turns_at_launch", &Flight::turns_at_launch, fmt::format("1 to {}", *f.turns_wound),
              correct_or_empty, "more turns at launch than were wound in");
  }
  if (f.launch_torque_Nm && f.torque_wound_Nm && *f.launch_torque_Nm > *f.torque_wound_Nm) {
    asker.ask("launch_torque_Nm", &Flight::launch_torque_Nm,
              fmt::format("up to {}", *f.torque_wound_Nm), correct_or_empty,
              "more torque at launch than while winding");
  }
  if (!f.turns_at_launch || !f.turns_left || !f.duration_s || *f.duration_s <= 0) return;
  const double rev_per_s = (*f.turns_at_launch - *f.turns_left) / *f.duration_s;
  if (rev_per_s > 20) {
    asker.ask("duration_s", &Flight::duration_s, "turns used at no more than 20 a second",
              correct_or_empty, fmt::format("the turns used would be {:.0f} a second", rev_per_s));
  }
  // The glide after the motor has stopped lowers the mean; a tapped value is never far below it.
  if (f.mean_rev_per_s && rev_per_s > 0 && *f.mean_rev_per_s < 0.5 * rev_per_s) {
    asker.ask("mean_rev_per_s", &Flight::mean_rev_per_s,
              fmt::format("near {:.2f}, turns used over time flown", rev_per_s), correct_or_empty,
              "less than half of what the turns used say");
  }
}

void ask_heights(const Flight& f, Asker& asker) {
  if (f.top_height_m && f.roof_m && *f.top_height_m > *f.roof_m * 1.001) {
    asker.ask("top_height_m", &Flight::top_height_m, fmt::format("up to the roof, {}", *f.roof_m),
              correct_or_empty, "higher than the roof");
  }
  if (f.top_time_s && f.duration_s && *f.top_time_s > *f.duration_s) {
    asker.ask("top_time_s", &Flight::top_time_s, fmt::format("0 to {}", *f.duration_s),
              correct_or_empty, "later than the landing");
  }
  if (f.mean_rev_time_s && f.duration_s && *f.mean_rev_time_s > *f.duration_s) {
    asker.ask("mean_rev_time_s", &Flight::mean_rev_time_s, fmt::format("0 to {}", *f.duration_s),
              correct_or_empty, "later than the landing");
  }
  if (f.ballast_kg && f.model_mass_kg && *f.ballast_kg > 0.5 * *f.model_mass_kg) {
    asker.ask("ballast_kg", &Flight::ballast_kg, fmt::format("0 to {}", 0.5 * *f.model_mass_kg),
              correct_or_empty, "more than half of the model");
  }
}

/// A motor of half the length runs half as long: what is at the edge for a full one is over it.
void ask_part(const Flight& f, Asker& asker) {
  if (!f.motor_part || !f.duration_s || *f.motor_part >= 1 || *f.motor_part <= 0) return;
  constexpr double longest_s = 7200;  // of duration_s, columns.cpp
  const double full_s = *f.duration_s / *f.motor_part;
  if (full_s <= longest_s || *f.duration_s > longest_s) return;
  asker.ask("duration_s", &Flight::duration_s, fmt::format("1 to {}", longest_s * *f.motor_part),
            correct_or_empty,
            fmt::format("hardly possible on {} of a motor: the full one would fly {:.0f}\u00a0s",
                        *f.motor_part, full_s));
}

/// Days sort by their text, and a flight belongs to one.
void ask_time(const Flight& f, Asker& asker) {
  if (f.time.empty() || is_time(f.time)) return;
  asker.ask_text("time", &Flight::time, "2026-11-21 or 2026-11-21T14:05",
                 "write year, month, day, and T before the time of day", "no day there is");
}

/// No hall is drier than a hundredth: a share was written as percent.
void ask_air(const Flight& f, Asker& asker) {
  if (!f.humidity || *f.humidity <= 0 || *f.humidity >= 0.01) return;
  asker.ask("humidity", &Flight::humidity, "0.01 to 1",
            fmt::format("the column is a share: {} % is {}", 1e4 * *f.humidity, 100 * *f.humidity),
            "drier than any hall");
}

std::vector<Question> all_questions(const Flight& flight, const std::string& file) {
  Asker asker(flight, file);
  ask_time(flight, asker);
  ask_ranges(flight, asker);
  ask_turns(flight, asker);
  ask_heights(flight, asker);
  ask_part(flight, asker);
  ask_air(flight, asker);
  return asker.take();
}

}  // namespace

bool is_time(std::string_view text) {
  const auto number = [&](std::size_t at, std::size_t digits) -> std::optional<int> {
    if (text.size() < at + digits) return std::nullopt;
    int value = 0;
    const char* const end = text.data() + at + digits;
    const auto [stopped, error] = std::from_chars(text.data() + at, end, value);
    return error == std::errc() && stopped == end && value >= 0 ? std::optional(value)
                                                                : std::nullopt;
  };
  const auto year = number(0, 4), month = number(5, 2), day = number(8, 2);
  if (!year || !month || !day || text[4] != '-' || text[7] != '-') return false;
  const std::chrono::year_month_day date{std::chrono::year(*year),
                                         std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*day))};
  if (!date.ok()) return false;
  if (text.size() == 10) return true;
  const auto hour = number(11, 2), minute = number(14, 2);
  if (!hour || !minute || text[10] != 'T' || text[13] != ':' || *hour > 23 || *minute > 59) {
    return false;
  }
  if (text.size() == 16) return true;
  const auto second = number(17, 2);
  return second && text.size() == 19 && text[16] == ':' && *second <= 59;
}

std::string why_left_out(const Flight& flight) {
  const char* flag = flight.aborted    ? "aborted"
                     : flight.hung_up  ? "hung up"
                     : flight.left_out ? "left out"
                                       : "";
  if (*flag == '\0' || flight.reason.empty()) return flag;
  return fmt::format("{}: {}", flag, flight.reason);
}

base::Problems questions(const Flight& flight, const std::string& file) {
  std::vector<Question> asked = all_questions(flight, file);
  base::Problems problems;
  problems.reserve(asked.size());
  for (Question& question : asked) problems.push_back(std::move(question.problem));
  return problems;
}

Flight without_questioned(Flight flight) {
  for (const Question& question : all_questions(flight, {})) {
    if (question.member != nullptr) (flight.*question.member).reset();
    if (question.text != nullptr) (flight.*question.text).clear();
  }
  return flight;
}

}  // namespace propwright::logbook
