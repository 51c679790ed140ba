#include "propwright/spar/sanding.h"

#include <algorithm>
#include <cmath>

namespace propwright::spar {
namespace {

/// How much of the thickness is gone at x: 1 on the cut's part, running out at its inner ends.
double share_removed(const Cut& cut, double x_m, double length_m, double run_out_m) {
  if (x_m < cut.from_m || x_m > cut.to_m) return 0;
  const double from_root = cut.from_m > 0 ? (x_m - cut.from_m) / run_out_m : 1;
  const double from_end = cut.to_m < length_m ? (cut.to_m - x_m) / run_out_m : 1;
  return std::min({from_root, from_end, 1.0});
}

}  // namespace

Taper sanded(const Taper& taper, const Cut& cut) {
  const double length = length_m(taper);
  const double run_out = std::min(0.003, 0.1 * (cut.to_m - cut.from_m));
  std::vector<double> places{cut.from_m, cut.to_m};
  if (cut.from_m > 0) places.push_back(cut.from_m + run_out);
  if (cut.to_m < length) places.push_back(cut.to_m - run_out);
  for (const Station& station : taper.stations) places.push_back(station.x_m);
  std::sort(places.begin(), places.end());
  Taper result;
  for (const double x : places) {
    if (!result.stations.empty() && x - result.stations.back().x_m < 1e-9 * length) continue;
    Station station{x, section_at(taper, x)};
    const double share = share_removed(cut, x, length, run_out);
    station.section.depth_m -= 2 * share * cut.remove_0_per_face_m;
    station.section.width_m -= 2 * share * cut.remove_90_per_face_m;
    result.stations.push_back(station);
  }
  return result;
}

}  // namespace propwright::spar
