/// The ribbed form: an egg-crate of ribs, a spine or two and a base plate, cut from one sheet, on
/// which the wetted blade is bent. Ribs stand square to the spar line; their top edges are sections
/// of the form's surface, over-bend included. Ribs and spines are half-lapped, ribs from below,
/// spines from above, so that a rib's top edge is whole; both stand on the base with tabs through
/// it. Heights are above the base plate's upper face, which is parallel to the disc plane; up is
/// the way the model flies.
#pragma once

#include <cstddef>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/surface.h"

namespace propwright::form {

/// Defaults are common practice.
struct RibbedOptions {
  std::vector<double> stations_m = {};  ///< radii of the ribs, rising; empty: even from root to tip
  int ribs = 0;              ///< even ones, 3..80; 0: from the spacing. Not used with stations
  double spacing_m = 0.020;  ///< at most this from rib to rib, where neither of them is given
  int spines = 0;            ///< 1 along the spar line, 2 to either side; 0: 2 for a rib over 80 mm
  double sheet_m = 0.002;    ///< thickness of all parts, 0.5 to 6 mm
  double fit_m = 0;  ///< slots and holes are drawn wider than the sheet by this, -0.5 to 0.5 mm;
                     ///< below 0 makes good the width of a laser's beam
  double least_height_m = 0.012;    ///< of any rib's top above the base, 5 to 100 mm
  double edge_allowance_m = 0.004;  ///< rib beyond the blade's edges, along the section, 0 to 30 mm
  double page_width_m = 0.210, page_height_m = 0.297;  ///< sheet or laser's bed, 0.1 to 3 m
  double margin_m = 0.010;                             ///< kept free round the page, 0 to 50 mm
  double gap_m = 0.004;                                ///< between nested parts, 0.5 to 20 mm
};

struct RibbedRib {
  double radius_m = 0, angle_rad = 0;
  double width_m = 0;   ///< of the top edge in plan
  double height_m = 0;  ///< of its highest point
  double bevel_m = 0;   ///< the most a face stands above the surface: sand down to the middle
};

struct RibbedSpine {
  double offset_m = 0;                ///< from the spar line, positive to the leading edge
  std::size_t first = 0, last = 0;    ///< the ribs it crosses
  std::vector<double> lap_height_m;   ///< of each: rib above it, spine below
  std::vector<double> edge_height_m;  ///< of each: the spine's own top edge
};

enum class RibbedKind { rib, spine, base };

/// Its drawing, as it is cut: closed cut lines, first the outline, then holes. A rib is seen from
/// the tip, x from the spar line to the leading edge; a spine from the trailing side, x the radius;
/// the base from above, x the radius, y to the leading edge. These are a clockwise form's; for
/// anticlockwise x changes sign. y is the height above the base for ribs and spines.
struct RibbedPart {
  RibbedKind kind = RibbedKind::rib;
  int number = 0;      ///< ribs from 1 at the root, spines from 1; the base 1
  double place_m = 0;  ///< a rib's radius, a spine's offset
  double area_m2 = 0;  ///< of sheet, holes left out
  Template drawing = {};
};

/// Where a part lies on a page: its box, and whether it is turned a quarter to the left.
struct NestedPart {
  std::size_t part = 0;  ///< index
  double x_m = 0, y_m = 0, width_m = 0, height_m = 0;
  bool turned = false;
};

/// A page from (0, 0) to (width, height).
struct RibbedPage {
  double width_m = 0, height_m = 0;
  std::vector<NestedPart> parts;
  Template drawing;
};

struct Ribbed {
  Hand hand = Hand::clockwise;
  double sheet_m = 0, slot_m = 0;  ///< thickness of the sheet, width of slots as drawn
  double spar_height_m = 0;        ///< spar line above the base
  std::vector<RibbedRib> ribs;
  std::vector<RibbedSpine> spines;
  std::vector<RibbedPart> parts;
  std::vector<RibbedPage> pages;
};

/// The surface must be laid across (std::invalid_argument otherwise). A rib too narrow for a spine,
/// near a steep root, stands on its tabs alone. Problem: bad_input naming the member out of range
/// as ribbed.stations, ribbed.ribs, ribbed.spacing (at least 8 mm and six thicknesses),
/// ribbed.spines, ribbed.sheet, ribbed.fit, ribbed.least_height, ribbed.edge_allowance,
/// ribbed.page, ribbed.margin or ribbed.gap; ribbed.angle for a blade steeper than 80 degrees at
/// the spar line or overhanging by more than 20; ribbed.page also for a part larger than the page.
base::Expected<Ribbed> ribbed_form(const Surface& surface, const RibbedOptions& options);

/// A part in its place: closed lines in the middle of its thickness, outline first, in the axes of
/// Surface (the spar line is y = z = 0).
struct AssembledPart {
  RibbedKind kind = RibbedKind::rib;
  int number = 0;
  double thickness_m = 0;
  Point normal = {};  ///< unit vector across the sheet
  std::vector<std::vector<Point>> loops;
};
std::vector<AssembledPart> assembled(const Ribbed& form);

}  // namespace propwright::form
