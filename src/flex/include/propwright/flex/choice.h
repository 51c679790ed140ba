/// Choosing flare and strength on purpose: what spar position, torsional stiffness and length of
/// the spar do to the blade.
#pragma once

#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/flex/flex.h"
#include "propwright/flex/parts.h"

namespace propwright::flex {

/// The state in which blades are compared.
struct ChoiceState {
  double torque_Nm = 0;  ///< of the shaft, > 0
  double speed_m_s = 0;  ///< of flight, > 0
  rotor::Flow flow;
};

/// One blade of the chart.
struct FlareChoice {
  double spar_position = 0;   ///< of the chord, behind the leading edge
  double torsion_factor = 1;  ///< on GJ
  bool holds = false;
  std::string problem = {};  ///< why not, where it does not hold
  // Where it holds:
  double flare_rad = 0;  ///< at 0.7 of the radius, + to higher pitch
  double tip_flare_rad = 0;
  double pitch_m = 0, pitch_rise_m = 0;  ///< at 0.7 of the radius
  double rev_per_s = 0, thrust_N = 0;
  double margin = 0;  ///< rupture over stress; 0 where not known
};

/// Every spar position with every factor on GJ, at one torque and flight speed; the rotor is the
/// unloaded blade's. `measured` is what tests of the finished blade found of the parts' stiffness.
/// Problem: bad_input where the parts have no spar, or no position or factor is given; a blade that
/// does not hold is a row, not a problem.
base::Expected<std::vector<FlareChoice>> flare_chart(const rotor::Rotor& rotor, const Parts& parts,
                                                     const ChoiceState& state,
                                                     const std::vector<double>& spar_positions,
                                                     const std::vector<double>& torsion_factors,
                                                     const StiffnessFactors& measured = {});

/// A value at a share of the tip radius, straight between the rotor's stations.
double at_share(const State& state, double tip_radius_m, double share,
                double StationState::*member);

/// The beam, stiffer by factors.
BladeBeam stiffened(BladeBeam beam, const StiffnessFactors& factors);

/// The parts with the spar's taper cut off at a share of the tip radius, or carried on to it at its
/// outer section. Problem: bad_input where the parts have no spar or nothing is left of it.
base::Expected<Parts> with_spar_to(const Parts& parts, double share);

/// A blade whose spar ends at a share of the radius.
struct SparEnd {
  double share = 0;    ///< of the tip radius
  double mass_kg = 0;  ///< of the blade, hub arm of the spar included
  TipStrike flapwise, chordwise;
};

/// The blade with its spar to each share (1 = to the tip). Problem: bad_input where the parts have
/// no spar, a share does not leave a spar on the blade, or nothing but the spar carries the tip.
base::Expected<std::vector<SparEnd>> spar_ends(const Parts& parts,
                                               const std::vector<double>& shares);

}  // namespace propwright::flex
