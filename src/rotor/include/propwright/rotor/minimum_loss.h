/// The blade of least loss for a wanted thrust or power: the Betz condition with section drag.
/// After Adkins & Liebeck, J. Propulsion and Power 10 (1994) 676-682, and Larrabee, SAE 790585
/// (1979), with our own circulation factor and the section's lift chosen at each station.
/// Symbols: zeta displacement velocity over flight speed, phi inflow angle, x Omega r/V, F
/// circulation factor, epsilon cd/cl.
#pragma once

#include <optional>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/rotor/rotor.h"
#include "propwright/section/section.h"

namespace propwright::rotor {

struct DesignRequest {
  Condition condition;  ///< flight speed > 0 and shaft speed > 0
  Flow flow;
  // Exactly one of the two.
  std::optional<double> thrust_N;  ///< of the whole rotor, arms included, > 0
  std::optional<double> power_W;   ///< at the shaft, > 0
  double tip_radius_m = 0;
  double hub_radius_m = 0;  ///< inner end of the blade, > 0
  /// Of the open arms inside the hub radius; the blades make up for their drag. 0 = none.
  double arm_diameter_m = 0;
  int blades = 2;        ///< 2..4
  double camber = 0.06;  ///< of every section
  /// Lift coefficient of every section; empty: the best cl/cd of each station at its own Reynolds
  /// number, which depends on the chord that the lift leaves.
  std::optional<double> lift;
  double least_chord_m = 0;               ///< of all but the tip
  std::optional<double> largest_chord_m;  ///< sections there work at the lift that is then needed
  TipFactor tip_factor = TipFactor::exact;
  WakeHelix wake_helix = WakeHelix::local;
  int stations = 48;  ///< 8..400, of the integrals
  int rows = 40;      ///< 8..400, of the blade that comes out
};

struct DesignStation {
  double radius_m = 0, chord_m = 0;
  double blade_angle_rad = 0, inflow_rad = 0, alpha_rad = 0;
  double pitch_m = 0;  ///< 2 pi r tan(blade angle)
  double cl = 0, cd = 0, re = 0;
  double factor = 0;     ///< circulation factor
  bool limited = false;  ///< a chord limit decided
};

struct Design {
  double zeta = 0;
  double thrust_N = 0, power_W = 0, torque_Nm = 0;  ///< arms included
  double efficiency = 0;                            ///< T V/P
  double induced_efficiency = 0;  ///< of the same wake without section drag: 1/(1 + zeta/2)
  Condition condition;
  std::vector<DesignStation> stations;  ///< root to tip, `rows` of them; chord 0 at the tip
  Blade blade() const;                  ///< for analysis

  int blades = 2;
  double camber = 0, hub_radius_m = 0, tip_radius_m = 0, arm_diameter_m = 0;
};

/// The design. The analysis of the blade at the same condition gives the same thrust and torque, to
/// the interpolation between rows. Problem: bad_input naming the member out of range; no_solution
/// where no wake gives so much thrust at this speed, or the largest chord cannot carry the lift.
base::Expected<Design> minimum_loss(const DesignRequest& request, const section::Family& family);

/// The shaft speed of the least power for the wanted thrust (or most thrust for the power) between
/// two limits, and its design. At a limit, `at_limit` is set. Problem: as above where no shaft
/// speed between them has a design.
struct BestRevs {
  Design design;
  bool at_limit = false;
};
base::Expected<BestRevs> minimum_loss_free_revs(DesignRequest request, double low_rev_per_s,
                                                double high_rev_per_s,
                                                const section::Family& family);

}  // namespace propwright::rotor
