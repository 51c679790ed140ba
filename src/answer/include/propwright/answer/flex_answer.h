/// How a job's blade bends and twists, what it bears, and what could be chosen instead.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/flex/choice.h"

namespace propwright::answer {

/// The flight with one blade, launched as the job plans it.
struct FlexFlight {
  double duration_s = 0, top_height_m = 0;
  double turns_at_launch = 0, launch_torque_Nm = 0;
  int touches = 0;
  /// Launched with the turns of the job's flexing blade, were there no roof.
  std::optional<double> free_top_height_m = {};
};

/// The flexing blade at one torque of the motor, in steady flight.
struct FlexAtTorque {
  double motor_torque_Nm = 0;
  flex::State state;
  double flare_rad = 0, pitch_m = 0, pitch_rise_m = 0;  ///< at 0.7 of the tip radius
};

/// The spar ends at one share of the tip radius.
struct FlexSparEnd {
  flex::SparEnd end;
  bool present = false;                 ///< as the job has it
  double propeller_mass_change_kg = 0;  ///< of all blades, against the job's
  std::optional<double> duration_s =
      {};  ///< the model lighter or heavier by that; empty: no flight
  std::optional<double> same_mass_s = {};       ///< the model's mass as the job states it
  std::optional<double> launch_flare_rad = {};  ///< at the tip
};

/// One choice of spar position and torsional stiffness.
struct FlexChoice {
  bool present = false;  ///< as the job has it
  flex::FlareChoice launch, cruise;
  std::optional<FlexFlight> flight = {};
};

struct FlexAnswer {
  bool flies_flexing = false;  ///< what the job says
  double tip_radius_m = 0, roof_m = 0;
  std::optional<double> least_mass_kg = {};  ///< of the class, without rubber
  double model_mass_kg = 0;
  std::optional<FlexFlight> rigid;  ///< empty: it does not fly
  FlexFlight flexing;
  std::vector<FlexAtTorque> states;  ///< from level flight to launch
  std::optional<flex::Limit> limit;
  std::vector<FlexSparEnd> spar_ends;
  std::vector<FlexChoice> choices;
  std::vector<std::string> notes;
};

inline constexpr int flex_states_default = 13, flex_states_least = 2, flex_states_most = 61;

/// Whatever the job says of flexing, the blade flexes here. Problem: those of the job; no_solution
/// where it does not fly, with the torque the blade holds where that is why.
base::Expected<FlexAnswer> flex_answer(const LoadedJob& loaded, int states = flex_states_default);

/// Keys: docs/commands.md, flex.
Json flex_document(const FlexAnswer& answer);

}  // namespace propwright::answer
