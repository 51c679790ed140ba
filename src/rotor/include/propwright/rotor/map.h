/// The propeller as seen by a flight: loads over speed and revs, handed on by value.
#pragma once

#include <vector>

#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// Loads with their derivatives at one state.
struct MapLoads {
  Loads loads;
  double thrust_by_speed = 0, thrust_by_rev = 0;  ///< N per m/s, N per rev/s
  double torque_by_speed = 0, torque_by_rev = 0;
};

/// Four-quadrant coefficients over the advance angle beta = atan2(V, 0.7 Omega R) and the flight
/// speed: CT* = T/(rho/2 (V^2 + (0.7 Omega R)^2) pi R^2) and likewise CQ*, CP*. Smooth in both;
/// from beta_low to a stopped propeller (beta = 90 degrees). Speed enters through the Reynolds
/// number.
class Map {
 public:
  /// From any source of loads (rigid rotor here, flexing blade later): tables over `beta_rad`
  /// (increasing, last pi/2) at three speeds in geometric progression, `loads[speed][beta]`.
  static Map from_loads(std::vector<double> beta_rad, double middle_speed_m_s, double speed_ratio,
                        const std::vector<std::vector<Loads>>& loads, const Flow& flow,
                        double tip_radius_m);

  /// Loads at a state. V > 0, n >= 0; beyond the ends of the table its edge coefficients are held.
  MapLoads at(double speed_m_s, double rev_per_s) const;

  /// The same coefficients in air of another density: right as long as the Reynolds number hardly
  /// changes (1 % of density: 0.5 % of drag at most, the laminar law).
  Map in_density(double density_kg_m3) const {
    Map other = *this;
    other.density_kg_m3_ = density_kg_m3;
    return other;
  }

  double tip_radius_m() const { return tip_radius_m_; }
  double beta_low_rad() const { return beta_.front(); }
  double middle_speed_m_s() const { return middle_speed_m_s_; }
  /// Revs of beta_low at a speed: the fastest the map covers, rev/s.
  double highest_rev_per_s(double speed_m_s) const;

 private:
  struct Node {
    double value[3], slope[3];  // thrust, torque, profile power at one speed
  };
  std::vector<double> beta_;
  std::vector<Node> nodes_;  // [speed][beta]
  double middle_speed_m_s_ = 0, ln_ratio_ = 0, tip_radius_m_ = 0, density_kg_m3_ = 0;
};

/// The states of a flight's map, in the order of a walk in which neighbours follow each other.
struct MapGrid {
  std::vector<double> beta_rad;  ///< increasing, last pi/2
  double middle_speed_m_s = 0, speed_ratio = 1.25;
  std::vector<Condition> conditions;  ///< three speeds, over beta to and fro
};
MapGrid map_grid(double tip_radius_m, double flight_speed_m_s);

/// The map from the loads at a grid's conditions, in their order.
Map map_on_grid(const MapGrid& grid, const std::vector<Loads>& walked, const Flow& flow,
                double tip_radius_m);

/// Map of a rigid rotor about a flight speed. Error against direct solution: docs/method.md.
base::Expected<Map> make_map(const Rotor& rotor, const Flow& flow, double flight_speed_m_s);

}  // namespace propwright::rotor
