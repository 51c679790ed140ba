#include <boost/math/tools/minima.hpp>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/flight/flight.h"

namespace propwright::flight {

double DragPolar::cd(double cl, double speed_m_s) const {
  const double off = cl - profile_cl_at_min;
  const double profile = profile_cd_min + profile_curvature * off * off;
  return profile * std::sqrt(reference_speed_m_s / speed_m_s) + induced_factor * cl * cl + extra_cd;
}

void DragPolar::scale(double factor) {
  profile_cd_min *= factor;
  profile_curvature *= factor;
  induced_factor *= factor;
  extra_cd *= factor;
}

namespace {

/// Straight glide at one CL: tan(gamma) = CD/CL, W cos(gamma) = rho/2 V^2 S CL. The drag's weak
/// dependence on speed converges in a few rounds.
BestGlide glide_at(const Airframe& airframe, double cl, double weight_N, double density_kg_m3) {
  double speed = airframe.drag.reference_speed_m_s;
  double angle = 0;
  for (int i = 0; i < 30; ++i) {
    angle = std::atan(airframe.drag.cd(cl, speed) / cl);
    const double next =
        std::sqrt(2 * weight_N * std::cos(angle) / (density_kg_m3 * airframe.wing_area_m2 * cl));
    const bool settled = std::abs(next - speed) < 1e-12 * next;
    speed = next;
    if (settled) break;
  }
  return {speed * std::sin(angle), cl, speed};
}

}  // namespace

BestGlide best_glide(const Airframe& airframe, double all_up_mass_kg, double density_kg_m3) {
  const double weight = all_up_mass_kg * base::gravity_m_s2;
  const auto sink = [&](double cl) {
    return glide_at(airframe, cl, weight, density_kg_m3).sink_m_s;
  };
  // Over every lift coefficient a thin section could give, so that no trim can do better.
  const auto [cl, least] = boost::math::tools::brent_find_minima(sink, 0.05, 2.5, 40);
  (void)least;
  return glide_at(airframe, cl, weight, density_kg_m3);
}

}  // namespace propwright::flight
