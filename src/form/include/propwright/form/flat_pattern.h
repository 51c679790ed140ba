/// The flat outline that a sheet is cut to before it is wetted and bent over a form. A form is not
/// developable: the pattern is chosen so that the sheet is strained least, and the strain is told.
#pragma once

#include <array>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/surface.h"

namespace propwright::form {

/// A place on the flat sheet: `along_m` from the shaft axis along the spar line, `across_m` from
/// the spar line, positive to the leading edge.
struct FlatPoint {
  double along_m = 0, across_m = 0;
};

enum class PatternMethod {
  geodesic,      ///< Fermi coordinates about the spar line: exact lengths along the spar and square
                 ///< to it (helicoid without camber, and forms of straight sections set across)
  least_strain,  ///< as rigid as possible, for every other form
};

/// How much the sheet must stretch to lie on the form: length on the form over length on the sheet,
/// the largest and the smallest over all directions.
struct Stretch {
  double largest = 1, smallest = 1;
};

/// Limits a sheet is judged by.
struct SheetLimit {
  /// Strain a wet sheet takes without waves or splits. 2 %: the upper end of the 1 to 2 % that
  /// softened wood can be stretched along the grain (Forest Products Laboratory, Wood Handbook,
  /// chapter on bending, hardwoods, from memory); squeezed it takes more as long as the binding
  /// holds it flat. No source was read for balsa or by thickness: try a strip of your own wood.
  double strain = 0.02;
};

struct PatternStation {
  double radius_m = 0;
  FlatPoint lead, spar, trail;
  FlatPoint arc_lead, arc_trail;  ///< of the plain pattern: each arc laid square to the spar
};

struct FlatPattern {
  PatternMethod method = PatternMethod::geodesic;
  Hand hand = Hand::clockwise;
  std::vector<PatternStation> stations;  ///< root to tip

  // The sheet as triangles.
  std::vector<FlatPoint> flat;
  std::vector<Point> space;  ///< where each vertex lies on the form
  std::vector<std::array<int, 3>> triangles;
  std::vector<Stretch> stretch;  ///< of each triangle

  double worst_stretch = 0;     ///< largest strain, 0.01 = 1 %
  double worst_squeeze = 0;     ///< most negative strain, as a positive number
  FlatPoint worst_at;           ///< middle of the triangle with the larger of the two
  double worst_radius_m = 0;    ///< its radius on the form
  double edge_estimate = 0;     ///< -K y^2/2 there, K of the spar line's point, without camber
  double area_ratio = 1;        ///< area on the form over area of the sheet
  double arc_difference_m = 0;  ///< largest distance of an edge from the plain pattern's
  bool within_limit = true;     ///< no strain beyond the limit
  int iterations = 0;           ///< of the least-strain method
};

struct PatternOptions {
  int stations = 48;  ///< 8..400 steps from root to tip
  int across = 12;    ///< 4..100 steps from edge to edge
  /// The least-strain method even where the geodesic one is exact, for comparison.
  bool least_strain = false;
  SheetLimit limit = {};
};

/// Pattern of the surface. Problem: bad_input naming the option out of range.
base::Expected<FlatPattern> flat_pattern(const Surface& surface,
                                         const PatternOptions& options = {});

/// Fermi coordinates, about the ruling psi = 0, of a point of the helicoid (r cos psi, r sin psi,
/// p psi): the place on the ruling from which a geodesic square to it reaches the point, and its
/// length (sign of psi). By Clairaut's relation (do Carmo 1976, section 4-4) and quadrature; 1e-12
/// relative for |psi| < 1. pitch_m > 0, radius_m > 0.
FlatPoint helicoid_fermi(double pitch_m, double radius_m, double psi_rad);

}  // namespace propwright::form
