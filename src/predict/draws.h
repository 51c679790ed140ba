/// Random numbers of a spread: keyed by seed and sample, the same on any number of threads.
#pragma once

#include <array>
#include <cstdint>

#include "propwright/predict/variation.h"

namespace propwright::predict {

/// Standard normal numbers of a sample (Philox counter generator, Box-Muller).
std::array<double, 16> normals(std::uint64_t seed, std::uint64_t sample);

/// The sample's draw. Factors are log-normal, so that they stay positive.
Draw draw(const brief::Doubts& doubts, const section::Uncertainty& polar, std::uint64_t seed,
          std::uint64_t sample);

}  // namespace propwright::predict
