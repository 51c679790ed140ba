/// How a spar may sit in the hub, and how two spars compare so.
#pragma once

#include <array>

#include "propwright/spar/pairs.h"

namespace propwright::spar {

/// One way of mounting, with the stiffness it gives in the propeller's two directions.
struct Mounting {
  double turn_deg = 0;
  Stiffness flap = {}, edge = {};
};

/// The usual way first, the same turned by a quarter second.
std::array<Mounting, 2> mountings(const Measured& measured);

/// Two spars in the mounting that makes them most alike.
struct Mounted {
  Mounting a = {}, b = {};
  Comparison flap = {}, edge = {};
  double cost = 0;  ///< sum of the two squared log ratios
};

Mounted most_alike(const std::array<Mounting, 2>& a, const std::array<Mounting, 2>& b);

}  // namespace propwright::spar
