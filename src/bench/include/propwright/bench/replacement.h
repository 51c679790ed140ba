/// A new blade to match the one that survived: what to aim at and how near.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/bench/blade.h"
#include "propwright/bench/figure.h"
#include "propwright/spar/rig.h"
#include "propwright/spar/section.h"

namespace propwright::bench {

/// The survivor's spar as it was measured bare.
struct SurvivingSpar {
  spar::Taper taper = {};
  double mass_kg = 0;                ///< > 0
  Figure E_0_Pa = {}, E_90_Pa = {};  ///< in the two directions of its mark
};

/// Edges of the outline from the spar line, in the flat plane of the blade.
struct OutlineWidth {
  double radius_m = 0;
  double lead_m = 0, trail_m = 0;  ///< lead + trail = chord
};

struct Survivor {
  BladeReading blade = {};
  std::vector<OutlineWidth> outline = {};  ///< radii rising
  std::optional<SurvivingSpar> spar = {};
  /// Air the survivor was weighed in and air the new blade will be weighed in: both or neither.
  std::optional<double> humidity_then = {}, humidity_now = {};
  double temperature_then_C = 20, temperature_now_C = 20;
  double wood_share = 1;  ///< of the blade's mass; film and glue hardly take up water
};

/// One thing to aim at, in SI.
struct Target {
  std::string name = {};  ///< "length", "mass", "angle", "spar reading, mark up"
  std::string unit = {};  ///< "m", "kg", "rad", "kg m", "1"
  std::optional<double> radius_m = {};
  double value = 0, tolerance = 0;
  double sigma = 0;  ///< how well the survivor itself is known
};

struct ReplacementOptions {
  BladeTolerances tolerances = {};
  double spar_share = 0.05;           ///< of EI, so of the reading; common practice
  double outline_share = 0.02;        ///< of the chord and of the edges' length (ours)
  std::optional<spar::Rig> rig = {};  ///< rig the new spar will be read on
};

struct ReplacementFigures {
  std::vector<Target> targets;  ///< in the order they are met at the bench: spar, outline, blade
  /// Mass now over mass then of the survivor; 1 when no humidity was given.
  Figure humidity_factor = {1, 0};
  std::vector<std::string> sentences;
};
/// The new spar is to read on the rig what the survivor's spar would read on it now: equal readings
/// on one rig are equal stiffness, whatever the new wood's modulus. Without a rig the targets are
/// EI at the root ("N m2").
/// Problem: bad_input with the survivor's fields ("blade.", "outline[i].", "spar.",
/// "humidity_now"), or the rig's ("rig.").
base::Expected<ReplacementFigures> replacement(const Survivor& survivor,
                                               const Instruments& instruments,
                                               const ReplacementOptions& options);

}  // namespace propwright::bench
