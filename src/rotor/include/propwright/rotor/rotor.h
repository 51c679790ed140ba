/// The propeller as blade elements with vortex/momentum induction (analysis).
/// Symbols: r radius, R tip radius, B blades, c chord, theta blade angle from the disc plane, V
/// flight speed, Omega = 2 pi n shaft speed, phi inflow angle, alpha = theta - phi, W local speed,
/// J = V/(nD), CT = T/(rho n^2 D^4), CP = 2 pi Q/(rho n^2 D^5).
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/section/section.h"

namespace propwright::rotor {

/// One row of a blade table, unloaded.
struct BladeRow {
  double radius_m = 0;   ///< from the shaft axis, > 0
  double chord_m = 0;    ///< straight distance between the edges, >= 0
  double angle_rad = 0;  ///< chord to disc plane, (-pi/2, pi)
  double camber = 0;     ///< height over chord, 0..0.15
};

/// A propeller of equal blades. Between rows every column is a monotone cubic; outside them the end
/// values are held.
struct Blade {
  std::vector<BladeRow> rows;  ///< radius strictly increasing, at least two
  double hub_radius_m = 0;     ///< inner end of the blade; 0 = first row
  double tip_radius_m = 0;     ///< 0 = last row
  int blades = 2;
  double arm_diameter_m = 0;  ///< open spar or arm between shaft and blade; 0 = none
};

/// Which circulation factor ties a finite number of blades to the annulus.
enum class TipFactor {
  exact,    ///< Goldstein's circulation function of a helical wake (2, 3 or 4 blades)
  prandtl,  ///< Prandtl's approximation, for comparison
  none,     ///< F = 1, infinitely many blades
};

/// Which helix the factor belongs to.
enum class WakeHelix {
  local,  ///< the station's own inflow angle: lambda = x |tan phi| (default)
  tip,    ///< the tip's inflow angle, as classical design codes do; for comparison
};

struct Options {
  TipFactor tip_factor = TipFactor::exact;
  WakeHelix wake_helix = WakeHelix::local;
  int stations = 24;      ///< 8..400 Gauss points with the tip's square root taken out
  bool hub_loss = false;  ///< Prandtl's factor at the root
  base::Problems check() const;
};

/// The air, in the two numbers a rotor needs.
struct Flow {
  double density_kg_m3 = 1.225;
  double viscosity_Pa_s = 1.789e-5;
};

struct Condition {
  double speed_m_s = 0;  ///< flight speed V, >= 0
  double rev_per_s = 0;  ///< shaft speed n, >= 0
};

enum class State {
  attached,  ///< one solution, lift still rising with angle
  stalled,   ///< past the angle where lift stops rising
  bistable,  ///< stalled solutions exist beside the attached one that is returned
  windmill,  ///< the element takes energy from the flow
  braked,    ///< wake braked beyond momentum theory: empirical windmill-brake relation
  stopped,   ///< shaft at rest: plain section drag, no induction
};
std::string to_text(State state);

struct StationResult {
  double radius_m = 0;
  double chord_m = 0;
  double blade_angle_rad = 0;
  double inflow_rad = 0;  ///< phi
  double alpha_rad = 0;
  double re = 0;  ///< chord Reynolds number with the local speed
  double cl = 0, cd = 0;
  double thrust_N_per_m = 0;   ///< of all blades
  double torque_Nm_per_m = 0;  ///< of all blades
  double axial_induction = 0;  ///< u/V; 0 when V = 0
  double factor = 0;           ///< circulation factor F used
  bool in_table = true;        ///< polar not extrapolated
  State state = State::attached;
};

/// Loads of the whole rotor (all blades, arms included).
struct Loads {
  double thrust_N = 0;
  double torque_Nm = 0;        ///< about the shaft, positive when the rotor must be driven
  double profile_power_W = 0;  ///< integral of section drag times local speed
};

struct Result {
  Condition condition;
  Loads loads;
  std::vector<StationResult> stations;
};

/// A place along the blade at which a rotor is solved: integrals are sums over weight times value.
struct Station {
  double radius_m = 0, weight_m = 0;
  double chord_m = 0, blade_angle_rad = 0, camber = 0;
};

/// A blade prepared for analysis: stations laid out, polars reduced to each station's camber,
/// circulation factors tabulated. Cheap to copy, safe to share between threads.
class Rotor {
 public:
  /// Problem: bad_input for a blade, polar or option out of range, naming it.
  static base::Expected<Rotor> make(const Blade& blade, const section::Family& family,
                                    const Options& options = {}, const section::Shift& shift = {});

  /// The same blade with its polars moved by `shift` and every station turned by `turn_rad`; shares
  /// the work of make(), for many samples of one blade.
  Rotor varied(const section::Family& family, const section::Shift& shift, double turn_rad) const;

  /// The same blade with every station turned by an angle of its own (one each, root to tip).
  Rotor twisted(const std::vector<double>& turn_rad) const;

  /// Where it is solved, root to tip.
  std::vector<Station> stations() const;

  /// Loads and stations at one condition. Problem: no_solution with station and condition in it.
  base::Expected<Result> solve(const Condition& condition, const Flow& flow) const;

  /// As solve without the stations, for many conditions in order (each started from the last).
  base::Expected<std::vector<Loads>> solve_all(const std::vector<Condition>& conditions,
                                               const Flow& flow) const;

  double hub_radius_m() const;
  double tip_radius_m() const;
  double diameter_m() const { return 2 * tip_radius_m(); }
  int blades() const;
  const Options& options() const;

 private:
  friend class Walk;
  struct Prepared;
  std::shared_ptr<const Prepared> prepared_;
};

/// Thrust coefficient CT, power coefficient CP, advance ratio J, efficiency; null members of the
/// interface (zero revs, no thrust) are NaN-free: `defined` tells.
struct Coefficients {
  bool defined = false;  ///< false at zero revs
  double advance_ratio = 0, ct = 0, cp = 0;
  bool efficiency_defined = false;  ///< thrust > 0 and torque > 0
  double efficiency = 0;            ///< T V/(Q Omega)
};
Coefficients coefficients(const Loads& loads, const Condition& condition, double diameter_m,
                          double density_kg_m3);

/// The advance ratio of zero thrust at a shaft speed (first zero above J = 0.05), or no_solution.
base::Expected<double> zero_thrust_advance_ratio(const Rotor& rotor, const Flow& flow,
                                                 double rev_per_s);

}  // namespace propwright::rotor
