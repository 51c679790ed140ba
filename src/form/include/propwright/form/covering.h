/// The film of a built-up blade: what to cut, and the frame it is stretched on, which has the
/// blade's own twist so that the film does not pull it.
#pragma once

#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/flat_pattern.h"

namespace propwright::form {

struct Covering {
  double area_m2 = 0;      ///< of the flat pattern
  double cut_area_m2 = 0;  ///< with the allowance all round
  Template cut;            ///< outer line to cut, the blade's edge marked inside
};
/// The pattern moved outwards by the allowance, corners rounded by it. Problem: bad_input for an
/// allowance not within 0 to 50 mm.
base::Expected<Covering> covering(const FlatPattern& pattern, double allowance_m);

struct FrameOptions {
  double margin_m = 0.010;                ///< from the blade to the sticks, all round, 1..50 mm
  double angle_limit_rad = 0.0087266463;  ///< half a degree: how far the film may be off
  int most_bays = 12;                     ///< 1..40
};

/// A cross stick, set square to the spar line at the form's angle.
struct FrameCross {
  double radius_m = 0, angle_rad = 0;
};
/// A piece of a rail from one cross stick to the next.
struct FrameRail {
  double length_m = 0;
  /// Between the piece and the cross stick at its inner and outer end.
  double inner_angle_rad = 0, outer_angle_rad = 0;
};

/// Two rails, each of straight pieces, and the cross sticks between them, made in place on the
/// form. Film stretched over it is straight across and, in each bay, its angle goes with straight
/// lines between the corners.
struct CoveringFrame {
  Hand hand = Hand::anticlockwise;
  double lead_m = 0, trail_m = 0;  ///< from the spar line to each rail, along the crosses
  std::vector<FrameCross> crosses;
  std::vector<FrameRail> lead, trail;  ///< as many as bays
  double worst_angle_error_rad = 0;    ///< of the film from the form's angle
  double worst_at_m = 0;
  double cross_length_m() const { return lead_m + trail_m; }
};
/// The frame with as few bays of equal length as keep the film within the limit, or with most_bays.
/// Outside the blade the pitch of its ends goes on. Problem: bad_input naming the option out of
/// range; no_solution where the margin reaches the shaft.
base::Expected<CoveringFrame> covering_frame(const Surface& blade,
                                             const FrameOptions& options = {});

/// Drawings at true scale: each cross stick at its angle over the bench, seen from the tip, and the
/// rails laid straight with their joints.
std::vector<Template> frame_templates(const CoveringFrame& frame);

}  // namespace propwright::form
