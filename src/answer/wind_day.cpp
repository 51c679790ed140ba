// What the day changes against the sheet, each thing alone, and the card in sentences.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "propwright/answer/prediction.h"
#include "propwright/rubber/winder.h"
#include "wind_parts.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

/// One of the things that a contest day changes.
struct DayField {
  const char* word;
  std::optional<double> WindToday::*member;
};
constexpr DayField day_fields[] = {{"temperature", &WindToday::temperature_K},
                                   {"pressure", &WindToday::pressure_Pa},
                                   {"humidity", &WindToday::humidity},
                                   {"roof", &WindToday::roof_m}};

brief::Job on_day(brief::Job job, const WindToday& today) {
  if (today.temperature_K) {
    job.air.temperature_K = *today.temperature_K;
    job.motor.temperature_K.reset();  // the rubber has the hall's temperature today
  }
  if (today.pressure_Pa) {
    job.air.pressure_Pa = today.pressure_Pa;
    job.air.pressure_is_reduced = false;
    job.air.altitude_m.reset();
  }
  job.air.relative_humidity = today.humidity.value_or(job.air.relative_humidity);
  job.hall.roof_height_m = today.roof_m.value_or(job.hall.roof_height_m);
  return job;
}

std::string day_text(const char* word, double value, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  const auto shown = [](const units::Printed& printed) {
    return printed.number + "\u00a0" + printed.unit;
  };
  const std::string field = word;
  if (field == "temperature") {
    return shown(units::print_in(value, D::temperature, inch ? "degF" : "degC", inch ? 0 : 1));
  }
  if (field == "pressure") {
    return shown(units::print_in(value, D::pressure, inch ? "inHg" : "hPa", inch ? 2 : 0));
  }
  if (field == "humidity") return fmt::format("{:.0f}\u00a0%", 100 * value);
  return height_text(value, profile);
}

/// What the sheet took for it.
double on_sheet(const char* word, const predict::Nominal& planned, const brief::Job& job) {
  const std::string field = word;
  if (field == "temperature") return planned.setup.motor.temperature_K;
  if (field == "pressure") return planned.assembly.air.pressure_Pa;
  if (field == "humidity") return job.air.relative_humidity;
  return job.hall.roof_height_m;
}

Json change_json(const char* word, const std::string& from, const std::string& to,
                 const flight::Flight& planned, const flight::Flight& flown) {
  const auto backed_off = [](const flight::Flight& f) { return f.turns_wound - f.turns_at_launch; };
  return {{"what", word},
          {"from", from},
          {"to", to},
          {"back_off_change_turns", backed_off(flown) - backed_off(planned)},
          {"launch_torque_change_Nm", flown.launch_torque_Nm - planned.launch_torque_Nm},
          {"duration_change_s", flown.duration_s - planned.duration_s},
          {"energy_change", flown.energy.at_break / planned.energy.at_break - 1}};
}

double backed_off_turns(const flight::Flight& f) {
  return f.turns_wound - f.turns_at_launch;
}

/// As the card's table has it, so that a number stands there and in the sentence alike.
std::string card_torque_words(double torque_Nm) {
  const auto in = [&](const char* unit, int decimals) {
    const auto printed = units::print_in(torque_Nm, D::torque, unit, decimals);
    return printed.number + "\u00a0" + printed.unit;
  };
  return fmt::format("{} ({}, {})", in("mN.m", 2), in("g-cm", 1), in("in-oz", 3));
}

/// What differs from the sheet, and what the motor gives for it.
std::string difference_words(const WindFlights& flights, const Json& changes, bool by_risk) {
  std::string words;
  for (const Json& change : changes) {
    if (change["what"] == "all") continue;
    words +=
        fmt::format("{}{} {}, not {}", words.empty() ? "" : "; ", change["what"].get<std::string>(),
                    change["to"].get<std::string>(), change["from"].get<std::string>());
  }
  if (words.empty()) return by_risk ? "In air and hall as on the sheet" : "As on the sheet";
  words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
  const double energy =
      100 * (flights.aim.flight.energy.at_break / flights.planned.flight.energy.at_break - 1);
  if (std::abs(energy) >= 0.5) {
    words += fmt::format(". The motor gives {:.0f}\u00a0% {}", std::abs(energy),
                         energy < 0 ? "less" : "more");
  }
  return words;
}

/// The turns to let out as they are counted. Against the sheet the turns of the motor are told
/// before the crank rounds them: a turn of the crank more or less may be nothing but rounding.
std::string back_off_words(const WindFlights& flights, double ratio, bool by_risk) {
  const double counted = backed_off_turns(flights.counted);
  const long aim = std::lround(backed_off_turns(flights.aim.flight)),
             was = std::lround(backed_off_turns(flights.planned.flight));
  const auto turns = [](double count, const char* of) {
    return fmt::format("{:.0f}\u00a0{}{}", count, of, std::lround(count) == 1 ? "turn" : "turns");
  };
  if (ratio == 1) {
    const bool other = aim != was && std::lround(counted) != was;
    return turns(counted, "") + (!other    ? std::string()
                                 : by_risk ? fmt::format(", in air and hall of the sheet {}", was)
                                           : fmt::format(" where the sheet says {}", was));
  }
  return turns(rubber::crank_turns(counted, ratio), "winder ") +
         fmt::format(
             " ({:.0f} of the motor{})", counted,
             aim == was ? ""
                        : fmt::format("; before whole winder turns {}, on the sheet {}", aim, was));
}

}  // namespace

base::Expected<predict::Nominal> fly_on_day(const WindQuestion& asked, const brief::Job& job,
                                            const WindToday& today) {
  auto nominal = predict::predict(on_day(job, today), asked.loaded.attachments);
  if (!nominal) return base::fail(in_file(nominal.error(), "job"));
  return nominal;
}

base::Expected<Json> day_changes(const WindQuestion& asked, const brief::Job& job,
                                 const predict::Nominal& planned, const predict::Nominal& today) {
  Json changes = Json::array();
  for (const auto& [word, member] : day_fields) {
    const auto& value = asked.today.*member;
    if (!value) continue;
    const double sheet = on_sheet(word, planned, asked.loaded.job);
    if (std::abs(*value - sheet) < 1e-6 * std::abs(sheet)) continue;
    WindToday only;
    only.*member = value;
    const auto flown = fly_on_day(asked, job, only);
    if (!flown) return base::fail(flown.error());
    const auto profile = asked.loaded.profile();
    const std::string from = day_text(word, sheet, profile), to = day_text(word, *value, profile);
    if (from == to) continue;  // the same as far as anybody reads it
    changes.push_back(change_json(word, from, to, planned.flight, flown->flight));
  }
  if (changes.size() > 1) {
    changes.push_back(change_json("all", "", "", planned.flight, today.flight));
  }
  return changes;
}

std::vector<std::string> day_sentences(const WindQuestion& asked, const WindFlights& flights,
                                       const Json& changes) {
  // Wound to a chance of a break the turns are not the sheet's, but what is let out of them would
  // be the same on its day.
  const bool by_risk = asked.breaking && !asked.breaking->too_few();
  const std::string first =
      fmt::format("{}: back off {}.", difference_words(flights, changes, by_risk),
                  back_off_words(flights, asked.winder_ratio, by_risk));
  const flight::Flight& f = flights.counted;
  const double roof_m = flights.aim.setup.hall.roof_m, wait_s = asked.loaded.job.launch.wait_s;
  const double hooked_Nm = rubber::torque_Nm(flights.aim.setup.motor, f.turns_at_launch);
  const std::string hooked = card_torque_words(hooked_Nm);
  const std::string launched = card_torque_words(f.launch_torque_Nm);
  const std::string waited = wait_s > 0
                                 ? fmt::format(", {} after the wait of {:.0f}\u00a0s,",
                                               launched == hooked ? "the same" : launched, wait_s)
                                 : std::string();
  const auto profile = asked.loaded.profile();
  return {first,
          fmt::format("Hooked up at {}{} it tops out {} under {}.", hooked, waited,
                      height_text(roof_m - f.top_height_m, profile), height_text(roof_m, profile)),
          wind_stop_words(asked, flights.aim.setup.motor.breaking_turns)};
}

}  // namespace propwright::answer
