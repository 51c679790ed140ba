/// Two unequal blades on one shaft at the same torque: their loads, and what the shaft feels.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "propwright/asbuilt/blade.h"

namespace propwright::asbuilt {

/// How much of its own extra induction a blade feels when it alone is loaded more: 0 is an annulus
/// shared by both, 1 two independent half-discs. Two blades set 1 degree apart differ in thrust by
/// half as much again in the first as in the second. The value is ours: docs/method.md, Two unequal
/// blades.
inline constexpr double own_induction_share = 0.86;

struct BladeLoads {
  double thrust_N = 0, torque_Nm = 0;
  double root_bending_Nm = 0;                   ///< of thrust about the shaft axis
  std::optional<double> tip_bend_m, flare_rad;  ///< forward; at the tip. Empty where rigid
};

/// Both blades at one shaft torque.
struct PairState {
  rotor::Condition condition;
  double torque_Nm = 0;
  std::array<BladeLoads, 2> blades;
  BladeLoads difference;  ///< A less B
  /// The same thrust difference with a shared annulus and with independent half-discs.
  double shared_thrust_N = 0, independent_thrust_N = 0;
  double rocking_Nm = 0;  ///< A less B of the bending moment: turns once with the shaft
  double shaking_N = 0;   ///< of the static imbalance at these revs; 0 where not known
};

struct Imbalance {
  std::optional<Measured> moment_kgm;  ///< A less B; empty where not known
  bool from_masses = false;            ///< masses at the design's centre, not moments as measured
};
Imbalance imbalance_of(const Design& design, const BladeDeviation& a, const BladeDeviation& b);

/// At one condition. Problem: no_solution as rotor or flex.
base::Expected<PairState> compare_at(const Design& design, const BladeDeviation& a,
                                     const BladeDeviation& b, const rotor::Condition& condition);

/// Through the flight from level flight to launch: `count` motor torques, the states of the design.
/// Problem: no_solution as flight.
base::Expected<std::vector<PairState>> compare(const Design& design, const BladeDeviation& a,
                                               const BladeDeviation& b, double low_torque_Nm,
                                               double high_torque_Nm, int count = 4);

}  // namespace propwright::asbuilt
