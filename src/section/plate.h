/// Fully separated flow over a thin plate at any angle.
#pragma once

namespace propwright::section {

struct PlateForce {
  double cl, cd;
};

/// Plate at angle alpha whose force is normal to its surface, with friction along the flow. The
/// growth of the normal force with sin(alpha) is Hoerner's 1/(0.222 + 0.283/sin alpha) (Fluid
/// Dynamic Drag, from memory), scaled so that it reaches `normal_cd` at 90 degrees.
PlateForce separated_plate(double alpha_rad, double normal_cd, double friction_cd);

}  // namespace propwright::section
