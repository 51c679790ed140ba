/// Random numbers of a spread: keyed by seed and sample, the same on any number of threads.
#pragma once

#include <array>
#include <cstdint>

#include "propwright/predict/variation.h"

namespace propwright::predict {

/// Standard normal numbers of a sample (Philox counter generator, Box-Muller).
std::array<double, 16> normals(std::uint64_t seed, std::uint64_t sample);

/// The sample's draw: each doubt moved by its number, held within three deviations.
Draw draw(const std::vector<Doubt>& doubts, std::uint64_t seed, std::uint64_t sample);

}  // namespace propwright::predict
