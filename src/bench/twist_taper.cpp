// A tapered spar in torsion.
#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "check.h"
#include "propwright/bench/twist_test.h"

namespace propwright::bench {
namespace {

spar::Taper thickened(spar::Taper taper, double by_m) {
  for (spar::Station& s : taper.stations) {
    s.section.width_m += by_m;
    s.section.depth_m += by_m;
  }
  return taper;
}

/// Panels between stations are smooth; 1/J goes with the fourth power of a size that runs straight,
/// and 15 points leave 1e-9 even where it falls to a quarter.
double integral_per_J(const spar::Taper& taper, double to_m) {
  double sum = 0;
  for (std::size_t i = 1; i < taper.stations.size(); ++i) {
    const double from = taper.stations[i - 1].x_m, to = std::min(to_m, taper.stations[i].x_m);
    if (to <= from) break;
    sum += boost::math::quadrature::gauss<double, 15>::integrate(
        [&](double x) { return 1 / spar::torsion_constant_m4(spar::section_at(taper, x)); }, from,
        to);
  }
  return sum;
}

}  // namespace

base::Expected<Figure> torsion_integral_per_m3(const spar::Taper& taper, double to_m,
                                               double size_sigma_m) {
  Checks checks;
  checks.add(spar::problems(taper));
  if (!checks.sound()) return base::fail(checks.take());
  const double length = spar::length_m(taper);
  checks.within(to_m, least_length_m, length, "length_m", in_mm(to_m),
                "0.1 mm to the spar's length, " + in_mm(length),
                "measure from the clamp to the arm");
  double least = greatest_length_m;
  for (const spar::Station& s : taper.stations) {
    least = std::min({least, s.section.width_m, s.section.depth_m});
  }
  checks.within(size_sigma_m, 0, least / 4, "size_sigma_m", in_mm(size_sigma_m),
                "0 to a quarter of the least size", "give the micrometer's 1-sigma");
  if (!checks.sound()) return base::fail(checks.take());
  const double thin = integral_per_J(thickened(taper, -size_sigma_m), to_m);
  const double thick = integral_per_J(thickened(taper, size_sigma_m), to_m);
  return Figure{integral_per_J(taper, to_m), (thin - thick) / 2};
}

}  // namespace propwright::bench
