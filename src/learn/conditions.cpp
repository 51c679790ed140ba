#include "conditions.h"

#include <algorithm>
#include <cmath>

#include "propwright/air/air.h"

namespace propwright::learn {

namespace {

/// The hall's air as logged; what was not read is the job's.
air::Air air_of(const logbook::Flight& f, const Subject& subject) {
  const air::Air& own = subject.nominal.assembly.air;
  if (!f.temperature_K && !f.pressure_Pa && !f.humidity) return own;
  const auto made =
      air::moist_air({.temperature_K = f.temperature_K.value_or(own.temperature_K),
                      .pressure_Pa = f.pressure_Pa.value_or(own.pressure_Pa),
                      .relative_humidity = f.humidity.value_or(subject.job.air.relative_humidity)});
  return made ? *made : own;
}

rubber::Motor motor_of(const logbook::Flight& f, const Subject& subject, const air::Air& air) {
  const rubber::Motor& own = subject.nominal.assembly.motor;
  const double part = f.motor_part.value_or(1);
  const bool cut = f.motor_section_m2 || f.motor_length_m || f.motor_mass_kg;
  const double section = f.motor_section_m2.value_or(own.section_m2);
  const double length = f.motor_length_m.value_or(cut ? own.length_m : part * own.length_m);
  // A motor of other sizes weighs what they say, unless it was weighed.
  const bool sized = f.motor_section_m2 || f.motor_length_m;
  const double mass = f.motor_mass_kg.value_or(sized ? 0 : cut ? own.mass_kg : part * own.mass_kg);
  const double temperature = f.temperature_K ? air.temperature_K : own.temperature_K;
  auto made = rubber::make_motor(own.batch, section, length, mass, 0, temperature);
  if (!made) return own;
  // The spacer of a part of a motor weighs what is missing of the whole, unless it was weighed.
  const double missing = part < 1 ? (1 - part) / part * made->mass_kg : 0;
  const double planned = cut && part < 1 ? 0 : own.spacer_mass_kg;
  made->spacer_mass_kg = f.spacer_mass_kg.value_or(planned + missing);
  return *made;
}

/// What has one temperature: the day, else the visit; flights that tell neither are taken together.
std::string day_of(const logbook::Flight& f) {
  const std::string day = f.time.substr(0, 10);
  return !day.empty() ? day : !f.session.empty() ? f.session : "no date";
}

/// The launch as flown: turns as logged, else torque as logged, else as the job plans it.
flight::LaunchPlan launch_of(const logbook::Flight& f, const flight::LaunchPlan& own,
                             const rubber::Motor& motor) {
  flight::LaunchPlan plan = own;
  plan.height_m = f.launch_height_m.value_or(own.height_m);
  plan.wait_s = f.wait_s.value_or(own.wait_s);
  plan.wound_turns = std::min(own.wound_turns, motor.breaking_turns);
  const auto turns = f.turns_at_launch                      ? f.turns_at_launch
                     : f.turns_wound && !f.launch_torque_Nm ? f.turns_wound
                                                            : std::nullopt;
  if (f.turns_wound) plan.wound_turns = *f.turns_wound;
  if (turns) {
    plan.margin_m.reset();
    plan.torque_Nm.reset();
    plan.turns = *turns;
    plan.wound_turns = std::max(plan.wound_turns, *turns);
  } else if (f.launch_torque_Nm) {
    plan.margin_m.reset();
    plan.turns.reset();
    plan.torque_Nm = *f.launch_torque_Nm;
  }
  return plan;
}

}  // namespace

std::string batch_of(const logbook::Flight& flight, const brief::Job& job) {
  return flight.batch.empty() ? job.rubber.name : flight.batch;
}

Conditions conditions_of(const logbook::Flight& flight, const Subject& subject, std::size_t index) {
  const air::Air air = air_of(flight, subject);
  Conditions made;
  made.subject = made.flown_as = index;
  if (flight.mean_rev_per_s) made.rev_time_s = flight.mean_rev_time_s;
  made.batch = batch_of(flight, subject.job);
  if (!flight.temperature_K) made.unread_day = day_of(flight);
  made.air_temperature_K = air.temperature_K;
  made.flow = {air.density_kg_m3, air.viscosity_Pa_s};
  made.setup = subject.nominal.setup;
  made.setup.propeller = {};
  made.setup.density_kg_m3 = air.density_kg_m3;
  made.setup.motor = motor_of(flight, subject, air);
  if (flight.model_mass_kg) made.setup.airframe.mass_kg = *flight.model_mass_kg;
  if (flight.roof_m) made.setup.hall.roof_m = *flight.roof_m;
  made.setup.launch = launch_of(flight, subject.nominal.assembly.launch, made.setup.motor);
  return made;
}

void exchange_propeller(Conditions& conditions, const Subject& subject, std::size_t index) {
  conditions.subject = index;
  conditions.setup.freewheels = subject.nominal.setup.freewheels;
}

std::optional<double> breaking_turns_passed(const logbook::Flight& f,
                                            const Conditions& conditions) {
  const double turns = std::max(f.turns_wound.value_or(0), f.turns_at_launch.value_or(0));
  const double breaking = conditions.setup.motor.breaking_turns;
  return turns > breaking ? std::optional(breaking) : std::nullopt;
}

namespace {

/// Without what hands add to a name: spaces and capitals.
std::string bare(const std::string& name) {
  std::string text;
  for (const char c : name) {
    if (c == ' ') continue;
    text += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  }
  return text;
}

}  // namespace

bool of_another_model(const logbook::Flight& flight, const brief::Job& job) {
  const std::string flown = bare(flight.model), own = bare(job.model.name);
  return !flown.empty() && !own.empty() && flown != own;
}

std::vector<Reading> readings_of(const logbook::Flight& f, const Conditions& conditions,
                                 const Scatter& scatter) {
  std::vector<Reading> readings;
  const flight::LaunchPlan& plan = conditions.setup.launch;
  if (f.duration_s) {
    readings.push_back({Kind::duration, std::log(*f.duration_s), scatter.duration});
  }
  // A height at the roof says only that it was reached; and of a launch that is planned to stay
  // below it, nothing.
  const bool touched = f.touches.value_or(0) > 0;
  const bool at_roof = touched || (f.top_height_m && f.roof_m && *f.top_height_m >= *f.roof_m);
  if (at_roof ? !plan.margin_m : f.top_height_m.has_value()) {
    const double height = f.top_height_m.value_or(conditions.setup.hall.roof_m);
    readings.push_back({Kind::top_height, height,
                        std::hypot(scatter.top_height_m, scatter.top_height * height), at_roof});
  }
  if (f.turns_left && plan.turns) {
    readings.push_back({Kind::turns_left, *f.turns_left, scatter.turns_left * *plan.turns});
  }
  if (f.launch_torque_Nm && plan.turns) {
    readings.push_back({Kind::launch_torque, std::log(*f.launch_torque_Nm), scatter.launch_torque});
  }
  // Revolutions fall from launch on: without the time of the taps they say nothing.
  if (f.mean_rev_per_s && f.mean_rev_time_s) {
    const double sigma = f.mean_rev_sigma_per_s.value_or(0) / *f.mean_rev_per_s;
    readings.push_back(
        {Kind::mean_rev, std::log(*f.mean_rev_per_s), std::max(sigma, scatter.mean_rev)});
  }
  return readings;
}

double rev_per_s_at(const std::vector<flight::Instant>& history, double time_s) {
  const auto after = std::find_if(history.begin(), history.end(),
                                  [&](const auto& instant) { return instant.time_s >= time_s; });
  if (after == history.end()) return history.empty() ? 0 : history.back().rev_per_s;
  if (after == history.begin()) return after->rev_per_s;
  const flight::Instant& before = *(after - 1);
  const double width = after->time_s - before.time_s;
  const double share = width > 0 ? (time_s - before.time_s) / width : 1;
  return before.rev_per_s + share * (after->rev_per_s - before.rev_per_s);
}

Outcome outcome_of(const flight::Flight& flown, const Conditions& conditions) {
  Outcome outcome{};
  const auto set = [&](Kind kind, double value) {
    outcome[static_cast<std::size_t>(kind)] = value;
  };
  set(Kind::duration, std::log(std::max(flown.duration_s, 1e-3)));
  set(Kind::top_height, flown.top_height_m);
  set(Kind::turns_left, flown.turns_left);
  set(Kind::launch_torque, std::log(std::max(flown.launch_torque_Nm, 1e-9)));
  const double rev_per_s = conditions.rev_time_s
                               ? rev_per_s_at(flown.history, *conditions.rev_time_s)
                               : flown.mean_rev_per_s;
  set(Kind::mean_rev, std::log(std::max(rev_per_s, 1e-6)));
  return outcome;
}

}  // namespace propwright::learn
