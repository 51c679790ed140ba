#include "draws.h"

#include <Random123/philox.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::predict {

namespace {

/// A 64-bit number as a double in (0, 1), never 0: 2^-53 steps, shifted by half a step.
double unit_interval(std::uint64_t bits) {
  return (static_cast<double>(bits >> 11) + 0.5) * 0x1.0p-53;
}

/// Log-normal factor with median 1 and relative spread `sigma`; draws beyond 3 sigma are held
/// there.
double factor(double sigma, double normal) {
  return std::exp(sigma * std::clamp(normal, -3.0, 3.0));
}

}  // namespace

std::array<double, 16> normals(std::uint64_t seed, std::uint64_t sample) {
  std::array<double, 16> result{};
  for (std::size_t block = 0; block < 4; ++block) {
    const r123::Philox4x64::ctr_type counter{{sample, block, 0, 0}};
    const r123::Philox4x64::key_type key{{seed, 0x70726f70ULL}};
    const auto bits = r123::Philox4x64()(counter, key);
    for (std::size_t pair = 0; pair < 2; ++pair) {
      const double radius = std::sqrt(-2 * std::log(unit_interval(bits[2 * pair])));
      const double angle = 2 * base::pi * unit_interval(bits[2 * pair + 1]);
      result[4 * block + 2 * pair] = radius * std::cos(angle);
      result[4 * block + 2 * pair + 1] = radius * std::sin(angle);
    }
  }
  return result;
}

Draw draw(const brief::Doubts& doubts, const section::Uncertainty& polar, std::uint64_t seed,
          std::uint64_t sample) {
  const std::array<double, 16> z = normals(seed, sample);
  Draw d;
  const double scale = doubts.polar_scale;
  d.polar.lift_slope = factor(scale * polar.lift_slope, z[0]) - 1;
  d.polar.zero_lift_rad = scale * polar.zero_lift_rad * std::clamp(z[1], -3.0, 3.0);
  d.polar.drag = factor(scale * polar.drag, z[2]) - 1;
  d.polar.cl_max = factor(scale * polar.cl_max, z[3]) - 1;
  d.blade_turn_rad = doubts.blade_angle_rad * std::clamp(z[4], -3.0, 3.0);
  d.airframe_drag_factor = factor(doubts.airframe_drag, z[5]);
  d.trim_factor = factor(doubts.trim_lift, z[6]);
  d.rubber_energy_factor = factor(doubts.rubber_energy, z[7]);
  d.rubber_turns_factor = factor(doubts.rubber_turns, z[8]);
  d.temperature_K = doubts.temperature_K * std::clamp(z[9], -3.0, 3.0);
  d.circle_factor = factor(doubts.circle_radius, z[10]);
  d.stiffness_factor = factor(doubts.blade_stiffness, z[11]);
  d.moment_factor = factor(doubts.blade_moment, z[12]);
  return d;
}

}  // namespace propwright::predict
