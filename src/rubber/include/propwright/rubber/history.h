/// The life of a motor: break-in, winds, rest.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::rubber {

/// One wind of a motor, in order of time.
struct MotorWind {
  double turns = 0;                            ///< motor turns, 1..1e6
  std::optional<double> torque_Nm = {};        ///< greatest, 0..1
  std::optional<double> rested_length_m = {};  ///< of the loop, measured before this wind
  std::optional<double> rest_before_s = {};    ///< since the wind before; of the first: nothing
};

struct MotorLife {
  double section_m2 = 0;
  double fresh_length_m = 0;  ///< as tied
  double turns_constant = 10.6;
  std::vector<MotorWind> winds = {};
  std::optional<double> rested_length_m = {};  ///< now
  std::optional<double> rest_s = {};           ///< since the last wind
};

enum class MotorState {
  fresh,        ///< never wound beyond a quarter of breaking turns
  breaking_in,  ///< its length still grows from wind to wind, or fewer than three winds
  broken_in,
};

struct MotorHistory {
  MotorState state = MotorState::fresh;
  int winds = 0, full_winds = 0;  ///< full: above 0.85 of breaking turns
  double turns_total = 0;
  double length_m = 0;        ///< the last one known
  double length_gain = 0;     ///< over fresh; about 0.03 to 0.035 stays (archive; 1968 article)
  double greatest_share = 0;  ///< of breaking turns, at the length of then
  double breaking_turns = 0;  ///< at the length of now
  std::vector<double> shares = {};  ///< of breaking turns, one for each wind
  std::optional<double> recovered =
      {};  ///< 0..1 of the rest that the last full wind wants (24 h), winds since not counted as
           ///< rest; 1 without a full wind; nothing: not known
  std::vector<std::string> notes = {};
};

/// Problem: bad_input naming the member ("winds[1].turns"); turns above 1.3 of breaking turns are
/// one, for winder turns and motor turns are easily mixed up.
base::Expected<MotorHistory> motor_history(const MotorLife& life);

}  // namespace propwright::rubber
