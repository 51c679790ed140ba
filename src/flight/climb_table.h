/// Steady states over motor torque: all that a quasi-steady flight needs of model and propeller.
#pragma once

#include <array>
#include <vector>

#include "propwright/flight/flight.h"

namespace propwright::flight {

double all_up_mass_kg(const Setup& setup);

/// No climb is taken to be steeper: past it a model mushes and stalls rather than climbs
/// (judgement).
inline constexpr double steepest_climb_rad = 1.0472;  // 60 degrees

/// As equilibrium(), started from known revs.
base::Expected<Equilibrium> equilibrium_from(const Setup& setup, double motor_torque_Nm,
                                             double guess_rev_per_s);
/// Glide with the propeller standing still.
base::Expected<Equilibrium> stopped_glide(const Setup& setup);

/// The state as a smooth function of torque: C2 splines in the square root of the torque, whose
/// crowding near zero follows the revs there.
class ClimbTable {
 public:
  struct State {
    double speed_m_s, rev_per_s, climb_m_s, drag_power_W, profile_power_W;
  };

  /// Covers 0 to `highest_torque_Nm`.
  static base::Expected<ClimbTable> make(const Setup& setup, double highest_torque_Nm);

  State at(double torque_Nm) const;
  double highest_torque_Nm() const { return highest_; }
  /// Motor torque of level flight; the torque of least |climb| when there is none.
  double level_torque_Nm() const;

 private:
  static constexpr std::size_t fields = 5;
  using Row = std::array<double, fields>;
  double highest_ = 0;
  std::vector<Row> value_, slope_;  // over s = sqrt(Q/Q_highest), uniform; slope per interval
};

}  // namespace propwright::flight
