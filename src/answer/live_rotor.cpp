// The propeller over revs at the speed of level flight, and the motor over its turns. The curves
// are read from the map that the flight was flown on.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "instants.h"
#include "live_parts.h"

namespace propwright::answer {
namespace {

constexpr int curve_points = 60;

struct RevRange {
  double low = 0, high = 0;
};

RevRange flown_revs(const flight::Flight& flight) {
  RevRange range;
  for (const flight::Instant& at : flight.history) {
    if (!driven(at)) continue;
    range.low = range.low > 0 ? std::min(range.low, at.rev_per_s) : at.rev_per_s;
    range.high = std::max(range.high, at.rev_per_s);
  }
  return range;
}

struct Curves {
  std::vector<double> rev_per_s, torque_Nm, thrust_N;
  Json efficiency = Json::array();
  Json best = nullptr;
};

Curves curves_between(const predict::Nominal& nominal, double speed_m_s, RevRange range) {
  Curves curves;
  double best = 0;
  for (int i = 0; i <= curve_points; ++i) {
    const double rev_per_s = range.low + (range.high - range.low) * i / curve_points;
    const rotor::Loads loads = nominal.map.at(speed_m_s, rev_per_s).loads;
    const auto c = rotor::coefficients(loads, {speed_m_s, rev_per_s}, nominal.rotor.diameter_m(),
                                       nominal.assembly.air.density_kg_m3);
    curves.rev_per_s.push_back(rev_per_s);
    curves.torque_Nm.push_back(loads.torque_Nm);
    curves.thrust_N.push_back(loads.thrust_N);
    curves.efficiency.push_back(c.efficiency_defined ? Json(six_digits(c.efficiency))
                                                     : Json(nullptr));
    if (c.efficiency_defined && c.efficiency > best) {
      best = c.efficiency;
      curves.best = {{"rev_per_s", six_digits(rev_per_s)}, {"efficiency", six_digits(best)}};
    }
  }
  return curves;
}

}  // namespace

Json rotor_part(const predict::Nominal& nominal) {
  const flight::Flight& flight = nominal.flight;
  const RevRange flown = flown_revs(flight);
  const double speed_m_s = flight.cruise_speed_m_s;
  const bool turns = flown.high > 0 && speed_m_s > 0;
  const RevRange shown{0.6 * flown.low, std::max(1.15 * flown.high, 0.9 * flown.low)};
  const Curves curves = turns ? curves_between(nominal, speed_m_s, shown) : Curves();
  Json level = nullptr;
  if (flight.cruise_rev_per_s > 0) {
    level = {{"rev_per_s", six_digits(flight.cruise_rev_per_s)},
             {"thrust_N", six_digits(flight.cruise_thrust_N)}};
  }
  return {{"speed_m_s", six_digits(speed_m_s)},
          {"rev_per_s", column(curves.rev_per_s)},
          {"efficiency", curves.efficiency},
          {"torque_Nm", column(curves.torque_Nm)},
          {"thrust_N", column(curves.thrust_N)},
          {"best", curves.best},
          {"flown",
           {{"low_rev_per_s", six_digits(flown.low)}, {"high_rev_per_s", six_digits(flown.high)}}},
          {"level", level}};
}

Json motor_part(const predict::Nominal& nominal) {
  const rubber::Motor& motor = nominal.setup.motor;
  const flight::Flight& flight = nominal.flight;
  std::vector<double> turns, torque;
  for (int i = 0; i <= curve_points; ++i) {
    turns.push_back(motor.breaking_turns * i / curve_points);
    torque.push_back(rubber::torque_Nm(motor, turns.back()));
  }
  return {{"turns", column(turns)},
          {"torque_Nm", column(torque)},
          {"wound", six_digits(flight.turns_wound)},
          {"launch", six_digits(flight.turns_at_launch)},
          {"left", six_digits(flight.turns_left)},
          {"breaking", six_digits(motor.breaking_turns)},
          {"mass_kg", six_digits(motor.mass_kg)},
          {"energy_J", six_digits(flight.energy.at_break)},
          {"launch_torque_Nm", six_digits(flight.launch_torque_Nm)},
          {"section_m2", six_digits(motor.section_m2)},
          {"length_m", six_digits(motor.length_m)}};
}

}  // namespace propwright::answer
