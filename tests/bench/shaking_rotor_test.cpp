// The shaking helper's estimate against the rotor's blade elements.
#include <gtest/gtest.h>

#include <cmath>

#include "bench_test_tools.h"
#include "blades.h"
#include "propwright/bench/shaking.h"
#include "propwright/data/data.h"
#include "propwright/rotor/rotor.h"

namespace propwright::bench {
namespace {

/// Moment of one blade's thrust about the shaft's centre, N m, all stations turned by `turn_rad`.
double blade_moment_Nm(const rotor::Rotor& rotor, const section::Family& family, double turn_rad,
                       const rotor::Condition& condition) {
  const rotor::Rotor turned = rotor.varied(family, {}, turn_rad);
  const auto stations = turned.stations();
  const auto result = turned.solve(condition, support::room_air).value();
  double sum = 0;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    sum += stations[i].weight_m * result.stations[i].thrust_N_per_m * stations[i].radius_m;
  }
  return sum / turned.blades();
}

// Each blade in its own half of the disc is the gentler of the two bounds on induction (two blades
// that share one annulus differ by half as much again): the estimate, which leaves induction to its
// lift slope, must lie within the factor of two that its description states.
TEST(ShakingRotor, AngleEstimateIsWithinAFactorOfTwoOfBladeElements) {
  const auto family =
      section::Family::read(data::file("polars/thin_arc_ns2d.csv"), "thin arcs").value();
  struct Example {
    double tip_m, pitch_m, chord_m, revs, speed_m_s;
  };
  for (const Example& e :
       {Example{0.23, 0.75, 0.055, 0.7, 0.4}, Example{0.152, 0.6, 0.06, 2.7, 1.2}}) {
    const rotor::Blade blade = support::helical_blade(e.tip_m, e.pitch_m, e.chord_m);
    const auto rotor = rotor::Rotor::make(blade, family).value();
    ShakingFlight flight{.revolutions_Hz = e.revs, .speed_m_s = e.speed_m_s};
    flight.tip_radius_m = e.tip_m;
    for (const rotor::Station& s : rotor.stations()) flight.blade_area_m2 += s.weight_m * s.chord_m;
    const rotor::Condition condition{e.speed_m_s, e.revs};
    const double exact = blade_moment_Nm(rotor, family, degree / 2, condition) -
                         blade_moment_Nm(rotor, family, -degree / 2, condition);
    const auto answer = shaking({.angle_difference_rad = Figure{degree, 0}}, flight).value();
    const double ratio = *answer.checks.front().moment_Nm / exact;
    EXPECT_GT(ratio, 0.5) << e.tip_m;
    EXPECT_LT(ratio, 2.0) << e.tip_m;
  }
}

}  // namespace
}  // namespace propwright::bench
