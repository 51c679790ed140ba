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

Draw draw(const std::vector<Doubt>& doubts, std::uint64_t seed, std::uint64_t sample) {
  const std::array<double, 16> z = normals(seed, sample);
  Draw d;
  for (std::size_t i = 0; i < doubts.size(); ++i) doubts[i].set(d, std::clamp(z[i], -3.0, 3.0));
  return d;
}

}  // namespace propwright::predict
