/// Half and quarter motors: set-up, and what a partial flight says about a full one.
///
/// A motor of the same section and a share f of the length, with a spacer of the missing mass,
/// gives the same torque at the same share of its turns, so at every such instant the model flies
/// as fast, turns as fast and climbs as fast as with the full motor, each for f of the time. Time
/// aloft and rise therefore scale by 1/f; only the launch height does not. From the launch height
/// down to the floor the model comes once in either flight, so t_full = t/f - (1/f - 1) h_launch/w,
/// w the sink rate at the end: partial motors read high, quarters more than halves, as builders
/// found.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::rubber {

struct FullMotor {
  double section_m2 = 0;
  double length_m = 0;
  double mass_kg = 0;
  double breaking_turns = 0;  ///< of the full one
};

struct PartialSetup {
  double share = 0;  ///< f
  double length_m = 0, mass_kg = 0, breaking_turns = 0;
  double spacer_mass_kg = 0;
  double spacer_length_m = 0;  ///< so that the hooks stay where they are
  std::vector<std::string> notes = {};
};
/// share 0.1..1, the full motor as make_motor allows. Problem: bad_input naming the member.
base::Expected<PartialSetup> partial_setup(const FullMotor& full, double share);

struct PartialFlight {
  double share = 0.5;           ///< 0.1..1
  double duration_s = 0;        ///< 1..7200
  double duration_sigma_s = 3;  ///< flight to flight, of the partial one; 0.1..600
  double top_height_m = 0;      ///< above the floor
  double top_sigma_m = 0.3;
  double launch_height_m = 1.5;
  std::optional<double> sink_m_s = {};  ///< at the end of the flight, 0.01..3; nothing: 4 h_top/t
  double sink_sigma_relative = 0.3;
  double relaxation_per_s = 0.01 / 60;  ///< torque lost while wound, 0..0.005; a guess
  double roof_m = 0;                    ///< 0: none
  bool touched = false;                 ///< the roof
};

struct FullEstimate {
  double duration_s = 0, duration_sigma_s = 0;
  double top_height_m = 0, top_sigma_m = 0;
  double reads_high_s = 0;          ///< of the plain 1/f, all that is taken back
  double model_sigma_relative = 0;  ///< of the scaling itself
  bool sound = true;                ///< false: the roof spoils the scaling, or nobody flies so long
  std::vector<std::string> notes = {};
};
/// The doubt holds the scatter of the partial flight times 1/f, the sink rate's, that of
/// relaxation, and 2 % of the full time for every halving (ours: knots, hooks, a short motor's
/// warm-up). A time that would be over two hours on the full motor, or of which relaxation would
/// take half, is questioned in the notes and is not sound.
base::Expected<FullEstimate> full_from_partial(const PartialFlight& flight);

}  // namespace propwright::rubber
