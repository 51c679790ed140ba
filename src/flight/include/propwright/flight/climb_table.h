/// Steady states over motor torque: all that a quasi-steady flight needs of model and propeller.
/// Flights that differ in nothing but turns, rubber and roof share one table.
#pragma once

#include <array>
#include <vector>

#include "propwright/flight/flight.h"

namespace propwright::flight {

/// The state as a smooth function of torque: C2 splines in the square root of the torque, whose
/// crowding near zero follows the revs there.
class ClimbTable {
 public:
  struct State {
    double speed_m_s, rev_per_s, climb_m_s, drag_power_W, profile_power_W;
  };

  /// Covers 0 to `highest_torque_Nm` > 0. Holds for every set-up of the same propeller, airframe,
  /// air, friction and all-up mass. Problem: as equilibrium().
  static base::Expected<ClimbTable> make(const Setup& setup, double highest_torque_Nm);

  /// States `share`, 0..1, of the way to those of another table up to the same torque. Of tables of
  /// air 1 % apart in density: within 2e-5 of those made for the air between.
  ClimbTable between(const ClimbTable& other, double share) const;

  State at(double torque_Nm) const;
  double highest_torque_Nm() const { return highest_; }
  /// Motor torque of level flight; the torque of least |climb| when there is none.
  double level_torque_Nm() const;
  /// Whether the climb is held at the steepest that is flown, at the highest torque.
  bool held() const;

 private:
  static constexpr std::size_t fields = 5;
  using Row = std::array<double, fields>;
  double highest_ = 0;
  std::vector<Row> value_, slope_;  // over s = sqrt(Q/Q_highest), uniform; slope per interval
};

/// The greatest torque that a flight begins with or meets, N m, relaxation left out: what its table
/// must cover.
double greatest_torque_Nm(const Setup& setup);

/// How a flight is flown.
struct FlyOptions {
  bool keep_history = true;  ///< Flight::history is left empty else
  /// Of a set-up that it holds for. Null, or a table that does not reach greatest_torque_Nm: the
  /// flight makes its own, with which a duration differs by less than 1e-5 of itself.
  const ClimbTable* table = nullptr;
  double tolerance = 1e-8;  ///< of each step of the integration, relative; 1e-12..1e-4
  /// Where in the climb a light touch falls is chance to a fraction of the height it costs. The
  /// flight lands that much later or earlier that its time is the mean over all such places, and
  /// with that continuous in whatever the flight depends on. A flight that just misses the roof,
  /// by less than half of what a touch costs, gives some of that too.
  bool mean_touch = false;
  bool to_the_top = false;  ///< only the climb: all that comes after the top is left out
};

/// As fly(setup).
base::Expected<Flight> fly(const Setup& setup, const FlyOptions& options);

}  // namespace propwright::flight
