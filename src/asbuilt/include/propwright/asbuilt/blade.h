/// A designed propeller of two blades and its blades as built: what was measured on each, and how
/// far that is from the design.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/flex/beam.h"
#include "propwright/flex/flex.h"
#include "propwright/flight/flight.h"
#include "propwright/rotor/rotor.h"
#include "propwright/units/units.h"

namespace propwright::asbuilt {

/// In what a blade can differ from its design; the unit of the difference, as built less designed.
enum class Aspect {
  angle,      ///< rad, of the whole blade, at 0.7 of the tip radius
  twist,      ///< rad per m of radius, nose-up outward, about 0.7 of the tip radius
  length,     ///< m of tip radius; the outline is stretched, the angle at a radius stays
  camber,     ///< of the chord, all along
  mass,       ///< kg of one blade
  flapwise,   ///< ln of EI square to the chord over the design's
  chordwise,  ///< ln of EI along the chord over the design's
  torsion,    ///< ln of GJ over the design's
  spar_turn,  ///< rad, principal axes of EI against the chord, nose-up
};
inline constexpr std::size_t aspect_count = 9;
inline constexpr double reference_station = 0.7;  ///< of the tip radius, where `angle` counts
std::string key_of(Aspect aspect);                ///< "angle", "spar_turn"

/// By Aspect.
using Deviation = std::array<double, aspect_count>;

/// A value and its standard deviation.
struct Measured {
  double value = 0, sigma = 0;
};

struct AngleReading {
  double radius_m = 0;  ///< from the shaft
  Measured angle_rad;   ///< chord to disc plane
};

/// What was measured on one blade. What is empty is taken as designed, without doubt.
struct BladeReading {
  std::string id = {};
  std::optional<Measured> length_m = {};  ///< shaft axis to tip
  std::optional<Measured> mass_kg = {};
  std::vector<AngleReading> angles = {};
  std::optional<Measured> camber = {};  ///< mean along the blade, of the chord
  /// Stiffness over the design's, from readings of both spars or of the finished blades.
  std::optional<Measured> flapwise = {}, chordwise = {}, torsion = {};
  std::optional<Measured> spar_turn_rad = {};
  std::optional<Measured> moment_kgm = {};  ///< first moment about the shaft axis
};

/// The propeller as designed and the flight it is built for.
struct Design {
  rotor::Blade blade;  ///< of two blades
  section::Family family;
  rotor::Options options;
  section::Shift shift = {};
  rotor::Flow flow;
  std::optional<flex::BladeBeam> beam;  ///< empty: the blade is taken as rigid
  flex::Options flex_options = {};
  double blade_mass_kg = 0;     ///< one blade; 0 = not known
  double blade_moment_kgm = 0;  ///< first moment of one blade; 0 = not known
  /// Its map is replaced by that of the propeller in question; each is launched as this plans, so
  /// that under a margin the turns are found anew.
  flight::Setup setup;
  units::Profile profile = units::Profile::metric;  ///< of lengths in sentences
};

/// One blade against its design.
struct BladeDeviation {
  std::string id;
  Deviation value{}, sigma{};
  std::array<bool, aspect_count> measured{};
  /// What of the angles neither a turn nor an even twist explains, at the radii of the readings.
  std::vector<double> left_over_radius_m, left_over_rad;
  std::optional<Measured> moment_kgm;
  double at(Aspect aspect) const { return value[static_cast<std::size_t>(aspect)]; }
};

/// Angles are split into a turn and an even twist by least squares (a turn alone from one reading).
/// Problem: bad_input with fields "blade[1].NAME", counted from 1 (`index` from 0).
base::Expected<BladeDeviation> deviation_of(const Design& design, const BladeReading& reading,
                                            std::size_t index);

}  // namespace propwright::asbuilt
