/// The fine mode: a lifting line with a rigid helical wake, to judge the quick mode of rotor.h.
#pragma once

#include <memory>
#include <vector>

#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// The helices on which the shed vortices lie.
enum class Wake {
  own_flow,     ///< of the inflow found where they are shed, smooth along the blade (default)
  undisturbed,  ///< all of the pitch V/n, the light-loading limit
};

struct FineOptions {
  int stations = 24;  ///< 6..96 control points, crowded to hub and tip by a cosine
  Wake wake = Wake::own_flow;
  base::Problems check() const;
};

/// Fine less quick: what the quick mode owes to its model.
struct Difference {
  double thrust_N = 0, torque_Nm = 0;
  bool efficiency_defined = false;  ///< both modes have one
  double efficiency = 0;
};

struct FineResult {
  Result result;  ///< `factor` is that of the swirl found, B Gamma/(4 pi r u_t); 0 where u_t is 0
  Loads quick;    ///< of the same state by the quick mode
  Difference difference;
};

/// A blade prepared for the fine mode: B straight radial lifting lines, whose circulation falls to
/// zero at hub and tip; each sheds helical vortices of fixed radius and pitch, whose induced
/// velocity is exact to 2e-6 (helix.h), and the polars with the local Reynolds number give the
/// circulation. Error of the sums at 24 stations: 1e-3 of the loads where the blade is attached, 5
/// % where a good part of it is stalled. The model leaves out that a wake contracts and rolls up,
/// and it has no answer in deep stall. Cheap to copy, safe to share between threads.
class FineRotor {
 public:
  /// Problem: bad_input for a blade, polar or option out of range, naming it.
  static base::Expected<FineRotor> make(const Blade& blade, const section::Family& family,
                                        const FineOptions& options = {}, const Options& quick = {},
                                        const section::Shift& shift = {});

  /// Loads and stations at one condition by both modes; 5 ms attached, up to 0.1 s stalled. A
  /// propeller at rest sheds no helix: there the fine mode takes the quick mode's section drag.
  /// Problem: no_solution with station and condition in it, where either mode has none.
  base::Expected<FineResult> solve(const Condition& condition, const Flow& flow) const;

  const Rotor& quick() const;

 private:
  struct Prepared;
  std::shared_ptr<const Prepared> prepared_;
};

/// Goldstein's function G = B Gamma/(2 pi lambda R w) at the places `x` = r/R by the fine mode's
/// own influence: the circulation on `blades` lifting lines (from 0.001 R to R) behind which a
/// rigid helical sheet of pitch 2 pi lambda R moves back with speed w, which is Betz's condition of
/// least induced loss. blades >= 2, lambda > 0, 0.001 < x < 1, stations 6..96. Error at 48
/// stations: 3e-5 for lambda 0.05 to 1.
std::vector<double> least_loss_circulation(int blades, double lambda, const std::vector<double>& x,
                                           int stations);

}  // namespace propwright::rotor
