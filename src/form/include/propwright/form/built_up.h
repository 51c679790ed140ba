/// Parts of a built-up blade: ribs and how to slice them, the outline strip, the slots over the
/// spar. All on the blade as it is to be, without over-bend; sizes of the wood are the caller's.
#pragma once

#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/surface.h"

namespace propwright::form {

struct RibOptions {
  int count = 8;                ///< of one blade, 1..60
  double depth_m = 0.0012;      ///< of a rib, 0.1..10 mm
  double thickness_m = 0.0006;  ///< of the sheet the ribs are sliced from, 0.1..5 mm
  double strip_m = 0.0006;      ///< width of the outline strip on the blade, 0..5 mm
};

/// A rib stands square to the spar line, its chord between the edges of the outline.
struct Rib {
  int number = 0;  ///< from the root, 1 first
  double radius_m = 0, chord_m = 0, camber = 0;
  double arc_m = 0;         ///< along the arc, edge to edge
  double arc_radius_m = 0;  ///< of the arc; 0 where it is straight
  double trimmed_m = 0;     ///< along the arc between the inner faces of the outline strip, >= 0
  /// How far the cut at each end is off square, to lie along the strip.
  double lead_cut_rad = 0, trail_cut_rad = 0;
};

/// Radii of `count` ribs evenly spread between root and tip, none on either.
std::vector<double> rib_radii_m(double root_m, double tip_m, int count);

/// The ribs of a blade. Problem: bad_input naming the option out of range.
base::Expected<std::vector<Rib>> ribs(const Surface& blade, const RibOptions& options);

/// Slicing all ribs along one curved template that is moved on by the depth of a rib for each cut.
struct RibSlices {
  int slices = 0;            ///< ribs of all blades
  int cuts = 0;              ///< one more
  double blank_arc_m = 0;    ///< of the template: the longest rib with the spare at both ends
  double arc_radius_m = 0;   ///< of the template; 0 = straight
  double sheet_width_m = 0;  ///< of the sheet across the cuts, the arch included
  double depth_m = 0;        ///< of a slice, in whole steps
  int steps = 0;             ///< of the slicer for each slice
  /// Place of each cut from the first; each rounded to a step by itself, so that no error adds up.
  std::vector<double> stops_m;
  std::vector<double> cambers;  ///< what each rib gets from the one template, in order of the ribs
};
struct SliceOptions {
  int blades = 2;
  double step_m = 1e-5;    ///< of the slicer, 1 um..1 mm: 0.01 mm, or 0.001 in
  double spare_m = 0.003;  ///< at each end of a rib, 0..50 mm
};
/// The template's arc is that of least square error in camber: 1/R = 8 sum(k c)/sum(c^2), from the
/// arc's height c^2/8R (shallow). Problem: bad_input for a step that is more than the depth or out
/// of range.
base::Expected<RibSlices> rib_slices(const std::vector<Rib>& ribs, const RibOptions& wood,
                                     const SliceOptions& options);
/// The template of rib_slices: the arc to cut along, square ends, the middle marked, and a line
/// for each rib's length.
Template blank_template(const std::vector<Rib>& ribs, const RibSlices& slices, Hand hand);

/// A strip wrapped round the edge of a blade, from the root along the leading edge, round the tip
/// and back.
struct OutlineStrip {
  double length_m = 0;
  double cut_length_m = 0;       ///< with the allowance at both ends
  double tightest_radius_m = 0;  ///< of the edge, in space; 0 = nowhere bent
  double tightest_at_m = 0;      ///< radius of the blade there
  double bending_strain = 0;     ///< of the strip there: t/(2R + t)
  bool corner_at_tip = false;    ///< a tip with a chord: the strip is jointed there
};
/// strip_m: side of the square strip; allowance_m at each end, >= 0 (std::invalid_argument
/// otherwise). Length to 1e-5 of itself.
OutlineStrip outline_strip(const Surface& blade, double strip_m, double allowance_m);

/// A spar with straight taper, from its root end outwards.
struct SparTaper {
  double root_radius_m = 0, length_m = 0;
  double root_width_m = 0, root_depth_m = 0, tip_width_m = 0, tip_depth_m = 0;
};
/// The slot of a rib over the spar.
struct SparSlot {
  int rib = 0;
  double along_m = 0;               ///< from the spar's root end
  double width_m = 0, depth_m = 0;  ///< of the spar there
  bool through = false;             ///< the spar is deeper there than the rib
};
/// The ribs that the spar reaches.
std::vector<SparSlot> spar_slots(const std::vector<Rib>& ribs, const SparTaper& spar,
                                 double rib_depth_m);

}  // namespace propwright::form
