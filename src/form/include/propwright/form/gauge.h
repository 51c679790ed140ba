/// Cards and blocks to check a blade's angle by, and what an error of angle means for the pitch.
#pragma once

#include <optional>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/form.h"

namespace propwright::form {

/// Relative error of the local pitch for a small error of angle: dP/P = 2 dbeta / sin(2 beta), from
/// P = 2 pi r tan(beta). Here for one degree; 3.49 % at 45 degrees, the least anywhere. angle_rad
/// in (0, pi/2).
double pitch_error_per_degree(double angle_rad);

/// The three pitches of a station, never mixed: what the form has, what a gauge reads once the
/// blade is set, and what it has in flight, twisted by its load.
struct AngleRow {
  double radius_m = 0;
  double form_angle_rad = 0, form_pitch_m = 0;
  double set_angle_rad = 0, set_pitch_m = 0;
  std::optional<double> flying_angle_rad = {}, flying_pitch_m = {};
  double pitch_error_per_degree = 0;  ///< relative, of the set pitch
  bool is_least_error = false;        ///< the row whose set angle is nearest to 45 degrees
};

/// A row of the table to be made: angles from the disc plane.
struct StationAngles {
  double radius_m = 0, form_angle_rad = 0, set_angle_rad = 0;
  std::optional<double> flying_angle_rad = {};
};

/// Problem: bad_input naming the radius (> 0) or the angle (between 0 and 90 degrees) out of range.
base::Expected<std::vector<AngleRow>> angle_table(const std::vector<StationAngles>& stations);

/// What a gauge card checks.
struct GaugePoint {
  double radius_m = 0;
  double angle_rad = 0;  ///< to be read there, between 3 and 87 degrees
};

/// A card stood on the bench across the blade at the radius, seen from the tip towards the shaft:
/// the foot on the disc plane, the blade's flat against the sloping edge. The slope is `edge_m`
/// long and begins `foot_m` above the bench. The leading edge is at the high end, on the right for
/// clockwise. On it the radius, the angle, the pitch they give, the 45-degree line, and the radius
/// of the 45-degree station of that pitch. Problem: bad_input for a radius, angle or edge (10 mm to
/// 300 mm) out of range.
base::Expected<Template> gauge_card(const GaugePoint& point, Hand hand, double edge_m,
                                    double foot_m);

/// A right-angled block, to be cut from sheet: base and upright meet at a right angle, the blade
/// lies on the long side, `edge_m` long. Either hand: turned over it serves the other. Problems as
/// gauge_card.
base::Expected<Template> angle_block(const GaugePoint& point, double edge_m);

}  // namespace propwright::form
