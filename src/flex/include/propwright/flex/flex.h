/// The blade that bends and twists under its own loads, and the map a flight takes of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/flex/beam.h"
#include "propwright/rotor/map.h"
#include "propwright/rotor/rotor.h"

namespace propwright::flex {

struct Options {
  int elements = 12;  ///< 4..128 along the blade
  /// On every section's moment about the quarter chord, to carry its doubt.
  double moment_factor = 1;
};

/// Factors on a blade's stiffness, for measured blades and for doubt.
struct StiffnessFactors {
  double flapwise = 1, chordwise = 1, torsion = 1;  ///< > 0
};

/// One of the rotor's stations, deformed.
struct StationState {
  double radius_m = 0;
  double flare_rad = 0;     ///< change of the blade angle, + to higher pitch
  double pitch_m = 0;       ///< local pitch as deformed; 0 where the angle is not 0..90 degrees
  double pitch_rise_m = 0;  ///< against the unloaded blade
  double in_disc_m = 0, out_of_disc_m = 0;
  double flapwise_Nm = 0, chordwise_Nm = 0;  ///< bending moments in blade axes
  double twist_Nm = 0;                       ///< torsion moment
  double stress_Pa = 0;                      ///< greatest fibre stress; 0 where not known
};

/// What breaks first.
struct Strength {
  bool known = false;                  ///< the beam tells fibres and rupture
  double stress_Pa = 0, radius_m = 0;  ///< where stress is nearest to rupture
  double margin = 0;                   ///< rupture over stress there
  double root_stress_Pa = 0, root_margin = 0;
};

/// One blade's root, of one blade.
struct RootLoads {
  double out_of_disc_Nm = 0, in_disc_Nm = 0, twist_Nm = 0;
  double tension_N = 0;
};

/// Equilibrium of air, spar and rotation at one condition.
struct State {
  rotor::Result rotor;  ///< loads and stations of the deformed blade
  std::vector<StationState> stations;
  BeamPoint tip;
  RootLoads root;
  Strength strength;
  /// Loads of the same kind this many times as great would diverge, to first order; empty: none.
  std::optional<double> divergence_factor;
  int iterations = 0;
};

/// Where the walk of a map had to stop.
struct Limit {
  rotor::Condition condition;
  double torque_Nm = 0;  ///< of the last state that held
  std::string reason;    ///< one sentence
};

/// A map of the flexing blade. Where the blade does not hold at the fast end of the usual map, the
/// map is cut there and `limit` says so.
struct FlexMap {
  rotor::Map map;
  std::optional<Limit> limit;
};

/// A rotor whose blades bend and twist, all alike. Cheap to copy, safe to share between threads.
class FlexRotor {
 public:
  /// Polars without moments take those of the built-in thin arcs at the same camber. The beam's
  /// root must not lie outside the rotor's hub radius, its tip not inside the rotor's by more than
  /// a tenth. Problem: bad_input.
  static base::Expected<FlexRotor> make(const rotor::Rotor& rotor, const BladeBeam& beam,
                                        const Options& options = {});

  /// The same beam, changed in stiffness, under another rotor of the same stations.
  base::Expected<FlexRotor> varied(const rotor::Rotor& rotor, const StiffnessFactors& factors,
                                   const Options& options) const;

  /// Equilibrium at one condition. `start_rad` (one each station; empty = untwisted) is where the
  /// search begins. Problem: no_solution where the blade diverges, with the torque and speed at
  /// which it does and what would cure it, or where it does not settle.
  base::Expected<State> solve(const rotor::Condition& condition, const rotor::Flow& flow,
                              const std::vector<double>& start_rad = {}) const;

  /// Loads alone over many conditions, each started from the last. Problem as solve.
  base::Expected<std::vector<rotor::Loads>> solve_all(
      const std::vector<rotor::Condition>& conditions, const rotor::Flow& flow) const;

  const rotor::Rotor& rotor() const { return rotor_; }
  const BladeBeam& beam() const { return blade_; }
  const Options& options() const { return options_; }
  const Fem& fem() const { return beam_.fem(); }  ///< for this module's own use

 private:
  FlexRotor(rotor::Rotor rotor, BladeBeam blade, Beam beam, Options options)
      : rotor_(std::move(rotor)),
        blade_(std::move(blade)),
        beam_(std::move(beam)),
        options_(options) {}

  rotor::Rotor rotor_;
  BladeBeam blade_;
  Beam beam_;
  Options options_;
};

/// Map about a flight speed, on the states of rotor::make_map.
base::Expected<FlexMap> make_map(const FlexRotor& rotor, const rotor::Flow& flow,
                                 double flight_speed_m_s);

/// The condition at which the propeller takes a torque at a flight speed. Problem: no_solution
/// where no shaft speed up to `highest_rev_per_s` takes it.
base::Expected<State> solve_for_torque(const FlexRotor& rotor, double torque_Nm, double speed_m_s,
                                       const rotor::Flow& flow, double highest_rev_per_s = 40);

}  // namespace propwright::flex
