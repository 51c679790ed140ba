/// What the files about blades share. Private to the module.
#pragma once

#include <vector>

#include "check.h"
#include "propwright/bench/blade.h"

namespace propwright::bench {

inline constexpr double same_radius_m = 0.05e-3;  // nearer radii are one station

double angle_sigma_rad(const Instruments& instruments);

/// The angle at a radius as a sum of weights times readings, in the order of the stations.
struct AngleAt {
  double angle_rad = 0;
  std::vector<double> weights;
};
/// Between the two nearest stations the pitch runs straight; the radius lies within them.
AngleAt angle_at(const BladeFigures& blade, double radius_m);

/// One finding for each subject.
std::vector<Finding> findings_of(const PairFigures& pair, const PairOptions& options,
                                 Figure left_over_rad);

}  // namespace propwright::bench
