#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/built_up.h"
#include "range_check.h"

namespace propwright::form {
namespace {

/// Between the edge of the blade and its section there, rad in (0, pi).
double edge_to_rib_rad(const Surface& blade, double radius_m, double share) {
  const double reach = blade.tip_m() - blade.root_m();
  const double step = 1e-5 * reach, dip = share > 0.5 ? -1e-5 : 1e-5;
  const Point out = blade.at(radius_m + step, share), in = blade.at(radius_m - step, share);
  const Point edge = blade.at(radius_m, share), inside = blade.at(radius_m, share + dip);
  const double a[3] = {out.x_m - in.x_m, out.y_m - in.y_m, out.z_m - in.z_m};
  const double b[3] = {inside.x_m - edge.x_m, inside.y_m - edge.y_m, inside.z_m - edge.z_m};
  double ab = 0, aa = 0, bb = 0;
  for (int i = 0; i < 3; ++i) {
    ab += a[i] * b[i];
    aa += a[i] * a[i];
    bb += b[i] * b[i];
  }
  return std::acos(std::clamp(ab / std::sqrt(aa * bb), -1.0, 1.0));
}

base::Problems problems_of(const RibOptions& options) {
  base::Problems problems;
  check_count("ribs.count", options.count, 1, 60, problems);
  check_length("ribs.depth", options.depth_m, 1e-4, 0.010, problems);
  check_length("ribs.thickness", options.thickness_m, 1e-4, 0.005, problems);
  check_length("ribs.strip", options.strip_m, 0, 0.005, problems);
  return problems;
}

}  // namespace

std::vector<double> rib_radii_m(double root_m, double tip_m, int count) {
  std::vector<double> radii;
  for (int i = 1; i <= count; ++i) radii.push_back(root_m + (tip_m - root_m) * i / (count + 1));
  return radii;
}

base::Expected<std::vector<Rib>> ribs(const Surface& blade, const RibOptions& options) {
  if (base::Problems problems = problems_of(options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  std::vector<Rib> all;
  for (const double radius_m : rib_radii_m(blade.root_m(), blade.tip_m(), options.count)) {
    Rib rib{.number = static_cast<int>(all.size()) + 1,
            .radius_m = radius_m,
            .chord_m = blade.chord_m(radius_m),
            .camber = blade.camber(radius_m),
            .arc_m = blade.sheet_width_m(radius_m)};
    const double k = rib.camber;
    if (k > 0) rib.arc_radius_m = rib.chord_m * (1 + 4 * k * k) / (8 * k);
    const double lead = edge_to_rib_rad(blade, radius_m, 1),
                 trail = edge_to_rib_rad(blade, radius_m, 0);
    rib.lead_cut_rad = base::pi / 2 - lead;
    rib.trail_cut_rad = base::pi / 2 - trail;
    rib.trimmed_m =
        std::max(0.0, rib.arc_m - options.strip_m * (1 / std::sin(lead) + 1 / std::sin(trail)));
    all.push_back(rib);
  }
  return all;
}

std::vector<SparSlot> spar_slots(const std::vector<Rib>& ribs, const SparTaper& spar,
                                 double rib_depth_m) {
  std::vector<SparSlot> slots;
  for (const Rib& rib : ribs) {
    const double along = rib.radius_m - spar.root_radius_m;
    if (!(along >= 0 && along <= spar.length_m)) continue;
    const double share = spar.length_m > 0 ? along / spar.length_m : 0;
    const double depth = spar.root_depth_m + share * (spar.tip_depth_m - spar.root_depth_m);
    slots.push_back({.rib = rib.number,
                     .along_m = along,
                     .width_m = spar.root_width_m + share * (spar.tip_width_m - spar.root_width_m),
                     .depth_m = depth,
                     .through = depth > rib_depth_m});
  }
  return slots;
}

}  // namespace propwright::form
