/// Drawings of flat patterns and layout lines at true scale.
#pragma once

#include "propwright/form/cylinder.h"
#include "propwright/form/flat_pattern.h"
#include "propwright/form/form.h"

namespace propwright::form {

/// The sheet to be cut, radius upwards, as the blade is seen from behind the model with its hollow
/// face up: leading edge on the right for clockwise. Lines: the closed cut line, the spar line,
/// stations every 20 mm across the sheet, and the plain arc-length pattern dashed beside it.
Template pattern_template(const FlatPattern& pattern);

/// The line on the unrolled cylinder along which the blade's axis must lie, to be wrapped round the
/// cylinder with the print outwards: up the page along the cylinder's axis, root below. The sheet
/// lies on the outside, its hollow face inwards, so one looks at the face seen from in front of the
/// model: for a clockwise propeller the leading edge is on the left, must fall back towards the
/// tip, and so the axis leans to the left; for an anticlockwise one to the right. With it the
/// straight line of an even twist, for comparison.
Template layout_line_template(const LayoutLine& line, double cylinder_radius_m, Hand hand);

}  // namespace propwright::form
