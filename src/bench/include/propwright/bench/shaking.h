/// A propeller that shakes the model: what to check, in the order that finds it soonest, with the
/// figures that are there already and the once-per-turn moment each would make.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/bench/figure.h"

namespace propwright::bench {

/// Differences are blade A less blade B; only their size counts. Nothing: not measured yet.
struct ShakingFigures {
  std::optional<Figure> angle_difference_rad = {};
  std::optional<Figure> hook_offset_m = {};        ///< half the run-out
  std::optional<Figure> spar_mismatch_share = {};  ///< greater of the two, of EI
  std::optional<Figure> length_difference_m = {};
  std::optional<Figure> imbalance_kgm = {};
  std::optional<Figure> mass_difference_share = {};
};

/// The flight the moments are worked out for. Zero: not known; what needs it is left out.
struct ShakingFlight {
  double revolutions_Hz = 0;
  double speed_m_s = 0;
  double motor_pull_N = 0;
  double thrust_N = 0;  ///< of the propeller
  double tip_radius_m = 0;
  double blade_area_m2 = 0;  ///< one blade
  double air_density_kg_m3 = 1.2;
  double flare_rad = 0;  ///< twist of the blades under launch torque, both spars alike
};

struct ShakingLimits {  ///< above which a figure is suspect: the tolerances of the bench
  double angle_rad = 1.0 * base::degree_rad;
  double hook_offset_m = 0.2e-3;
  double spar_share = 0.05;
  double length_m = 0.5e-3;
  double imbalance_kgm = 0.16e-6;  ///< 160 mg mm: 2 % of a blade of 80 mg at 100 mm
  double mass_share = 0.02;
};

enum class Cause { blade_angles, hook, spars, length, weight };
enum class CauseStatus { suspect, not_measured, cannot_tell, ok };

struct ShakingCheck {
  Cause cause = Cause::blade_angles;
  CauseStatus status = CauseStatus::not_measured;
  std::optional<Figure> figure =
      {};  ///< rad, m, share, m, kg m (or share when no balance is known)
  std::string figure_unit = {};
  /// Amplitude of the moment on the model once per turn, N m: estimate within a factor of about 2.
  std::optional<double> moment_Nm = {};
  std::string formula = {};
  std::string sentence = {};  ///< what was found and what to do
};

struct ShakingAnswer {
  /// The trade's order: unequal pitch, hook off the axis, unequal spars, length, weight last
  /// (builders' archive 2005-2019: experts find the first three, rarely the weight).
  std::vector<ShakingCheck> checks = {};
  /// What to do next: the first suspect in that order, else the first not settled; nothing when all
  /// is well.
  std::optional<Cause> next = {};
  std::optional<Cause> strongest = {};  ///< largest moment among those that could be worked out
  std::string headline = {};
};
/// Problem: bad_input naming a member that is negative or not finite.
base::Expected<ShakingAnswer> shaking(const ShakingFigures& figures, const ShakingFlight& flight,
                                      const ShakingLimits& limits = {});

}  // namespace propwright::bench
