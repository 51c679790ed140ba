// T - D = m g sin(gamma);  L cos(mu) = m g cos(gamma);  tan(mu) = V^2 cos(gamma)/(g r_c).
// The last two give V^2 = a/sqrt(1 - (a cos(gamma)/(g r_c))^2) with a = 2 m g cos(gamma)/(rho S
// CL).
#include "equilibrium.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "propwright/base/constants.h"

namespace propwright::flight {

using base::gravity_m_s2;

double all_up_mass_kg(const Setup& setup) {
  return setup.airframe.mass_kg + setup.motor.mass_kg + setup.motor.spacer_mass_kg;
}

namespace {

base::Expected<double> speed_at(const Setup& setup, double path_angle_rad) {
  const Airframe& frame = setup.airframe;
  const double cosine = std::cos(path_angle_rad);
  const double a = 2 * all_up_mass_kg(setup) * gravity_m_s2 * cosine /
                   (setup.density_kg_m3 * frame.wing_area_m2 * frame.trim_cl);
  if (frame.circle_radius_m <= 0) return std::sqrt(a);
  const double sine_bank = a * cosine / (gravity_m_s2 * frame.circle_radius_m);
  if (sine_bank >= 1) {
    return base::fail({.kind = base::Kind::no_solution,
                       .field = "model.circle_radius",
                       .value = fmt::format("{:.2f} m", frame.circle_radius_m),
                       .allowed = fmt::format("above {:.2f} m for this weight, wing and lift",
                                              a * cosine / gravity_m_s2),
                       .remedy = "fly a wider circle, or trim for more lift",
                       .message = "the model cannot hold so tight a circle"});
  }
  return std::sqrt(a / std::sqrt(1 - sine_bank * sine_bank));
}

base::Problem cannot_absorb(double torque_Nm, double speed_m_s, double rev_per_s) {
  return {.kind = base::Kind::no_solution,
          .field = "launch",
          .value = fmt::format("{:.3f} mN m at the shaft", 1000 * torque_Nm),
          .allowed = fmt::format("what this propeller takes up to {:.0f} rpm at {:.2f} m/s",
                                 60 * rev_per_s, speed_m_s),
          .remedy = "back off more turns, or use a larger propeller or a thinner motor",
          .message = "the propeller cannot absorb the motor's torque"};
}

/// Revs at which the propeller takes a shaft torque at a speed: safeguarded Newton in (0, highest].
base::Expected<double> revs_at(const rotor::Map& map, double speed_m_s, double torque_Nm,
                               double guess) {
  double low = 0;
  double high = map.highest_rev_per_s(speed_m_s);
  double n = guess > 0 && guess < high ? guess : high / 4;
  const double scale = std::max(std::abs(torque_Nm), 1e-6);
  for (int i = 0; i < 200; ++i) {
    const rotor::MapLoads at = map.at(speed_m_s, n);
    const double excess = at.loads.torque_Nm - torque_Nm;
    if (std::abs(excess) < 1e-13 * scale) return n;
    (excess < 0 ? low : high) = n;
    double next = at.torque_by_rev > 0 ? n - excess / at.torque_by_rev : -1;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (std::abs(next - n) < 1e-13 * (1 + n)) {
      n = next;
      break;
    }
    n = next;
  }
  const double reached = map.at(speed_m_s, n).loads.torque_Nm;
  if (reached < torque_Nm - 1e-6 * scale && n > 0.999 * map.highest_rev_per_s(speed_m_s)) {
    return base::fail(cannot_absorb(torque_Nm, speed_m_s, n));
  }
  return n;
}

Equilibrium state_with(const rotor::Loads& loads, const Setup& setup, double speed, double revs,
                       double path_angle, double shaft_torque) {
  const double pressure_area =
      0.5 * setup.density_kg_m3 * speed * speed * setup.airframe.wing_area_m2;
  Equilibrium e;
  e.speed_m_s = speed;
  e.rev_per_s = revs;
  e.path_angle_rad = path_angle;
  e.climb_m_s = speed * std::sin(path_angle);
  e.thrust_N = loads.thrust_N;
  e.drag_N = pressure_area * setup.airframe.drag.cd(setup.airframe.trim_cl, speed);
  e.lift_N = pressure_area * setup.airframe.trim_cl;
  e.profile_power_W = loads.profile_power_W;
  e.shaft_torque_Nm = shaft_torque;
  return e;
}

Equilibrium state_at(const Setup& setup, double speed, double revs, double path_angle,
                     double shaft_torque) {
  return state_with(setup.propeller.at(speed, revs).loads, setup, speed, revs, path_angle,
                    shaft_torque);
}

/// Steady flight at the path angle where it balances. V depends on the angle through its cosine
/// only, so a secant on the fixed point converges in a few rounds. Where thrust nears weight the
/// balance would stand the model on its propeller: it is held at `steepest_climb_rad` and what
/// thrust is left is counted as drag of the mushing airframe.
template <class Revs>
base::Expected<Equilibrium> settle(const Setup& setup, double shaft_torque, double near_angle,
                                   Revs revs_of_speed) {
  const double weight = all_up_mass_kg(setup) * gravity_m_s2;
  base::Problems problems;
  Equilibrium e;
  // The path angle that the forces at an assumed one would give.
  const auto response = [&](double angle) {
    const auto speed = speed_at(setup, angle);
    if (!speed) problems = speed.error();
    const auto revs = speed ? revs_of_speed(*speed) : base::Expected<double>(0.0);
    if (!revs) problems = revs.error();
    if (!problems.empty()) return angle;
    e = state_at(setup, *speed, *revs, angle, shaft_torque);
    return std::asin(std::clamp((e.thrust_N - e.drag_N) / weight, -0.95, 0.95));
  };
  double angle = near_angle, next = response(angle);
  for (int i = 0; i < 60 && problems.empty(); ++i) {
    if (std::abs(next - angle) < 1e-12) return e;
    const double miss = next - angle;
    const double before = angle;
    angle = std::clamp(next, -steepest_climb_rad, steepest_climb_rad);
    next = response(angle);
    if (!problems.empty()) break;
    const double slope = angle != before ? ((next - angle) - miss) / (angle - before) : -1;
    const bool held = angle == steepest_climb_rad && next >= angle;
    if (held) {
      e.drag_N = e.thrust_N - weight * std::sin(angle);
      return e;
    }
    if (slope < -0.1) {
      const double newton = angle - (next - angle) / slope;
      if (std::abs(newton) < steepest_climb_rad && std::abs(newton - angle) > 0) {
        const double at_newton = response(newton);
        angle = newton;
        next = at_newton;
      }
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return base::fail({.kind = base::Kind::no_solution,
                     .field = "launch",
                     .value = fmt::format("{:.3f} mN m at the shaft", 1000 * shaft_torque),
                     .allowed = "torques with a steady flight",
                     .remedy = "check the model's mass, wing area and trim lift",
                     .message = "no steady flight was found"});
}

/// dV/dgamma.
double speed_by_angle(const Setup& setup, double path_angle_rad, double speed) {
  const double circle = setup.airframe.circle_radius_m;
  const double tangent = std::tan(path_angle_rad);
  if (circle <= 0) return -0.5 * speed * tangent;
  const double lean = speed * speed * std::cos(path_angle_rad) / (gravity_m_s2 * circle);
  return -0.5 * speed * tangent * (1 + 2 * lean * lean);
}

/// Newton's method on forces and torque at once, from a state near the balance; nothing where that
/// does not lead to one close by. The drag's slope is taken as between those of its parts, V^1.5
/// and V^2.
std::optional<Equilibrium> balance_near(const Setup& setup, double shaft_torque,
                                        const NearState& near) {
  constexpr int most_steps = 8;
  constexpr double widest_angle = 0.1, widest_revs = 0.25;  // rad, of the revs
  const double weight = all_up_mass_kg(setup) * gravity_m_s2;
  const double scale = std::max(std::abs(shaft_torque), 1e-6);
  double angle = near.path_angle_rad, revs = near.rev_per_s;
  for (int i = 0; i < most_steps; ++i) {
    const bool close = std::abs(angle - near.path_angle_rad) < widest_angle &&
                       std::abs(revs - near.rev_per_s) < widest_revs * near.rev_per_s;
    if (!close || !(std::abs(angle) < steepest_climb_rad)) return std::nullopt;
    const auto speed = speed_at(setup, angle);
    if (!speed || revs >= setup.propeller.highest_rev_per_s(*speed)) return std::nullopt;
    const rotor::MapLoads at = setup.propeller.at(*speed, revs);
    const Equilibrium here = state_with(at.loads, setup, *speed, revs, angle, shaft_torque);
    const double spare = here.thrust_N - here.drag_N - weight * std::sin(angle);
    const double excess = at.loads.torque_Nm - shaft_torque;
    if (!(at.torque_by_rev > 0)) return std::nullopt;
    if (std::abs(spare) < 1e-12 * weight && std::abs(excess) < 1e-13 * scale) return here;
    const double by_angle = speed_by_angle(setup, angle, *speed);
    const double drag_by_speed = 1.75 * here.drag_N / *speed;
    const double spare_by_angle =
        (at.thrust_by_speed - drag_by_speed) * by_angle - weight * std::cos(angle);
    const double excess_by_angle = at.torque_by_speed * by_angle;
    const double determinant =
        spare_by_angle * at.torque_by_rev - at.thrust_by_rev * excess_by_angle;
    angle += (at.thrust_by_rev * excess - spare * at.torque_by_rev) / determinant;
    revs += (excess_by_angle * spare - spare_by_angle * excess) / determinant;
  }
  return std::nullopt;
}

}  // namespace

base::Expected<Equilibrium> equilibrium_from(const Setup& setup, double motor_torque_Nm,
                                             const NearState& near) {
  const double shaft = motor_torque_Nm * (1 - setup.friction_fraction);
  if (const auto balanced = balance_near(setup, shaft, near)) return *balanced;
  double guess = near.rev_per_s;
  return settle(setup, shaft, near.path_angle_rad, [&](double speed) {
    auto revs = revs_at(setup.propeller, speed, shaft, guess);
    if (revs) guess = *revs;
    return revs;
  });
}

base::Expected<Equilibrium> equilibrium(const Setup& setup, double motor_torque_Nm) {
  return equilibrium_from(setup, motor_torque_Nm, {});
}

base::Expected<Equilibrium> stopped_glide(const Setup& setup) {
  return settle(setup, 0, 0, [](double) { return base::Expected<double>(0.0); });
}

}  // namespace propwright::flight
