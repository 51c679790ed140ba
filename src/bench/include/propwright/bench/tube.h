/// A tube rolled from paper and glue on a wire, and the wire that fits a spar's root.
/// Symbols: r radius of the spiral, p thickness of one lap, n laps, s length of the strip.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/bench/figure.h"

namespace propwright::bench {

struct RolledTube {
  double mandrel_diameter_m = 0;      ///< 0.1..20 mm
  double bore_gain_m = 0;             ///< bore over mandrel after it is pulled off, 0..0.5 mm
  double paper_thickness_m = 0;       ///< > 0, at most a quarter of the mandrel
  double paper_areal_mass_kg_m2 = 0;  ///< > 0
  double glue_areal_mass_kg_m2 = 0;   ///< dried glue on one face of the paper, >= 0
  double glue_density_kg_m3 = 1400;   ///< celluloid, a handbook's value; epoxy below 1200
  double wraps = 4;                   ///< 1..60, need not be whole
  double length_m = 0;                ///< of the tube, > 0
  double mass_share_sigma = 0.1;  ///< doubt of the two areal masses: paper and brush vary (ours)
};

struct TubeFigures {
  double bore_m = 0;
  /// Glue soaks into the paper or lies between the laps; the truth is between, so the wall is the
  /// middle and its sigma that of an even spread between the two.
  Figure wall_m = {}, outside_diameter_m = {};
  Figure paper_length_m =
      {};  ///< to cut: a spiral from the mandrel's face out; its laps fill the wall
  Figure paper_mass_kg = {}, glue_mass_kg = {}, mass_kg = {};
};
/// Exact length of an Archimedean spiral r = first + p angle/(2 pi) over n turns, m. p >= 0.
double spiral_length_m(double first_radius_m, double lap_m, double wraps);

/// Glue is counted over the whole strip: what does not lie between laps is the seal outside.
/// Problem: bad_input naming the member.
base::Expected<TubeFigures> tube_figures(const RolledTube& tube);

/// A spar's root as it goes into the tube.
struct SparRoot {
  double width_m = 0, depth_m = 0;   ///< > 0; equal for square and round
  double corner_radius_m = 0;        ///< half the width: round
  double fit_allowance_m = 0.03e-3;  ///< bore over the root, all told (from memory: a sliding fit)
};
/// Diameter of the circle around the root, m: across the corners, less what rounding takes off.
double root_circle_m(const SparRoot& root);

struct Mandrel {
  std::size_t index = 0;  ///< into the list given
  double diameter_m = 0;
  double clearance_m = 0;  ///< bore less root circle; negative: the root must be thinned by that
};
struct MandrelChoice {
  double wanted_bore_m = 0;
  std::optional<Mandrel> fits = {};        ///< thinnest that leaves the allowance
  std::optional<Mandrel> next_below = {};  ///< thickest that does not
};
/// Problem: bad_input for a root or an empty list ("mandrels_m").
base::Expected<MandrelChoice> choose_mandrel(const SparRoot& root,
                                             const std::vector<double>& mandrels_m,
                                             double bore_gain_m = 0);

struct WrapsChoice {
  double exact = 0;          ///< wraps for the wanted mass
  int below = 0, above = 0;  ///< whole wraps on either side; below 0 when one wrap is too heavy
  Figure mass_below_kg = {}, mass_above_kg = {};
};
/// `tube.wraps` is not read. Problem: wanted_mass_kg not above 0 or beyond 60 wraps.
base::Expected<WrapsChoice> wraps_for_mass(const RolledTube& tube, double wanted_mass_kg);

}  // namespace propwright::bench
