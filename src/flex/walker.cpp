// theta   blade angle as deformed        b, h  spar line behind the quarter chord and above the
// chord line; the arm from the spar line to the quarter chord is b along the chord, -h across it:
// in the disc b cos(theta) + h sin(theta), out of it b sin(theta) - h cos(theta)
#include "walker.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::flex {

namespace {

constexpr double first_order_rad = 1e-3;   // the error left is of its square
constexpr double settled_rad = 2e-9;       // of the twist, in a state solved to the last digit
constexpr double longest_step_rad = 0.15;  // beyond this the slopes mean little
constexpr int most_steps = 40;

}  // namespace

Walker::Walker(const FlexRotor& flex, const rotor::Flow& flow)
    : flex_(flex),
      fem_(flex.fem()),
      walk_(flex.rotor(), flow, section::Family::thin_arc()),
      stations_(flex.rotor().stations()),
      tangent_(fem_.unknowns()) {
  for (const rotor::Station& s : stations_) {
    spots_.push_back(fem_.spot(s.radius_m));
    const BeamRow row = fem_.row(s.radius_m);
    behind_m_.push_back(row.behind_quarter_m);
    above_m_.push_back(row.above_chord_m);
  }
  const auto n = static_cast<std::size_t>(fem_.unknowns());
  for (auto* vector : {&q_, &before_, &earlier_, &residual_}) vector->resize(n);
  reaction_.resize(node_unknowns);
  spot_loads_.resize(stations_.size());
  twist_.resize(stations_.size());
  more_.resize(stations_.size());
}

void Walker::forget() {
  std::fill(q_.begin(), q_.end(), 0.0);
  std::fill(twist_.begin(), twist_.end(), 0.0);
  known_ = 0;
  walk_.restart();
}

void Walker::set_twist(const std::vector<double>& station_twist_rad) {
  for (std::size_t node = 0; node * node_unknowns < q_.size(); ++node) {
    const double r = node < fem_.elements.size() ? fem_.elements[node].start_m : fem_.tip_m;
    std::size_t i = 0;
    while (i + 2 < stations_.size() && stations_[i + 1].radius_m < r) ++i;
    const double t =
        (r - stations_[i].radius_m) / (stations_[i + 1].radius_m - stations_[i].radius_m);
    q_[node_unknowns * node + 4] =
        station_twist_rad[i] + t * (station_twist_rad[i + 1] - station_twist_rad[i]);
  }
  if (!flex_.beam().socket.twist_Nm) q_[4] = 0;
}

void Walker::take_loads() {
  const std::vector<rotor::StationForce>& forces = walk_.forces();
  const double moments = flex_.options().moment_factor;
  for (std::size_t i = 0; i < stations_.size(); ++i) {
    const rotor::StationForce& f = forces[i];
    const double theta = stations_[i].blade_angle_rad + twist_[i];
    const double c = std::cos(theta), s = std::sin(theta);
    const double arm_v = behind_m_[i] * c + above_m_[i] * s;
    const double arm_w = behind_m_[i] * s - above_m_[i] * c;
    const double weight = stations_[i].weight_m;
    SpotLoad& load = spot_loads_[i];
    load.in_disc_N = -weight * f.drag_N_per_m;
    load.in_disc_by_twist = -weight * f.drag_by_angle;
    load.out_of_disc_N = weight * f.thrust_N_per_m;
    load.out_of_disc_by_twist = weight * f.thrust_by_angle;
    load.twist_Nm =
        weight * moments * f.moment_Nm_per_m + arm_v * load.out_of_disc_N - arm_w * load.in_disc_N;
    load.moment_by_twist = weight * moments * f.moment_by_angle +
                           arm_v * load.out_of_disc_by_twist - arm_w * load.in_disc_by_twist -
                           arm_w * load.out_of_disc_N - arm_v * load.in_disc_N;
  }
}

/// One Newton step from the present unknowns. Gives the largest change of twist at a station, or a
/// negative number where the rotor has no solution.
double Walker::step(const rotor::Condition& condition, bool afresh) {
  for (std::size_t i = 0; i < spots_.size(); ++i) twist_[i] = fem_.twist_at(spots_[i], q_.data());
  if (afresh) walk_.restart();
  if (auto solved = walk_.evaluate(condition, twist_.data()); !solved) {
    problems_ = std::move(solved.error());
    return -1;
  }
  take_loads();
  tangent_.clear();
  std::fill(residual_.begin(), residual_.end(), 0.0);
  fem_.add_beam(q_.data(), 2 * base::pi * condition.rev_per_s, tangent_, residual_.data());
  for (std::size_t i = 0; i < spots_.size(); ++i) {
    fem_.add_load(spots_[i], spot_loads_[i], tangent_, residual_.data());
  }
  std::copy_n(residual_.begin(), node_unknowns, reaction_.begin());
  fem_.add_root(q_.data(), tangent_, residual_.data());
  unstable_ = tangent_.factor() > 0;
  tangent_.solve(residual_.data());
  double largest = 0;
  for (std::size_t i = 0; i < spots_.size(); ++i) {
    more_[i] = -fem_.twist_at(spots_[i], residual_.data());
    largest = std::max(largest, std::abs(more_[i]));
  }
  if (!std::isfinite(largest)) return -1;
  // A search that goes on for long circles about the knee of a stalling polar: shorter steps.
  const double patience = iterations_ > 20 ? 0.25 : iterations_ > 10 ? 0.5 : 1;
  const double share = patience * std::min(1.0, longest_step_rad / std::max(largest, 1e-12));
  for (std::size_t k = 0; k < q_.size(); ++k) q_[k] -= share * residual_[k];
  return largest;
}

/// The next unknowns by a parabola through the last three states.
void Walker::expect() {
  for (std::size_t k = 0; k < q_.size(); ++k) {
    const double now = q_[k];
    if (known_ == 2) q_[k] = 2 * now - before_[k];
    if (known_ >= 3) q_[k] = 3 * (now - before_[k]) + earlier_[k];
    earlier_[k] = before_[k];
    before_[k] = now;
  }
}

Walker::Outcome Walker::approach(const rotor::Condition& condition) {
  for (iterations_ = 1; iterations_ <= most_steps; ++iterations_) {
    const double change = step(condition, false);
    if (change < 0) return problems_.empty() ? Outcome::unsettled : Outcome::unsolved;
    // Untwisted the sections are attached or stalled as the blade angles say: a blade that does not
    // hold against their slopes there has diverged, wherever stall may catch it.
    if (unstable_ && known_ == 0 && iterations_ == 1) return Outcome::diverged;
    if (change > first_order_rad) continue;
    if (unstable_) return Outcome::diverged;
    loads_ = walk_.loads_with(more_.data());
    walk_.accept();
    known_ = std::min(known_ + 1, 3);
    return Outcome::settled;
  }
  return Outcome::unsettled;
}

Walker::Outcome Walker::go(const rotor::Condition& condition) {
  problems_.clear();
  expect();
  Outcome outcome = approach(condition);
  if (outcome == Outcome::settled) return outcome;
  // Once more from the last state itself; and back to it if that fails too.
  q_ = before_;
  if (known_ > 1) {
    walk_.restart();
    outcome = approach(condition);
    if (outcome == Outcome::settled) return outcome;
    q_ = before_;
  }
  walk_.restart();
  known_ = std::min(known_, 1);
  return outcome;
}

Walker::Outcome Walker::settle(const rotor::Condition& condition) {
  const bool untwisted = std::all_of(q_.begin(), q_.end(), [](double x) { return x == 0; });
  for (iterations_ = 1; iterations_ <= most_steps; ++iterations_) {
    const double change = step(condition, true);
    if (change < 0) return problems_.empty() ? Outcome::unsettled : Outcome::unsolved;
    if (unstable_ && untwisted && iterations_ == 1) return Outcome::diverged;
    if (change > settled_rad) continue;
    for (std::size_t i = 0; i < spots_.size(); ++i) twist_[i] += more_[i];
    return unstable_ ? Outcome::diverged : Outcome::settled;
  }
  return Outcome::unsettled;
}

bool Walker::evaluate_afresh(const rotor::Condition& condition) {
  walk_.restart();
  if (!walk_.evaluate(condition, twist_.data())) return false;
  loads_ = walk_.loads();
  take_loads();
  return true;
}

std::optional<double> Walker::divergence(double omega) {
  tangent_.clear();
  fem_.add_beam(q_.data(), omega, tangent_, residual_.data());
  fem_.add_root(q_.data(), tangent_, residual_.data());
  tangent_.factor();
  std::vector<TwistLoad> loads;
  for (std::size_t i = 0; i < stations_.size(); ++i) {
    loads.push_back({stations_[i].radius_m, spot_loads_[i].in_disc_by_twist,
                     spot_loads_[i].out_of_disc_by_twist, spot_loads_[i].moment_by_twist});
  }
  return divergence_factor(fem_, tangent_, loads);
}

base::Problems not_held(const FlexRotor& flex, const rotor::Condition& condition,
                        const rotor::Flow& flow, Walker::Outcome outcome,
                        const base::Problems& problems) {
  if (outcome == Walker::Outcome::unsolved) return problems;
  base::Problem problem{
      .kind = base::Kind::no_solution,
      .field = "blade",
      .value = fmt::format("{:.3f} m/s, {:.3f} rev/s", condition.speed_m_s, condition.rev_per_s),
      .allowed = "states in which the blade's stiffness holds it against its own air loads",
      .remedy =
          "move the spar forward towards the quarter chord, or make the blade stiffer in "
          "torsion",
      .message = "the flexing blade finds no steady shape"};
  Walker walker(flex, flow);
  if (!walker.evaluate_afresh(condition)) return {problem};
  const auto factor = walker.divergence(2 * base::pi * condition.rev_per_s);
  if (!factor) return {problem};
  const double torque = *factor * walker.loads().torque_Nm, ratio = std::sqrt(*factor);
  problem.remedy =
      "move the spar forward towards the quarter chord, or make the blade stiffer in torsion";
  problem.message = fmt::format(
      "the blade diverges: at a torque of about {:.2f} mN m ({:.2f} rev/s at {:.2f} m/s) twist "
      "makes more load than its stiffness takes back",
      1000 * torque, ratio * condition.rev_per_s, ratio * condition.speed_m_s);
  return {problem};
}

}  // namespace propwright::flex
