/// Integration of one flight over the turns left in the motor.
#pragma once

#include "propwright/flight/climb_table.h"

namespace propwright::flight {

/// How a run ends and what is kept of it.
struct RunOptions {
  bool stop_at_top = false;  ///< for launch control: the climb alone
  bool heed_roof = true;
  bool keep_history = true;
  double tolerance = 1e-8;  ///< FlyOptions::tolerance
  bool mean_touch = false;  ///< FlyOptions::mean_touch
};

struct Run {
  double time_s = 0, height_m = 0, turns = 0;
  double top_height_m = 0, top_time_s = 0;
  int touches = 0;
  End end = End::landed;
  // Work done, J, summed along the flight.
  double motor_work = 0;  ///< torque as it is, over all turns
  double motor_loss = 0;  ///< what relaxation took from it
  double profile = 0, airframe = 0, ceiling = 0;
  double glide_thrust_work = 0;  ///< thrust of the dead propeller (negative)
  double launch_torque_Nm = 0;
  double launch_speed_m_s = 0, end_speed_m_s = 0;
  std::vector<Instant> history;
};

/// Flies from `turns` at launch height until landing (or as the options say).
base::Expected<Run> run(const Setup& setup, const ClimbTable& table, double turns,
                        const RunOptions& options);

}  // namespace propwright::flight
