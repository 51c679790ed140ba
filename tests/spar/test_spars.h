/// Spars and rigs such as builders have, and what a rig would show of a known spar.
#pragma once

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "propwright/spar/reduce.h"

namespace propwright::spar::test {

/// A number for a property.
inline double drawn(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1'000'001) / 1e6;
}

/// 0.27 g at 6 in and read there, as is usual for a half spar of an 18 in propeller (common
/// practice). Exact and noiseless until a test says otherwise.
inline Rig usual_rig() {
  return {.name = "usual", .load_kg = 0.27e-3, .load_at_m = 0.1524, .read_at_m = 0.1524};
}

struct Wood {
  double modulus_0_Pa = 1.5e9, modulus_90_Pa = 1.5e9;
  double density_kg_m3 = 80;
};

/// Tapered 1.5 to 0.8 mm over 178 mm. The sizes of direction 0 and 90 may differ by factors.
inline Spar usual_spar(const std::string& id, double width_factor = 1, double depth_factor = 1,
                       Shape shape = Shape::square, const Wood& wood = {}) {
  const auto section = [&](double size_m) {
    return Section{shape, width_factor * size_m, depth_factor * size_m,
                   shape == Shape::rounded_square ? 0.2 * size_m : 0.0};
  };
  Spar spar{id, taper(section(1.5e-3), section(1.15e-3), section(0.8e-3), 0.178), 0, 0};
  spar.mass_kg = wood.density_kg_m3 * volume_m3(spar.taper);
  return spar;
}

/// What an exact rig shows.
inline Readings exact_readings(const Spar& spar, const Wood& wood, const Rig& rig) {
  const SecondMoments root = second_moments(spar.taper.stations.front().section);
  return {
      {reading_m({spar.taper, spar.mass_kg, Bending::depth}, rig, wood.modulus_0_Pa * root.i_0_m4)
           .value()},
      {reading_m({spar.taper, spar.mass_kg, Bending::width}, rig, wood.modulus_90_Pa * root.i_90_m4)
           .value()},
      {}};
}

/// A spar measured exactly on the rig.
inline Measured measured(const Spar& spar, const Rig& rig, const Wood& wood = {}) {
  return reduce(spar, exact_readings(spar, wood, rig), rig).value();
}

/// A reading as it is taken: scattered, then rounded to the scale.
inline double taken(double true_m, const Rig& rig, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  const double scattered = true_m + rig.repeatability_m * normal(random);
  if (!(rig.resolution_m > 0)) return scattered;
  return rig.resolution_m * std::round(scattered / rig.resolution_m);
}

inline double smallest_size_m(const Taper& taper) {
  double least = 1;
  for (const Station& station : taper.stations) {
    least = std::min({least, station.section.width_m, station.section.depth_m});
  }
  return least;
}

}  // namespace propwright::spar::test
