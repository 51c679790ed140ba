/// Sanding one spar of a pair down to the other: which faces, how much, where, and what it should
/// read afterwards.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/spar/reduce.h"

namespace propwright::spar {

/// What the builder accepts and can do.
struct Limits {
  /// Two spars count as alike when their EI differs by less, as a log ratio. 5 %: common practice.
  double tolerance = 0.05;
  double smallest_m = 0.0005;  ///< no width or depth is sanded below this
  double keep_root_m = 0.012;  ///< left alone at the clamp: the part that fits the hub tube
  double step_m =
      0;  ///< per face; rounded to it unless below three quarters of one. 0: not rounded
};

/// What to do to one spar. Amounts are found by small-deflection theory over the whole taper, the
/// target readings by the bent beam (deflection.h) with the spar's own modulus. Where a cut is a
/// first step: of a difference of more than twice the tolerance only 70 % is taken at once, since
/// wood cannot be put back; and never so much that, two sigma of doubt against it, the spar could
/// end up softer than its partner by more than the tolerance.
/// Faces in the spar's own directions: 0 = top and bottom with the mark
/// up, 90 = the two sides. A round spar is sanded all round: both are the same.
struct Cut {
  std::string id = {};
  double remove_0_per_face_m = 0, remove_90_per_face_m = 0;
  double from_m = 0, to_m = 0;                             ///< the part of the spar, from the clamp
  double target_reading_0_m = 0, target_reading_90_m = 0;  ///< what the rig's scale should show
  double target_sigma_0_m = 0, target_sigma_90_m = 0;  ///< 1-sigma of one reading about the target
  bool is_first_step = false;  ///< less than the whole difference on purpose: measure, then go on
  Taper after = {};            ///< the spar's sizes once sanded
};

/// The spar's sizes after a cut: each face loses its thickness over the cut's part, with a run-out
/// of 3 mm (a tenth of the part where that is less) at an end that is not the clamp or the tip.
Taper sanded(const Taper& taper, const Cut& cut);

}  // namespace propwright::spar
