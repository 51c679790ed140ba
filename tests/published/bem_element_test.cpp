// Roots of the blade-element residual after Ning, Wind Energy 17 (2014) 1327-1345 (equations from
// memory), found to six digits outside this program (bem_element_computed.csv): Prandtl's factor
// with the element's own angle, linear lift, constant drag, no hub loss.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"
#include "simple_polars.h"
#include "test_data.h"

namespace propwright::rotor {
namespace {

using base::degree_rad;
using base::pi;

/// First station of a blade of constant chord and angle from `hub` to 1, at Omega R = 1/lambda, V
/// = 1.
StationResult first_station(double hub, const base::Table& t, std::size_t i) {
  const double chord = t.column("c_R")[i], angle = t.column("beta_deg")[i] * degree_rad;
  Blade blade;
  blade.rows = {{hub, chord, angle, 0}, {1, chord, angle, 0}};
  blade.blades = static_cast<int>(t.column("B")[i]);
  const auto polar = test::linear_family(t.column("cla_per_rad")[i], t.column("alpha0_rad")[i],
                                         std::max(t.column("cd")[i], 1e-5));
  const auto rotor = Rotor::make(blade, polar, {.tip_factor = TipFactor::prandtl});
  return rotor->solve({1, 1 / (t.column("lambda")[i] * 2 * pi)}, {}).value().stations.front();
}

TEST(BemElement, SixRootsOfTheResidual) {
  const auto t = test::published_table("bem_element_computed.csv",
                                       {"B", "x", "c_R", "beta_deg", "lambda", "cla_per_rad",
                                        "alpha0_rad", "cd", "phi_deg", "a", "a_prime", "cl", "F"});
  ASSERT_EQ(t.rows(), 6u);
  double worst = 0;
  for (std::size_t i = 0; i < t.rows(); ++i) {
    // A station comes to lie exactly at x: the first one's distance from the tip is a fixed share
    // of the blade's length.
    const double x = t.column("x")[i];
    const double share = (1 - first_station(0.8, t, i).radius_m) / 0.2;
    const StationResult s = first_station(1 - (1 - x) / share, t, i);
    ASSERT_NEAR(s.radius_m, x, 1e-12);
    // Six digits after the point in the table. The station's factor is a cubic table of the
    // formula, good to 1e-6 here; phi moves by at most 5 degrees per unit of it.
    EXPECT_NEAR(s.factor, t.column("F")[i], 5e-6) << "line " << t.line(i);
    EXPECT_NEAR(s.inflow_rad / degree_rad, t.column("phi_deg")[i], 2e-5) << "line " << t.line(i);
    EXPECT_NEAR(s.axial_induction, t.column("a")[i], 5e-6) << "line " << t.line(i);
    EXPECT_NEAR(s.cl, t.column("cl")[i], 5e-6) << "line " << t.line(i);
    worst = std::max(worst, std::abs(s.inflow_rad / degree_rad - t.column("phi_deg")[i]));
  }
  RecordProperty("worst_phi_error_deg", std::to_string(worst));
}

}  // namespace
}  // namespace propwright::rotor
