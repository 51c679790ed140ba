// The winding card: the motor wound, backed off for today's air and roof, against the sheet.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <utility>

#include "bench_cautions.h"
#include "propwright/answer/floor.h"
#include "propwright/rubber/winder.h"
#include "wind_parts.h"

namespace propwright::answer {
namespace {

Json flight_json(const predict::Nominal& nominal, const flight::Flight& f) {
  return {{"duration_s", f.duration_s},
          {"top_height_m", f.top_height_m},
          {"under_roof_m", nominal.setup.hall.roof_m - f.top_height_m},
          {"wind_turns", f.turns_wound},
          {"back_off_turns", f.turns_wound - f.turns_at_launch},
          {"launch_turns", f.turns_at_launch},
          {"launch_torque_Nm", f.launch_torque_Nm},
          {"turns_left", f.turns_left},
          {"mean_rev_per_s", f.mean_rev_per_s},
          {"density_kg_m3", nominal.setup.density_kg_m3},
          {"temperature_K", nominal.setup.motor.temperature_K},
          {"warnings", nominal.flight.warnings}};
}

/// The flight that whole turns of the winder give, wound and hooked up at or below the aim.
base::Expected<flight::Flight> fly_counted(const predict::Nominal& aim, double ratio) {
  const double stop = rubber::crank_turns(aim.flight.turns_wound, ratio),
               hook = rubber::crank_turns(aim.flight.turns_at_launch, ratio);
  if (hook < 1) {
    return base::fail({.field = "winder_ratio",
                       .value = fmt::format("{:g}", ratio),
                       .allowed = fmt::format("up to {:.0f}", aim.flight.turns_at_launch),
                       .remedy = "count on a winder with fewer turns to the crank",
                       .message = "the motor is launched with less than one turn of the crank"});
  }
  flight::Setup setup = aim.setup;
  setup.launch.wound_turns = stop * ratio;
  setup.launch.margin_m.reset();
  setup.launch.torque_Nm.reset();
  setup.launch.turns = hook * ratio;
  auto flown = flight::fly(setup);
  if (!flown) return base::fail(in_file(flown.error(), "job"));
  return flown;
}

/// Planned, as today's roof asks for, and as the winder can count it.
base::Expected<WindFlights> wind_flights(const WindQuestion& asked, const brief::Job& job) {
  auto planned = fly_on_day(asked, job, {});
  if (!planned) return base::fail(planned.error());
  auto aim = fly_on_day(asked, job, asked.today);
  if (!aim) return base::fail(aim.error());
  auto counted = fly_counted(*aim, asked.winder_ratio);
  if (!counted) return base::fail(counted.error());
  return WindFlights{std::move(*planned), std::move(*aim), std::move(*counted)};
}

void add_motor_notes(const predict::Nominal& aim, WindQuestion& asked) {
  for (const std::string& note : aim.setup.motor.notes) asked.notes.push_back(note);
  for (const std::string& note : aim.setup.motor.batch.notes) asked.notes.push_back(note);
}

}  // namespace

base::Expected<Json> wind_document(const Json& question) {
  auto asked = read_wind_question(question);
  if (!asked) return base::fail(asked.error());
  const auto found = question.find("breaking");
  const auto job = wind_job(*asked, found == question.end() ? Json() : *found);
  if (!job) return base::fail(job.error());
  const auto flights = wind_flights(*asked, *job);
  if (!flights) return base::fail(flights.error());
  const predict::Nominal &planned = flights->planned, &aim = flights->aim;
  const auto changes = day_changes(*asked, *job, planned, aim);
  if (!changes) return base::fail(changes.error());
  add_motor_notes(aim, *asked);
  Json answer{{"units", asked->loaded.profile() == units::Profile::inch ? "inch" : "metric"},
              {"design", asked->loaded.job.propeller.name},
              {"version", asked->loaded.job.info.version},
              {"model", asked->loaded.job.model.name},
              {"hall", asked->loaded.job.hall.name},
              {"roof_m", aim.setup.hall.roof_m},
              {"planned", flight_json(planned, planned.flight)},
              {"today", flight_json(aim, flights->counted)},
              {"card", wind_card_json(*asked, *flights)},
              {"changes", *changes},
              {"notes", asked->notes},
              {"sentences", day_sentences(*asked, *flights, *changes)},
              {"caution", cautions::wind}};
  compact(answer);  // finds numbers that are not finite
  return answer;
}

}  // namespace propwright::answer
