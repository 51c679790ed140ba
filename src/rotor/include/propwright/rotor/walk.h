/// The rotor station by station, for a blade that twists under its loads.
#pragma once

#include <memory>
#include <vector>

#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// The air's forces on one blade at one station, per metre of radius, and their change with the
/// blade angle there (per rad, induction following).
struct StationForce {
  double thrust_N_per_m = 0, thrust_by_angle = 0;    ///< along the shaft, forward
  double drag_N_per_m = 0, drag_by_angle = 0;        ///< in the disc, against the rotation
  double moment_Nm_per_m = 0, moment_by_angle = 0;   ///< about the quarter chord, nose-up
  double profile_W_per_m = 0, profile_by_angle = 0;  ///< section drag times local speed
};

/// Walks a rotor through states one after the other, with its stations turned at will: each state
/// starts from what the last ones, once accepted, make expect. With nothing turned the loads are
/// those of Rotor::solve_all over the same states, to the last digit.
class Walk {
 public:
  /// `moments` gives the moment of sections whose own polars have none.
  Walk(const Rotor& rotor, const Flow& flow, const section::Family& moments);
  ~Walk();
  Walk(Walk&&) noexcept;
  Walk& operator=(Walk&&) noexcept;

  /// The forces with every station turned by `turn_rad`, one each. Within one state later calls
  /// start from earlier ones. Problem: bad_input or no_solution as Rotor::solve.
  tl::expected<void, base::Problems> evaluate(const Condition& condition, const double* turn_rad);

  /// Of the last evaluation.
  const std::vector<StationForce>& forces() const;
  /// Loads of the whole rotor at the last evaluation, arms included.
  Loads loads() const;
  /// The same with every station turned by `more_rad` further, to first order.
  Loads loads_with(const double* more_rad) const;

  /// Takes the last evaluation for this state's solution and goes on to the next state.
  void accept();
  /// Forgets the states before: the next evaluation searches from nothing.
  void restart();

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace propwright::rotor
