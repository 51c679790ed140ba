/// The carved form: a rectangular block sawn to its side and plan views and carved from edge to
/// edge. The bench is the disc plane, up is the way the model flies, the blade's pressure face lies
/// on the carved face. Lengths in the axes of Surface, heights above the bench.
#pragma once

#include <array>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/surface.h"

namespace propwright::form {

struct BlockOptions {
  double edge_allowance_m = 0.004;  ///< form beyond the blade's edges, along the section, 0..0.03
  double end_allowance_m = 0.010;   ///< form beyond root and tip, 0..0.05
  double base_m = 0.010;            ///< wood under the lowest point of the carved face, > 0..0.1
};

struct BlockStation {
  double radius_m = 0, angle_rad = 0;
  double width_m = 0;              ///< between the carved face's edges, in the disc plane
  double depth_m = 0;              ///< between them along the shaft
  double depth_over_width = 0;     ///< tan(angle) = P/(2 pi r)
  double lead_m = 0, trail_m = 0;  ///< edges of the carved face from the spar line, in plan
  /// The farthest the section reaches from the spar line in plan: its edges, except where a steep
  /// and hollow section overhangs them.
  double lead_reach_m = 0, trail_reach_m = 0;
  double lead_height_m = 0, trail_height_m = 0;  ///< edges above the bench
  double spar_height_m = 0;                      ///< carved face at the spar line
  double top_height_m = 0;                       ///< highest point of the section
};

struct Block {
  Hand hand = Hand::clockwise;
  double length_m = 0, width_m = 0, height_m = 0;  ///< least box, allowances and base in it
  double near_end_m = 0;                           ///< radius of the end towards the shaft
  double lead_side_m = 0, trail_side_m = 0;        ///< faces of the box from the spar line
  std::vector<BlockStation> stations;              ///< at the radii asked for
  std::vector<BlockStation> contour;               ///< many, for the templates
};

/// Problem: bad_input naming block.edge_allowance, block.end_allowance or block.base out of range,
/// or block.stations for a radius off the blade.
base::Expected<Block> carved_block(const Surface& surface, const std::vector<double>& radii_m,
                                   const BlockOptions& options);

/// Side view, radius to the right, up the way the model flies, seen from the trailing side of a
/// clockwise form; the anticlockwise one is the mirror image, radius to the left. Cut: the highest
/// line of the face; score: the trailing edge's height, to be carved down to; chain line: spar.
Template block_side_template(const Block& block);

/// Plan, seen from above, that is from in front of the model: radius to the right and the leading
/// edge above for clockwise; the anticlockwise one is the mirror image, radius to the left. Cut:
/// the face's outline; chain line: spar.
Template block_plan_template(const Block& block);

}  // namespace propwright::form
