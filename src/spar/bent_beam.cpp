#include "bent_beam.h"

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

namespace propwright::spar {
namespace {

/// Coefficients 1, 1/3!, 1/5! ... (odd) or 1, 1/2!, 1/4! ... with their signs.
constexpr std::array<double, 10> taylor(bool odd) {
  std::array<double, 10> c{1};
  for (int k = 1; k < 10; ++k) c[k] = -c[k - 1] / (odd ? 2 * k * (2 * k + 1) : 2 * k * (2 * k - 1));
  return c;
}

/// Sine and cosine of many angles between -pi/2 and pi/2 at once, by Taylor series (remainder below
/// 1e-14). The library's functions would take most of the time of a reduction; this is vectorised.
void sines(const std::vector<double>& turning, double compliance, BeamState& state) {
  static constexpr auto odd = taylor(true), even = taylor(false);
  const std::size_t n = turning.size();
  const double* g = turning.data();
  double *sine = state.sine.data(), *cosine = state.cosine.data();
  for (std::size_t i = 0; i < n; ++i) {
    const double a = compliance * g[i], q = a * a;
    double s = odd[9], c = even[9];
    for (int k = 8; k >= 0; --k) s = s * q + odd[k], c = c * q + even[k];
    sine[i] = a * s, cosine[i] = c;
  }
}

/// From the cosines the moment, from the moment the turning.
void turn(const BeamGrid& grid, const std::vector<double>& shear_N, BeamState& state) {
  const std::size_t n = shear_N.size();
  std::vector<double>& work = state.work;
  for (std::size_t i = 0; i < n; ++i) work[i] = shear_N[i] * state.cosine[i];
  const double root_moment = integral_upto(grid, work.data(), state.turning.data());
  for (std::size_t i = 0; i < n; ++i) {
    work[i] = (root_moment - state.turning[i]) * grid.softness[i];
  }
  state.tip_turning = integral_upto(grid, work.data(), state.turning.data());
}

void start_straight(const BeamGrid& grid, const std::vector<double>& shear_N, BeamState& state) {
  state.cosine.assign(shear_N.size(), 1);
  state.sine.assign(shear_N.size(), 0);
  state.turning.assign(shear_N.size(), 0);
  state.work.assign(shear_N.size(), 0);
  turn(grid, shear_N, state);
}

/// The droop at the place of reading and its change with the compliance, the shape held.
struct Droop {
  double y_m = 0, change = 0;
  bool reached = true;
};

Droop droop_at_fixed_distance(const BeamGrid& grid, BeamState& state) {
  const std::size_t n = state.turning.size();
  std::vector<double> upto(n);
  const double reach = integral_upto(grid, state.cosine.data(), upto.data());
  if (!(reach > grid.read_at_m)) return {0, 0, false};
  double s = std::min(grid.read_at_m, grid.length_m);  // of the wood that hangs at that distance
  for (int k = 0; k < 30; ++k) {
    const double step =
        (grid.read_at_m - value_at(grid, upto, s)) / value_at(grid, state.cosine, s);
    s = std::min(s + step, grid.length_m);
    if (std::abs(step) < 1e-11 * grid.length_m) break;
  }
  integral_upto(grid, state.sine.data(), upto.data());
  const double y = value_at(grid, upto, s);
  // More compliance lowers this piece of wood and draws it inwards, so that wood further out comes
  // to hang here, lower by the slope.
  const double slope = value_at(grid, state.sine, s) / value_at(grid, state.cosine, s);
  for (std::size_t i = 0; i < n; ++i) {
    state.work[i] = state.turning[i] * (state.cosine[i] + slope * state.sine[i]);
  }
  integral_upto(grid, state.work.data(), upto.data());
  return {y, value_at(grid, upto, s), true};
}

Droop droop(const BeamGrid& grid, BeamState& state) {
  if (grid.fixed_distance) return droop_at_fixed_distance(grid, state);
  const std::size_t n = grid.read_points;
  for (std::size_t i = 0; i < n; ++i) state.work[i] = state.turning[i] * state.cosine[i];
  return {integral(grid, state.sine, n), integral(grid, state.work, n), true};
}

constexpr double steepest_rad = 1.5607;  // the shape is not let past a hundredth of vertical

double largest_compliance(const BeamState& state) {
  return steepest_rad / state.turning.back();
}

}  // namespace

namespace {

/// The shape that belongs to the new size: its cosines follow from the old ones to first order.
void reshape(const BeamGrid& grid, const std::vector<double>& shear_N, double step,
             BeamState& state) {
  for (std::size_t i = 0; i < shear_N.size(); ++i) {
    state.cosine[i] = std::max(0.0, state.cosine[i] - step * state.turning[i] * state.sine[i]);
  }
  turn(grid, shear_N, state);
}

}  // namespace

bool settle(const BeamGrid& grid, const std::vector<double>& shear_N, double compliance,
            BeamState& state) {
  start_straight(grid, shear_N, state);
  BeamState trial = state;
  for (int k = 0; k < 100; ++k) {
    // With the shape held, the size that agrees with its own moments: more bend, less lever arm,
    // so the two sides cross once.
    const double end = state.turning.back();
    const auto excess = [&](double size) {
      sines(state.turning, size, trial);
      turn(grid, shear_N, trial);
      return size * end - compliance * trial.turning.back();
    };
    const double most = steepest_rad / end;
    double size = most;
    if (excess(most) > 0) {
      std::uintmax_t tries = 60;
      const auto bracket = boost::math::tools::toms748_solve(
          excess, 0.0, most, boost::math::tools::eps_tolerance<double>(40), tries);
      size = (bracket.first + bracket.second) / 2;
      excess(size);
    }
    std::swap(state, trial);
    if (std::abs(size - compliance) < 1e-11 * compliance) {
      sines(state.turning, compliance, state);
      return true;
    }
  }
  return false;
}

std::optional<double> deflection_at(const BeamGrid& grid, double compliance) {
  BeamState state;
  if (!settle(grid, grid.loaded_N, compliance, state)) return {};
  const Droop loaded = droop(grid, state);
  if (!loaded.reached) return {};
  if (!grid.zero_droops) return loaded.y_m;
  if (!settle(grid, grid.weight_N, compliance, state)) return {};
  return loaded.y_m - droop(grid, state).y_m;
}

namespace {

bool fast_bend_to(const BeamGrid& grid, double deflection_m, BentBeam& beam) {
  double last_step = 0, step_before = 0;
  for (int k = 0; k < 30; ++k) {
    // One step of size with the shape held, then the shape that belongs to the last size. The
    // reading fixes the size, so the shape hardly changes and the turns converge fast.
    sines(beam.loaded.turning, beam.compliance, beam.loaded);
    Droop shown = droop(grid, beam.loaded);
    if (grid.zero_droops) {
      sines(beam.unloaded.turning, beam.compliance, beam.unloaded);
      const Droop zero = droop(grid, beam.unloaded);
      shown.y_m -= zero.y_m, shown.change -= zero.change;
    }
    if (!shown.reached) return false;
    double next = beam.compliance + (deflection_m - shown.y_m) / shown.change;
    next = std::min(next, largest_compliance(beam.loaded));
    if (!(next > 0)) return false;
    reshape(grid, grid.loaded_N, next - beam.compliance, beam.loaded);
    if (grid.zero_droops) reshape(grid, grid.weight_N, next - beam.compliance, beam.unloaded);
    const double step = std::abs(next - beam.compliance) / next;
    beam.compliance = next;
    // What is still to come is a geometric series over every second step, since size and shape
    // take turns.
    const double ratio = k >= 4 && step < step_before ? step / step_before : 1;
    const double largest = std::max(step, last_step);
    if (largest < 1e-13 || largest * ratio < 1e-9 * (1 - ratio)) return true;
    step_before = last_step, last_step = step;
  }
  return false;
}

/// For spars that hang nearly straight down the turns of fast_bend_to do not settle: search the
/// compliance that shows this deflection instead.
std::optional<BentBeam> slow_bend_to(const BeamGrid& grid, double deflection_m, BentBeam beam) {
  start_straight(grid, grid.loaded_N, beam.loaded);
  sines(beam.loaded.turning, 0, beam.loaded);
  const auto excess = [&](double log_compliance) {
    return deflection_at(grid, std::exp(log_compliance)).value_or(grid.length_m) - deflection_m;
  };
  double low = std::log(deflection_m / droop(grid, beam.loaded).change), high = low;
  for (int k = 0; excess(low) > 0; ++k, low -= 1) {
    if (k > 5) return {};
  }
  for (int k = 0; excess(high) < 0; ++k, high += 0.5) {
    if (k > 12) return {};
  }
  std::uintmax_t tries = 100;
  const auto bracket = boost::math::tools::toms748_solve(
      excess, low, high, boost::math::tools::eps_tolerance<double>(44), tries);
  beam.compliance = std::exp((bracket.first + bracket.second) / 2);
  const auto shown = deflection_at(grid, beam.compliance);
  if (!shown || std::abs(*shown - deflection_m) > 1e-7 * grid.length_m) return {};
  settle(grid, grid.loaded_N, beam.compliance, beam.loaded);
  if (grid.zero_droops) settle(grid, grid.weight_N, beam.compliance, beam.unloaded);
  return beam;
}

}  // namespace

std::optional<BentBeam> bend_to(const BeamGrid& grid, double deflection_m, const BentBeam* start) {
  BentBeam beam;
  if (start) {
    beam = *start;
  } else {
    start_straight(grid, grid.loaded_N, beam.loaded);
    if (grid.zero_droops) start_straight(grid, grid.weight_N, beam.unloaded);
  }
  if (fast_bend_to(grid, deflection_m, beam)) return beam;
  return slow_bend_to(grid, deflection_m, std::move(beam));
}

std::vector<BentPoint> points_of(const BeamGrid& grid, const BeamState& state, double compliance) {
  const std::size_t n = grid.s_m.size();
  std::vector<double> x(n), y(n);
  const double x_end = integral_upto(grid, state.cosine.data(), x.data());
  const double y_end = integral_upto(grid, state.sine.data(), y.data());
  std::vector<BentPoint> result{{0, 0, 0, 0}};
  for (std::size_t i = 0; i < n; ++i) {
    result.push_back({grid.s_m[i], x[i], y[i], compliance * state.turning[i]});
  }
  result.push_back({grid.length_m, x_end, y_end, compliance * state.tip_turning});
  return result;
}

}  // namespace propwright::spar
