/// Random numbers of a spread: keyed by seed and sample, the same on any number of threads.
#pragma once

#include <array>
#include <cstdint>

#include "propwright/brief/job.h"
#include "propwright/section/section.h"

namespace propwright::predict {

/// One sample of everything in doubt. Factors multiply, others are added.
struct Draw {
  section::Shift polar;
  double blade_turn_rad = 0;
  double airframe_drag_factor = 1;
  double trim_factor = 1;
  double rubber_energy_factor = 1;
  double rubber_turns_factor = 1;
  double temperature_K = 0;
  double circle_factor = 1;
  // Of a flexing blade.
  double stiffness_factor = 1, moment_factor = 1;
};

/// Standard normal numbers of a sample (Philox counter generator, Box-Muller).
std::array<double, 16> normals(std::uint64_t seed, std::uint64_t sample);

/// The sample's draw. Factors are log-normal, so that they stay positive.
Draw draw(const brief::Doubts& doubts, const section::Uncertainty& polar, std::uint64_t seed,
          std::uint64_t sample);

}  // namespace propwright::predict
