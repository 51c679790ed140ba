/// The deflection rig: what is hung where, where it is read, and how well.
#pragma once

#include <string>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/base/problem.h"

namespace propwright::spar {

/// Where the reading is taken once the spar has drooped.
enum class Follows {
  point_of_the_spar,  ///< at a mark on the spar, wherever it has moved to
  fixed_distance,     ///< at a fixed horizontal distance from the clamp, on whatever wood is there
};

/// What counts as no deflection.
enum class Zero {
  straight_line,  ///< the straight line out of the clamp: the spar's own droop is part of it
  unloaded_spar,  ///< the unloaded spar, which already droops by its own weight
};

/// A deflection rig. The whole set-up is kept with every reading, so that tests years apart can be
/// compared.
struct Rig {
  std::string name = {};
  double load_kg = 0;    ///< hung mass, hook included, above 0
  double load_at_m = 0;  ///< where it hangs: distance from the clamp along the spar, above 0
  double read_at_m = 0;  ///< where it is read: along the spar, or horizontally, above 0
  Follows follows = Follows::point_of_the_spar;
  Zero zero = Zero::straight_line;
  double zero_reading_m = 0;      ///< what the scale shows at no deflection; taken off each reading
  double resolution_m = 0;        ///< smallest step of the scale that is read, 0 or more
  double repeatability_m = 0;     ///< 1-sigma of one reading, spar clamped anew, rounding apart
  int repeatability_freedom = 0;  ///< degrees of freedom it was found with; 0 = taken as known
  double load_sigma_kg = 0;       ///< 1-sigma of the hung mass; common to all spars of the rig
  std::string clamp = {};         ///< notes: how the root is held
  double gravity_m_s2 = base::gravity_m_s2;
};

/// The rig's repeatability from spars clamped anew and read again.
struct Calibration {
  double repeatability_m = 0;       ///< 1-sigma of one reading, without the scale's rounding
  double reading_sigma_m = 0;       ///< with it: rounding counts as uniform, resolution / sqrt(12)
  int freedom = 0;                  ///< readings less spars
  double low_m = 0, high_m = 0;     ///< 90 % interval of reading_sigma_m; wide after three repeats
  double relative_sigma = 0;        ///< 1-sigma of reading_sigma_m itself, about 1/sqrt(2 freedom)
  bool resolution_governs = false;  ///< the scatter is lost in the steps of the scale
};

/// From one list of readings for each spar (or direction), at least two in each that is used. The
/// scatter within the lists is pooled; interval by chi-square, for normal scatter. Problems, field
/// "readings_m[i]" or "resolution_m": fewer than two readings, not finite, negative resolution.
base::Expected<Calibration> calibrate(const std::vector<std::vector<double>>& readings_m,
                                      double resolution_m);

/// 1-sigma of the mean of n >= 1 readings. Rounding averages out only where the scatter is at least
/// half a step of the scale; below that all repeats fall on the same step.
double mean_sigma_m(const Rig& rig, int readings);

/// How many sigma make a 90 % interval: 1.645, or Student's t for a repeatability that was found
/// from few readings (2.92 for three).
double coverage_90(const Rig& rig);

}  // namespace propwright::spar
