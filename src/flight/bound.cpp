// E = t p(W w_min - W h_launch/t): constant power is the cheapest way to spend E, because the shaft
// power p(u) of an ideal disc is convex in the useful power u (Jensen).
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/flight/flight.h"

namespace propwright::flight {

namespace {

/// Shaft power of an ideal actuator disc (axial momentum theory, eta = 2/(1 + sqrt(1 + Tc))).
double disc_power_W(double useful_W, double speed_m_s, double area_m2, double density_kg_m3) {
  if (useful_W <= 0 || area_m2 <= 0) return useful_W;
  const double thrust = useful_W / speed_m_s;
  const double loading = thrust / (0.5 * density_kg_m3 * speed_m_s * speed_m_s * area_m2);
  return useful_W * (1 + std::sqrt(1 + loading)) / 2;
}

}  // namespace

double duration_bound_s(const Setup& setup, double largest_diameter_m) {
  const double mass = setup.airframe.mass_kg + setup.motor.mass_kg + setup.motor.spacer_mass_kg;
  const double weight = mass * base::gravity_m_s2;
  const double energy = rubber::energy_J(setup.motor, setup.motor.breaking_turns, 0);
  const BestGlide glide = best_glide(setup.airframe, mass, setup.density_kg_m3);
  const double area = base::pi * largest_diameter_m * largest_diameter_m / 4;
  const auto spare = [&](double time) {
    const double useful = weight * (glide.sink_m_s - setup.launch.height_m / time);
    return energy - time * disc_power_W(useful, glide.speed_m_s, area, setup.density_kg_m3);
  };
  const double without_motor = setup.launch.height_m / glide.sink_m_s;
  const double with_perfect_disc = (energy / weight + setup.launch.height_m) / glide.sink_m_s;
  if (spare(with_perfect_disc) >= 0) return with_perfect_disc;
  std::uintmax_t iterations = 80;
  const auto bracket =
      boost::math::tools::toms748_solve(spare, without_motor, with_perfect_disc,
                                        boost::math::tools::eps_tolerance<double>(45), iterations);
  return bracket.second;
}

}  // namespace propwright::flight
