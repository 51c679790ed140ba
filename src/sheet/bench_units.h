/// The units the bench prints in: one unit and number of decimals for each kind of quantity.
#pragma once

#include "quantity.h"

namespace propwright::sheet {

struct BenchUnits {
  explicit BenchUnits(units::Profile profile)
      : metric(profile == units::Profile::metric),
        distance(length(metric, "mm", 1, "in", 2)),
        size(length(metric, "mm", 2, "thou", 1)),
        other_size(length(!metric, "mm", 2, "thou", 1)),
        reading(length(metric, "mm", 2, "thou", 0)),
        removal(length(metric, "mm", 3, "thou", 1)) {}

  bool metric;
  PrintUnit distance;    ///< along a spar
  PrintUnit size;        ///< across a spar
  PrintUnit other_size;  ///< the same in the other profile
  PrintUnit reading;     ///< of a deflection
  PrintUnit removal;     ///< off a face
  PrintUnit mass{units::Dimension::mass, "mg", 1};
  PrintUnit load{units::Dimension::mass, "g", 3};
  PrintUnit modulus{units::Dimension::modulus, "GPa", 2};
  PrintUnit stiffness{units::Dimension::bending_stiffness, "N.mm2", 0};

 private:
  static PrintUnit length(bool first, const char* mm, int mm_decimals, const char* inch,
                          int inch_decimals) {
    const auto dimension = units::Dimension::length;
    return first ? PrintUnit{dimension, mm, mm_decimals}
                 : PrintUnit{dimension, inch, inch_decimals};
  }
};

}  // namespace propwright::sheet
