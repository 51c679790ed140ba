#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <optional>

#include "propwright/flight/flight.h"

namespace propwright::flight {

base::Expected<MotorMatch> match_motor(const Setup& setup, double rubber_mass_kg,
                                       double wound_fraction) {
  const double mass = rubber_mass_kg > 0 ? rubber_mass_kg : setup.motor.mass_kg;
  // A motor's weight in knots and lubricant goes with it: keep the ratio of weighed to worked mass.
  const double bare =
      setup.motor.batch.density_kg_m3 * setup.motor.section_m2 * setup.motor.length_m;
  const double worked_mass = mass * bare / setup.motor.mass_kg;
  std::optional<MotorMatch> best;
  base::Problems problems;
  const auto try_section = [&](double ln_ratio) {
    const double section = setup.motor.section_m2 * std::exp(ln_ratio);
    const double length = rubber::loop_length_m(setup.motor.batch, worked_mass, section);
    auto motor = rubber::make_motor(setup.motor.batch, section, length, mass,
                                    setup.motor.spacer_mass_kg, setup.motor.temperature_K);
    if (!motor) {
      problems = motor.error();
      return 0.0;
    }
    Setup trial = setup;
    trial.motor = std::move(*motor);
    trial.launch.wound_turns = wound_fraction * trial.motor.breaking_turns;
    trial.launch.turns.reset();
    trial.launch.torque_Nm.reset();
    if (!trial.launch.margin_m) trial.launch.margin_m = 0.5;
    auto flight = fly(trial);
    if (!flight) {
      problems = flight.error();
      return 0.0;
    }
    const double duration = flight->duration_s;
    if (!best || duration > best->flight.duration_s) {
      best = MotorMatch{section, length, std::move(*flight), false};
    }
    return -duration;
  };
  const double low = std::log(0.4);
  const double high = std::log(2.5);
  // Coarse scan first: a flight that cannot be made (too thick, too thin) must not mislead Brent.
  constexpr int steps = 14;
  double best_place = low;
  double best_value = 1;
  for (int i = 0; i <= steps; ++i) {
    const double place = low + (high - low) * i / steps;
    const double value = try_section(place);
    if (value < best_value) {
      best_value = value;
      best_place = place;
    }
  }
  if (!best) return base::fail(std::move(problems));
  const double width = (high - low) / steps;
  boost::math::tools::brent_find_minima(try_section, std::max(best_place - width, low),
                                        std::min(best_place + width, high), 14);
  const double ln_ratio = std::log(best->section_m2 / setup.motor.section_m2);
  best->at_limit = ln_ratio < low + 0.01 || ln_ratio > high - 0.01;
  return std::move(*best);
}

}  // namespace propwright::flight
