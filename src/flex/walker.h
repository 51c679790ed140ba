/// Air and beam in balance, state after state.
#pragma once

#include <vector>

#include "fem.h"
#include "propwright/flex/flex.h"
#include "propwright/rotor/walk.h"

namespace propwright::flex {

/// The Newton iteration on the beam's unknowns: the air's forces come with their slopes over the
/// twist, so that one solution of the rotor and one of the beam make one step.
class Walker {
 public:
  Walker(const FlexRotor& flex, const rotor::Flow& flow);

  enum class Outcome { settled, diverged, unsettled, unsolved };

  /// Goes to a state from what the last ones make expect, until a further step would change no
  /// station by more than `first_order_rad`; the loads contain that last step to first order.
  Outcome go(const rotor::Condition& condition);
  /// Solves one state from the present unknowns to the last digit, every station's flow searched
  /// from nothing.
  Outcome settle(const rotor::Condition& condition);

  const rotor::Loads& loads() const { return loads_; }
  const std::vector<double>& twist_rad() const { return twist_; }
  const std::vector<double>& unknowns() const { return q_; }
  int iterations() const { return iterations_; }
  const base::Problems& problems() const { return problems_; }

  void set_twist(const std::vector<double>& station_twist_rad);
  void forget();  ///< the untwisted blade, no states before

  /// The loads on the beam at the last evaluation.
  const std::vector<SpotLoad>& spot_loads() const { return spot_loads_; }
  const std::vector<Spot>& spots() const { return spots_; }
  const std::vector<rotor::Station>& stations() const { return stations_; }
  const std::vector<double>& root_reaction() const { return reaction_; }

  /// With the loads' slopes at the present twist; see Beam::divergence_factor.
  std::optional<double> divergence(double omega);
  /// Evaluates the air on the present twist, searched from nothing.
  bool evaluate_afresh(const rotor::Condition& condition);

 private:
  double step(const rotor::Condition& condition, bool afresh);
  void take_loads();
  void expect();
  Outcome approach(const rotor::Condition& condition);

  const FlexRotor& flex_;
  const Fem& fem_;
  rotor::Walk walk_;
  std::vector<rotor::Station> stations_;
  std::vector<Spot> spots_;
  std::vector<double> behind_m_, above_m_;
  std::vector<SpotLoad> spot_loads_;
  std::vector<double> q_, before_, earlier_, residual_, twist_, more_, reaction_;
  int known_ = 0;  // states accepted
  BandMatrix tangent_;
  rotor::Loads loads_;
  base::Problems problems_;
  int iterations_ = 0;
  bool unstable_ = false;
};

/// What to say of a state that the blade does not hold.
base::Problems not_held(const FlexRotor& flex, const rotor::Condition& condition,
                        const rotor::Flow& flow, Walker::Outcome outcome,
                        const base::Problems& problems);

}  // namespace propwright::flex
