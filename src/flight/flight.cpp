#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "equilibrium.h"
#include "integrate.h"
#include "launch.h"
#include "propwright/base/constants.h"

namespace propwright::flight {

using base::gravity_m_s2;
using base::pi;

namespace {

base::Problems check(const Setup& setup) {
  base::Problems problems;
  const auto require = [&](bool good, const char* field, double value, const char* allowed,
                           const char* remedy) {
    if (!good) {
      problems.push_back({.field = field,
                          .value = fmt::format("{:g}", value),
                          .allowed = allowed,
                          .remedy = remedy,
                          .message = "the value is out of range"});
    }
  };
  const Airframe& a = setup.airframe;
  require(a.mass_kg > 0, "model.mass", a.mass_kg, "above 0 kg", "weigh the model");
  require(a.wing_area_m2 > 0, "model.wing_area", a.wing_area_m2, "above 0 m2", "check the wing");
  require(a.trim_cl > 0, "model.trim_lift_coefficient", a.trim_cl, "above 0", "raise it");
  require(setup.density_kg_m3 > 0, "air.density", setup.density_kg_m3, "above 0 kg/m3",
          "check the air");
  require(setup.hall.roof_m > setup.launch.height_m, "hall.roof_height", setup.hall.roof_m,
          "above the launch height", "check roof and launch height");
  require(setup.launch.height_m > 0, "launch.height", setup.launch.height_m, "above 0 m",
          "give the height of the hand at launch");
  require(setup.friction_fraction >= 0 && setup.friction_fraction < 0.5, "propeller.hub.friction",
          setup.friction_fraction, "0 to 0.5", "lower it");
  require(setup.launch.wound_turns > 0 &&
              setup.launch.wound_turns <= setup.motor.breaking_turns * (1 + 1e-9),
          "launch.wound_turns", setup.launch.wound_turns, "above 0, at most the breaking turns",
          "wind less");
  return problems;
}

Energy ledger(const Setup& setup, const Run& run, double launch_turns) {
  const double mass = all_up_mass_kg(setup);
  const rubber::Motor& motor = setup.motor;
  Energy e;
  e.at_break = rubber::energy_J(motor, motor.breaking_turns, 0);
  e.not_wound = rubber::energy_J(motor, motor.breaking_turns, setup.launch.wound_turns);
  e.backed_off = rubber::energy_J(motor, setup.launch.wound_turns, launch_turns);
  e.left_in_motor = rubber::energy_J(motor, run.turns, 0);
  e.motor_loss = run.motor_loss;
  e.shaft_friction = setup.friction_fraction * run.motor_work;
  e.profile = run.profile;
  e.airframe = run.airframe;
  e.height = mass * gravity_m_s2 * (run.height_m - setup.launch.height_m);
  e.kinetic = 0.5 * mass *
              (run.end_speed_m_s * run.end_speed_m_s - run.launch_speed_m_s * run.launch_speed_m_s);
  e.ceiling = run.ceiling;
  // Useful work of the thrust = drag of the model + energy height gained + touches; what the shaft
  // gave beyond that and the section drag went into the slipstream.
  const double thrust_work = e.airframe + e.height + e.kinetic + e.ceiling;
  e.induced = run.motor_work - e.shaft_friction - thrust_work - e.profile;
  // The motor's own curve, integrated exactly, against the sum along the flight.
  const double exact = rubber::energy_J(motor, launch_turns, run.turns);
  e.residual = exact - run.motor_loss - run.motor_work;
  return e;
}

void add_cruise(const ClimbTable& table, const Setup& setup, Flight& flight) {
  const double torque = table.level_torque_Nm();
  const ClimbTable::State level = table.at(torque);
  const double weight = all_up_mass_kg(setup) * gravity_m_s2;
  flight.cruise_torque_Nm = torque;
  flight.cruise_speed_m_s = level.speed_m_s;
  flight.cruise_rev_per_s = level.rev_per_s;
  flight.cruise_thrust_N = (level.drag_power_W + weight * level.climb_m_s) / level.speed_m_s;
}

void add_warnings(const Setup& setup, const ClimbTable& table, Flight& flight) {
  auto& warnings = flight.warnings;
  if (flight.end == End::roof) {
    warnings.push_back(fmt::format(
        "The climb reaches the roof after {:.0f} s, and touching is not allowed: the flight is "
        "counted to there. Back off more turns.",
        flight.duration_s));
  } else if (flight.touches > 0) {
    warnings.push_back(fmt::format(
        "The model touches the roof {} time{}: each touch is taken to cost {:.2f} m of height.",
        flight.touches, flight.touches == 1 ? "" : "s", setup.hall.touch_loss_m));
  }
  const ClimbTable::State launch = table.at(flight.launch_torque_Nm);
  if (launch.climb_m_s > 0.99 * std::sin(steepest_climb_rad) * launch.speed_m_s) {
    warnings.push_back(
        "At launch the thrust nears the weight: the climb is taken as 60 degrees and the rest as "
        "lost, which is a guess. Back off more turns, or use more pitch or a thinner motor.");
  }
  if (launch.climb_m_s <= 0) {
    warnings.push_back(
        "The model does not climb at launch torque: it only glides down under power. More torque, "
        "less pitch, or less weight.");
  }
  if (flight.end == End::landed && flight.turns_left <= 0.5) {
    warnings.push_back(
        "The motor runs out before landing (dead stick): a longer or thinner motor, or more "
        "pitch.");
  }
}

}  // namespace

base::Expected<Flight> fly(const Setup& setup) {
  return fly(setup, FlyOptions{});
}

base::Expected<Flight> fly(const Setup& setup, const FlyOptions& options) {
  base::Problems problems = check(setup);
  if (!problems.empty()) return base::fail(std::move(problems));
  std::optional<ClimbTable> own;
  const ClimbTable* table = options.table;
  if (table == nullptr || table->highest_torque_Nm() < greatest_torque_Nm(setup)) {
    auto made = table_for(setup);
    if (!made) return base::fail(std::move(made.error()));
    own = std::move(*made);
    table = &*own;
  }
  const auto decision = launch_turns(setup, *table);
  if (!decision) return base::fail(decision.error());
  RunOptions how;
  how.keep_history = options.keep_history;
  how.tolerance = options.tolerance;
  how.mean_touch = options.mean_touch;
  how.stop_at_top = options.to_the_top;
  const auto flown = run(setup, *table, decision->turns, how);
  if (!flown) return base::fail(flown.error());
  Flight flight;
  flight.duration_s = flown->time_s;
  flight.top_height_m = flown->top_height_m;
  flight.top_time_s = flown->top_time_s;
  flight.turns_wound = setup.launch.wound_turns;
  flight.turns_at_launch = decision->turns;
  flight.turns_left = flown->turns;
  flight.launch_torque_Nm = flown->launch_torque_Nm;
  flight.mean_rev_per_s = (decision->turns - flown->turns) / std::max(flown->time_s, 1e-9);
  flight.touches = flown->touches;
  flight.end = flown->end;
  flight.energy = ledger(setup, *flown, decision->turns);
  flight.history = flown->history;
  flight.warnings = decision->warnings;
  add_cruise(*table, setup, flight);
  add_warnings(setup, *table, flight);
  return flight;
}

}  // namespace propwright::flight
