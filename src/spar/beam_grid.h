/// The beam cut into panels for exact integration along it.
#pragma once

#include <vector>

#include "propwright/spar/deflection.h"

namespace propwright::spar {

inline constexpr int panel_points = 8;

/// Panels of eight Gauss points. Their ends are the stations of the taper, the load and the place
/// of reading, and more so that sizes change little within one.
struct BeamGrid {
  std::vector<double> start_m, panel_m;  ///< of each panel
  std::vector<double> s_m;               ///< of each point, and so below
  std::vector<double> softness;          ///< I_root / I(s), or 1 of the uniform beam
  std::vector<double> weight_N;          ///< of the wood beyond
  std::vector<double> loaded_N;          ///< of wood and hung load beyond
  double length_m = 0;
  double read_at_m = 0;
  std::size_t read_points = 0;  ///< points before the place of reading on the spar
  bool fixed_distance = false, zero_droops = false;
};

BeamGrid beam_grid(const Beam& beam, const Rig& rig);

/// Integrates values at the grid's points from the clamp to each point; returns the whole.
double integral_upto(const BeamGrid& grid, const double* value, double* upto);

/// Integral over the panels of the first `count` points.
double integral(const BeamGrid& grid, const std::vector<double>& value, std::size_t count);

/// Value at s by the polynomial through the points of its panel.
double value_at(const BeamGrid& grid, const std::vector<double>& value, double s_m);

/// Small-deflection droop at the place of reading under a unit load, EI = 1 at the clamp.
double flexibility_m3(const BeamGrid& grid, double load_at_m);

}  // namespace propwright::spar
