// Torsion of solid rectangles: the Saint-Venant series (Timoshenko and Goodier, Theory of
// Elasticity; equal to the printed table at its three digits), torsion_rectangle.csv.
#include <gtest/gtest.h>

#include "propwright/spar/section.h"
#include "test_data.h"

namespace propwright::spar {
namespace {

TEST(TorsionOfRectangles, ConstantForEveryAspect) {
  const auto t = test::published_table("torsion_rectangle.csv", {"b_over_a", "beta"});
  ASSERT_EQ(t.rows(), 27u);
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const double b = t.column("b_over_a")[i];
    // Seven digits in the table.
    EXPECT_NEAR(torsion_constant_m4({Shape::rectangular, b, 1, 0}) / b, t.column("beta")[i], 1e-7);
    EXPECT_NEAR(torsion_constant_m4({Shape::rectangular, 1, b, 0}) / b, t.column("beta")[i], 1e-7);
  }
}

}  // namespace
}  // namespace propwright::spar
