/// A measured or computed number with its doubt, and the instruments the doubt comes from.
#pragma once

#include <string>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/base/problem.h"

namespace propwright::bench {

/// A value and its standard uncertainty (1-sigma), both in the unit at the end of the member's
/// name. sigma >= 0; 0 means "taken as exact".
struct Figure {
  double value = 0;
  double sigma = 0;
};

/// What the numbers of this module were read from. A reading that is rounded to steps of q has the
/// standard uncertainty q/sqrt(12) (GUM: JCGM 100:2008, F.2.2.1); the repeatability, 1-sigma of one
/// reading, is added in quadrature. Resolutions > 0, repeatabilities >= 0.
struct Instruments {
  double scale_resolution_kg = 1e-6;  ///< one digit of the scale
  double scale_repeatability_kg = 0;
  double rule_resolution_m = 0.5e-3;         ///< lengths and widths
  double micrometer_resolution_m = 0.01e-3;  ///< thicknesses, diameters, widths of strips
  double angle_resolution_rad = 0.5 * base::degree_rad;
  double angle_repeatability_rad = 0;  ///< blade put back into the gauge and read again
};

/// Standard uncertainty of one reading, in the unit of its two arguments.
double reading_sigma(double resolution, double repeatability);

/// Standard uncertainty of a net weight: the scale is read twice, empty (or on the tare) and
/// loaded, so sqrt(2) times that of one reading.
double net_mass_sigma_kg(const Instruments& instruments);

/// Sure to about 95 % on one side: |difference| + 1.645 sigma within the tolerance is `yes`,
/// |difference| - 1.645 sigma beyond it is `no`, all else cannot be told with this reading.
enum class Within { yes, no, cannot_tell };
Within within(Figure difference, double tolerance);

/// How many readings of each part, averaged, would settle a `cannot_tell`: the sigma must shrink to
/// |tolerance - |difference||/1.645 and does so with the root of the number. 1 when settled
/// already; 0 when more than `most` would be needed: no repeat settles it.
int readings_to_settle(Figure difference, double tolerance, int most = 100);

/// A number that can be, but is out of the ordinary: asked about, not refused.
struct Question {
  std::string field = {};    ///< member that is doubted
  std::string message = {};  ///< one sentence with the numbers and what to check
};

/// Problems of instruments out of range, field "instruments.NAME".
base::Problems problems_of(const Instruments& instruments);

}  // namespace propwright::bench
