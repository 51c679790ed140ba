// The turns N are the independent variable: dt/dN = -1/n. Everything else is summed on the way. The
// height is the energy height H less the speed's share, h = H - (V^2 - V_launch^2)/2g, so that the
// (small) changes of speed are paid for. Shaft inertia is left out: the propeller's kinetic energy,
// J Omega^2/2 of about 1e-6 kg m2 x (9 rad/s)^2/2 = 4e-5 J, is 4e-6 of the motor's 10 J.
#include "integrate.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <boost/numeric/odeint.hpp>
#include <cmath>

#include "equilibrium.h"
#include "propwright/base/constants.h"

namespace propwright::flight {

using base::gravity_m_s2;
using base::pi;

namespace {

// time, energy height, then work: of the motor, lost by relaxation, airframe drag, section drag
using Sums = std::array<double, 6>;
enum Index : std::size_t { time_of, height_of, motor_of, loss_of, airframe_of, profile_of };

using Stepper = boost::numeric::odeint::result_of::make_dense_output<
    boost::numeric::odeint::runge_kutta_dopri5<Sums>>::type;

class Integration {
 public:
  Integration(const Setup& setup, const ClimbTable& table, const RunOptions& options)
      : setup_(setup), table_(table), options_(options) {}

  base::Expected<Run> fly(double turns);

 private:
  double relaxed(double torque_Nm, double time) const {
    const double waited = setup_.launch.wait_s + time;
    return torque_Nm * std::exp(-setup_.launch.relaxation_per_s * waited);
  }
  double motor_torque(double turns, double time) const {
    return relaxed(rubber::torque_Nm(setup_.motor, turns), time);
  }
  void derivatives(const Sums& y, Sums& dy, double progress) const;
  ClimbTable::State state(const Sums& y, double turns) const {
    return table_.at(motor_torque(turns, y[time_of]));
  }
  double height_with(const Sums& y, const ClimbTable::State& s) const {
    const double v = s.speed_m_s;
    return y[height_of] - (v * v - launch_speed_ * launch_speed_) / (2 * gravity_m_s2);
  }
  double height(const Sums& y, double turns) const { return height_with(y, state(y, turns)); }
  double climb(const Sums& y, double turns) const { return state(y, turns).climb_m_s; }
  Instant instant(const Sums& y, double turns) const;
  void note(const Sums& y, double turns) { note(y, turns, height(y, turns)); }
  void note(const Sums& y, double turns, double height_m);
  void fly_piece(double to_turns);
  bool handle_step(Stepper& stepper);
  template <class Condition>
  void stop_where(Stepper& stepper, double to, Condition condition);
  void touch();
  double touch_loss() const { return std::min(setup_.hall.touch_loss_m, 0.9 * setup_.hall.roof_m); }
  double ground() const;
  base::Expected<Run> glide_down();
  Run finish(double end_speed);

  const Setup& setup_;
  const ClimbTable& table_;
  const RunOptions& options_;
  double launch_turns_ = 0, launch_speed_ = 0;
  Sums y_{};
  double progress_ = 0;  // turns used, the independent variable
  double crest_ = 0;     // greatest height since the last touch
  bool done_ = false;
  Run run_;
};

void Integration::derivatives(const Sums& y, Sums& dy, double progress) const {
  const double turns = launch_turns_ - progress;
  const double full = rubber::torque_Nm(setup_.motor, turns);
  const double left = relaxed(full, y[time_of]);
  const ClimbTable::State s = table_.at(left);
  const double dt = 1 / s.rev_per_s;
  dy[time_of] = dt;
  dy[height_of] = s.climb_m_s * dt;
  dy[motor_of] = 2 * pi * left;
  dy[loss_of] = 2 * pi * (full - left);
  dy[airframe_of] = s.drag_power_W * dt;
  dy[profile_of] = s.profile_power_W * dt;
}

Instant Integration::instant(const Sums& y, double turns) const {
  const double torque = motor_torque(turns, y[time_of]);
  const ClimbTable::State s = table_.at(torque);
  const double weight = all_up_mass_kg(setup_) * gravity_m_s2;
  Instant i;
  i.time_s = y[time_of];
  i.height_m = height_with(y, s);
  i.rev_per_s = s.rev_per_s;
  i.torque_Nm = torque;
  i.speed_m_s = s.speed_m_s;
  i.climb_m_s = s.climb_m_s;
  i.turns = turns;
  i.thrust_N = (s.drag_power_W + weight * s.climb_m_s) / s.speed_m_s;
  return i;
}

void Integration::note(const Sums& y, double turns, double height_m) {
  crest_ = std::max(crest_, height_m);
  if (height_m > run_.top_height_m) {
    run_.top_height_m = height_m;
    run_.top_time_s = y[time_of];
  }
  if (options_.keep_history) run_.history.push_back(instant(y, turns));
}

/// Moves the flight to the place in the step just made where `condition` falls through zero.
template <class Condition>
void Integration::stop_where(Stepper& stepper, double to, Condition condition) {
  const auto at = [&](double progress) {
    Sums y;
    stepper.calc_state(progress, y);
    return condition(y, launch_turns_ - progress);
  };
  const double from_value = at(progress_);
  const double to_value = at(to);
  double place = from_value <= 0 ? progress_ : to;
  if (from_value > 0 && to_value < 0) {
    std::uintmax_t iterations = 60;
    const auto bracket = boost::math::tools::toms748_solve(
        at, progress_, to, from_value, to_value, boost::math::tools::eps_tolerance<double>(48),
        iterations);
    place = bracket.second;
  }
  stepper.calc_state(place, y_);
  progress_ = place;
  note(y_, launch_turns_ - progress_);
}

/// Walks through the step just made in parts, looking for events. False when the flight is over or
/// must go on from a new state.
bool Integration::handle_step(Stepper& stepper) {
  const double from = stepper.previous_time();
  const double to = stepper.current_time();
  constexpr int parts = 4;
  double climb_before = climb(y_, launch_turns_ - progress_);
  for (int i = 1; i <= parts; ++i) {
    const double p = i == parts ? to : from + (to - from) * i / parts;
    Sums y;
    stepper.calc_state(p, y);
    const double turns = launch_turns_ - p;
    const ClimbTable::State here = state(y, turns);
    const double h = height_with(y, here);
    const auto climbing = [&](const Sums& s, double n) { return climb(s, n); };
    const bool passes_top = climb_before > 0 && here.climb_m_s < 0;
    if (options_.heed_roof && h > setup_.hall.roof_m) {
      stop_where(stepper, p,
                 [&](const Sums& s, double n) { return setup_.hall.roof_m - height(s, n); });
      touch();
      return false;
    }
    if (passes_top) {
      stop_where(stepper, p, climbing);
      done_ = options_.stop_at_top;
      if (done_) return false;
    }
    if (h <= ground()) {
      stop_where(stepper, p, [&](const Sums& s, double n) { return height(s, n) - ground(); });
      done_ = true;
      return false;
    }
    progress_ = p;
    y_ = y;
    climb_before = here.climb_m_s;
    note(y, turns, h);
  }
  return true;
}

void Integration::touch() {
  ++run_.touches;
  if (setup_.hall.contact == Contact::none) {
    run_.end = End::roof;
    done_ = true;
    return;
  }
  const double lost = touch_loss();
  y_[height_of] -= lost;
  crest_ = setup_.hall.roof_m - lost;
  run_.ceiling += all_up_mass_kg(setup_) * gravity_m_s2 * lost;
  note(y_, launch_turns_ - progress_);
}

/// Height at which the flight ends. Touches cost n L where a climb would pass the roof by X, and
/// leave the crest u = n L - X below it. The mean of n L over X within L/2 either way is X + L/2,
/// not below nought: what the flight lost beyond that, u - L/2, it is given back at the end.
double Integration::ground() const {
  if (!options_.mean_touch || !options_.heed_roof) return 0;
  if (setup_.hall.contact == Contact::none) return 0;
  const double half = 0.5 * touch_loss(), below = setup_.hall.roof_m - crest_;
  return run_.touches > 0 || below < half ? half - below : 0;
}

/// Integrates until `to_turns` are left or the flight is over. No step reaches past that knot.
void Integration::fly_piece(double to_turns) {
  const double end = launch_turns_ - to_turns;
  const auto system = [this](const Sums& y, Sums& dy, double progress) {
    derivatives(y, dy, progress);
  };
  Stepper stepper =
      boost::numeric::odeint::make_dense_output(0.1 * options_.tolerance, options_.tolerance,
                                                boost::numeric::odeint::runge_kutta_dopri5<Sums>());
  double step = (end - progress_) / 2;
  while (!done_ && end - progress_ > 1e-9) {
    stepper.initialize(y_, progress_, std::min(step, end - progress_));
    stepper.do_step(system);
    step = stepper.current_time_step();
    handle_step(stepper);
  }
}

base::Expected<Run> Integration::glide_down() {
  const auto glide = setup_.freewheels ? equilibrium(setup_, 0) : stopped_glide(setup_);
  if (!glide) return base::fail(glide.error());
  const double h =
      y_[height_of] -
      (glide->speed_m_s * glide->speed_m_s - launch_speed_ * launch_speed_) / (2 * gravity_m_s2);
  const double sink = -glide->climb_m_s;
  const double above = std::max(h - ground(), 0.0);
  const double duration = above / sink;
  run_.airframe += glide->drag_N * glide->speed_m_s * duration;
  run_.profile += glide->profile_power_W * duration;
  // Steady descent on constant terms: two instants draw it.
  for (const double part : {0.0, 1.0}) {
    if (!options_.keep_history) break;
    Instant i;
    i.time_s = y_[time_of] + part * duration;
    i.height_m = ground() + (1 - part) * above;
    i.rev_per_s = glide->rev_per_s;
    i.speed_m_s = glide->speed_m_s;
    i.climb_m_s = glide->climb_m_s;
    i.thrust_N = glide->thrust_N;
    run_.history.push_back(i);
  }
  run_.glide_thrust_work += glide->thrust_N * glide->speed_m_s * duration;
  y_[time_of] += duration;
  Run result = finish(glide->speed_m_s);
  result.height_m = h - sink * duration;
  return result;
}

Run Integration::finish(double end_speed) {
  run_.time_s = y_[time_of];
  run_.turns = launch_turns_ - progress_;
  run_.motor_loss += y_[loss_of];
  run_.motor_work += y_[motor_of];
  run_.airframe += y_[airframe_of];
  run_.profile += y_[profile_of];
  run_.launch_speed_m_s = launch_speed_;
  run_.end_speed_m_s = end_speed;
  return std::move(run_);
}

base::Expected<Run> Integration::fly(double turns) {
  launch_turns_ = turns;
  run_.launch_torque_Nm = motor_torque(turns, 0);
  launch_speed_ = table_.at(run_.launch_torque_Nm).speed_m_s;
  y_ = {};
  y_[height_of] = setup_.launch.height_m;
  note(y_, turns);
  if (options_.stop_at_top && climb(y_, turns) <= 0) return finish(launch_speed_);
  // Piece by piece between the knots of the motor's curve, where its second derivative jumps.
  std::vector<double> knots;
  for (const double x : setup_.motor.batch.unwinding.x()) {
    const double knot = x * setup_.motor.breaking_turns;
    if (knot < turns - 1e-6) knots.push_back(knot);
  }
  if (knots.empty() || knots.front() > 0) knots.insert(knots.begin(), 0.0);
  for (auto knot = knots.rbegin(); knot != knots.rend(); ++knot) {
    fly_piece(*knot);
    if (done_) break;
  }
  if (done_ || options_.stop_at_top) {
    const double left = launch_turns_ - progress_;
    const double h = height(y_, left);
    Run result = finish(table_.at(motor_torque(left, y_[time_of])).speed_m_s);
    result.height_m = h;
    return result;
  }
  return glide_down();
}

}  // namespace

base::Expected<Run> run(const Setup& setup, const ClimbTable& table, double turns,
                        const RunOptions& options) {
  return Integration(setup, table, options).fly(turns);
}

}  // namespace propwright::flight
