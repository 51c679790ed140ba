/// Strip width, mass per length and loop: one strip of width w and thickness t weighs
/// lambda = rho w t per length; a loop of length L has n strands (2 for one loop), so its section
/// is A = n w t and its mass m = lambda n L. The knot and the lubricant are not in it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::rubber {

/// What is known of a strip and its loop, any of it; SI.
struct StripGiven {
  std::optional<double> width_m = {};            ///< 1e-4..0.05
  std::optional<double> thickness_m = {};        ///< 2e-4..3e-3; about 1 mm
  std::optional<double> density_kg_m3 = {};      ///< 800..1150
  std::optional<double> line_density_kg_m = {};  ///< of one strand, 1e-5..0.05
  int strands = 2;                               ///< 1..64
  std::optional<double> loop_length_m = {};      ///< 0.01..5
  std::optional<double> mass_kg = {};            ///< 1e-6..0.1
};

/// All of it, the loop where it can be told.
struct StripFigures {
  double width_m = 0, thickness_m = 0, density_kg_m3 = 0;
  double line_density_kg_m = 0;  ///< of one strand
  double section_m2 = 0;         ///< of all strands
  double loop_density_kg_m = 0;  ///< of the loop, all strands: mass per length of loop
  std::optional<double> loop_length_m = {}, mass_kg = {};
  std::vector<std::string> notes = {};  ///< what was assumed, and what does not fit
};

/// Fills in what is wanting. One of width, line density, or mass with loop length must be there.
/// Thickness and density left out are the usual ones (usual_strip.h)
/// and noted; where width, line density and only one of the two are given, the other follows.
/// Problem: bad_input naming the member out of range or wanting.
base::Expected<StripFigures> strip_figures(const StripGiven& given);

}  // namespace propwright::rubber
