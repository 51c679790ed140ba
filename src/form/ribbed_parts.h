/// Inside of the ribbed form: its layout, its parts, and how they are nested. Everything is drawn
/// with the leading edge at positive u (= y of a clockwise form) and handed at the end.
#pragma once

#include <utility>
#include <vector>

#include "propwright/form/ribbed.h"

namespace propwright::form::ribbed {

using PlanePoint = std::pair<double, double>;
using PlanePoints = std::vector<PlanePoint>;

/// A rib's top edge (u, height above the base), trailing to leading end.
struct Section {
  double radius_m = 0;
  PlanePoints top;
  double trail_m = 0, lead_m = 0;            ///< ends of the top in u
  double foot_trail_m = 0, foot_lead_m = 0;  ///< ends of the foot, widened where too narrow
  double shoulder_m = 0;                     ///< height of a widened foot
};

/// A gap or a tab in a straight edge.
struct Notch {
  double from_m = 0, to_m = 0;
  double level_m = 0;  ///< above the edge: a slot; below: a tab
};

struct Layout {
  const Surface* surface = nullptr;
  RibbedOptions options;
  double slot_m = 0, spar_height_m = 0;
  std::vector<Section> sections;
  std::vector<RibbedSpine> spines;
};

/// Height of the surface at (radius, u) over the disc plane through the spar line, m; beyond the
/// section's ends that of the end, beyond root or tip that of the last section.
double surface_height_m(const Layout& layout, double radius_m, double u_m);

/// A spine's top edge above the base, m: below the surface over the whole thickness.
double spine_edge_m(const Layout& layout, double radius_m, double offset_m);

RibbedPart rib_part(const Layout& layout, std::size_t index);
RibbedPart spine_part(const Layout& layout, std::size_t index);
RibbedPart base_part(const Layout& layout);

/// Parts on pages, shelf upon shelf along the page's longer side, the tallest first. Problem:
/// ribbed.page for a part that does not fit.
base::Expected<std::vector<RibbedPage>> nested(const std::vector<RibbedPart>& parts,
                                               const RibbedOptions& options, Hand hand);

}  // namespace propwright::form::ribbed
