/// The cross-section of a spar and how it changes along the spar.
///
/// Directions. A spar carries a mark on one face. Direction 0 is the load through the marked face
/// ("mark up"): it bends the depth. Direction 90, the spar turned a quarter ("mark at the side"),
/// bends the width.
#pragma once

#include <optional>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::spar {

enum class Shape {
  square,          ///< width = depth when new; sanded on two faces it may become oblong
  rectangular,     ///< width and depth each measured
  round,           ///< circle of diameter width = depth; an ellipse where the two differ
  rounded_square,  ///< square or oblong with quarter-circle corners
};

/// One cross-section; sizes in m, above 0.
struct Section {
  Shape shape = Shape::square;
  double width_m = 0;          ///< across the marked direction
  double depth_m = 0;          ///< along the marked direction
  double corner_radius_m = 0;  ///< rounded_square only: 0 to half the smaller size
};

/// Second moments of area. In a tip load of direction 0 the stiffness is E * i_0_m4.
struct SecondMoments {
  double i_0_m4 = 0;   ///< bending the depth: w d^3/12 of a rectangle
  double i_90_m4 = 0;  ///< bending the width: d w^3/12
};

/// A place along the spar where the section is known.
struct Station {
  double x_m = 0;  ///< from the clamp (the root end of the free length)
  Section section = {};
};

/// A spar's outline: sections at two or more stations, sizes linear between them. The first
/// station is at 0, the last at the length.
struct Taper {
  std::vector<Station> stations = {};
};

double area_m2(const Section& section);

/// Exact for every shape.
SecondMoments second_moments(const Section& section);

/// Saint-Venant torsion constant J. Rectangle: the series (Timoshenko and Goodier), 1e-9; round
/// and ellipse: exact. Rounded corners: A^4/(k I_p), Saint-Venant's rule with its k taken between
/// the rectangle's and the ellipse's by the corner radius; within 1.5 % of finite differences for
/// sides up to 2 : 1.
double torsion_constant_m4(const Section& section);

/// A spar from two or three sizes; the middle one is at half the length.
Taper taper(const Section& root, const std::optional<Section>& middle, const Section& tip,
            double length_m);

double length_m(const Taper& taper);

/// Sizes between the stations; beyond the ends those of the end.
Section section_at(const Taper& taper, double x_m);

/// Exact: between stations the area is a quadratic of x.
double volume_m3(const Taper& taper);

/// Everything wrong with a taper: sizes below 0.01 mm or not finite, a size of a tenth of the
/// length or more, corners that do not fit, stations out of order. Fields: width_root_m,
/// depth_root_m, width_mid_m, depth_mid_m, width_tip_m, depth_tip_m, length_m; in a table of more
/// than three stations width_m[2] and so on, counted from 0.
base::Problems problems(const Taper& taper);

}  // namespace propwright::spar
