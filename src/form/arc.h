/// The circular camber arc over a chord, from -c/2 to c/2, height 0 at both ends.
#pragma once

namespace propwright::form {

struct ArcPoint {
  double along_m = 0, height_m = 0;
};

/// Point of the arc at t from -1 (one end) to 1 (other end), even steps of t along the arc.
ArcPoint arc_point(double chord_m, double camber, double t);

/// Height of the arc over the chord's point at `along_m` from its middle, m.
double arc_height_m(double chord_m, double camber, double along_m);

/// Share of the arc's length, from the end at -c/2, at the chord's point `along_m` from its middle.
double arc_share(double chord_m, double camber, double along_m);

}  // namespace propwright::form
