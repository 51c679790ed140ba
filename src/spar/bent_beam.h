/// The bent beam on its grid: what deflection.cpp and reduce.cpp share.
#pragma once

#include <optional>
#include <vector>

#include "beam_grid.h"
#include "propwright/spar/deflection.h"

namespace propwright::spar {

/// One state of the beam, loaded or not. Bent by the compliance 1/EI_root its angle is
/// theta = compliance * turning.
struct BeamState {
  std::vector<double> turning;  ///< integral of moment * softness up to each point, N m2
  double tip_turning = 0;       ///< the same at the tip
  std::vector<double> sine, cosine, work;
};

/// A solved beam: the state for a compliance, kept as a start for the next one near it.
struct BentBeam {
  BeamState loaded, unloaded;
  double compliance = 0;  ///< 1/EI at the clamp, 1/(N m2)
};

/// The beam that shows this deflection. Starts from `start` where given (same grid). Empty: it
/// cannot be reached.
std::optional<BentBeam> bend_to(const BeamGrid& grid, double deflection_m,
                                const BentBeam* start = nullptr);

/// The same from what the scale shows, with the reason where it cannot be.
base::Expected<BentBeam> bend_to_reading(const BeamGrid& grid, const Rig& rig, double reading_m);

/// Bends one state by this compliance, its sines and cosines with it; false: so soft that it hangs.
bool settle(const BeamGrid& grid, const std::vector<double>& shear_N, double compliance,
            BeamState& state);

/// The deflection shown at this compliance. Empty: so soft that it cannot be read.
std::optional<double> deflection_at(const BeamGrid& grid, double compliance);

/// Clamp, points of the grid, tip.
std::vector<BentPoint> points_of(const BeamGrid& grid, const BeamState& state, double compliance);

}  // namespace propwright::spar
