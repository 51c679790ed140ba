#include "propwright/rotor/walk.h"

#include <gtest/gtest.h>

#include <vector>

#include "flex_blade.h"

namespace propwright {
namespace {

using flex_test::air;

std::vector<rotor::Condition> walk_states() {
  std::vector<rotor::Condition> states;
  for (int i = 0; i < 25; ++i) states.push_back({0.05 + 0.06 * i, 1.6});
  return states;
}

TEST(Walk, UntwistedLoadsAreThoseOfTheRigidRotorToTheLastDigit) {
  const rotor::Rotor rotor = flex_test::make_rotor();
  const auto states = walk_states();
  const auto rigid = rotor.solve_all(states, air).value();
  rotor::Walk walk(rotor, air, section::Family::thin_arc());
  const std::vector<double> straight(rotor.stations().size(), 0.0);
  for (std::size_t i = 0; i < states.size(); ++i) {
    ASSERT_TRUE(walk.evaluate(states[i], straight.data()));
    const rotor::Loads loads = walk.loads();
    EXPECT_EQ(loads.thrust_N, rigid[i].thrust_N);
    EXPECT_EQ(loads.torque_Nm, rigid[i].torque_Nm);
    EXPECT_EQ(loads.profile_power_W, rigid[i].profile_power_W);
    walk.accept();
  }
}

TEST(Walk, TwistedLoadsAreThoseOfARotorTurnedStationByStation) {
  const rotor::Rotor rotor = flex_test::make_rotor();
  std::vector<double> twist;
  for (const rotor::Station& s : rotor.stations()) twist.push_back(0.3 * s.radius_m);
  rotor::Walk walk(rotor, air, section::Family::thin_arc());
  for (const rotor::Condition& state : walk_states()) {
    ASSERT_TRUE(walk.evaluate(state, twist.data()));
    const auto turned = rotor.twisted(twist).solve(state, air).value();
    // The element solver's last step, up to 3e-4 rad, is taken to first order: 1e-5 of the loads.
    EXPECT_NEAR(walk.loads().thrust_N, turned.loads.thrust_N, 1e-5 * 0.02);
    EXPECT_NEAR(walk.loads().torque_Nm, turned.loads.torque_Nm, 1e-5 * 0.002);
    walk.accept();
  }
}

double total(const std::vector<double>& column) {
  double sum = 0;
  for (const double value : column) sum += value;
  return sum;
}

// The slopes leave out what the Reynolds number does to the inflow angle: a few per mille. Central
// differences over 2e-3 rad add what the element solver's last step leaves.
TEST(Walk, SlopesAreTheDifferencesOfTheForces) {
  const rotor::Rotor rotor = flex_test::make_rotor();
  const std::size_t n = rotor.stations().size();
  constexpr double step = 1e-3;
  for (const rotor::Condition& state :
       {rotor::Condition{0.8, 1.6}, {1.1, 1.6}, {0.6, 0.7}, {1.0, 0.3}, {1.0, 0}}) {
    std::vector<std::vector<rotor::StationForce>> at;
    for (const double turn : {-step, 0.0, step}) {
      rotor::Walk walk(rotor, air, section::Family::thin_arc());
      const std::vector<double> turned(n, turn);
      ASSERT_TRUE(walk.evaluate(state, turned.data()));
      at.push_back(walk.forces());
    }
    const auto compare = [&](auto value, auto slope, const char* name, double share) {
      std::vector<double> size, error;
      for (std::size_t i = 0; i < n; ++i) {
        const double difference = (at[2][i].*value - at[0][i].*value) / (2 * step);
        size.push_back(std::abs(difference));
        error.push_back(std::abs(at[1][i].*slope - difference));
      }
      EXPECT_LT(total(error), share * total(size))
          << name << " at " << state.speed_m_s << " m/s, " << state.rev_per_s << " rev/s";
    };
    using F = rotor::StationForce;
    compare(&F::thrust_N_per_m, &F::thrust_by_angle, "thrust", 0.01);
    compare(&F::drag_N_per_m, &F::drag_by_angle, "drag", 0.01);
    // The moment hardly changes with the angle, so that what Re does to it shows.
    compare(&F::moment_Nm_per_m, &F::moment_by_angle, "moment", 0.05);
    compare(&F::profile_W_per_m, &F::profile_by_angle, "profile power", 0.02);
  }
}

TEST(Walk, FirstOrderLoadsFollowASmallTwist) {
  const rotor::Rotor rotor = flex_test::make_rotor();
  const std::vector<double> straight(rotor.stations().size(), 0.0), more(straight.size(), 1e-3);
  rotor::Walk walk(rotor, air, section::Family::thin_arc());
  ASSERT_TRUE(walk.evaluate({1.0, 1.6}, straight.data()));
  const rotor::Loads expected = walk.loads_with(more.data());
  ASSERT_TRUE(walk.evaluate({1.0, 1.6}, more.data()));
  // A milliradian moves the loads by about 1 %; the error of the first order is a hundredth of it.
  EXPECT_NEAR(expected.thrust_N, walk.loads().thrust_N, 2e-4 * walk.loads().thrust_N);
  EXPECT_NEAR(expected.torque_Nm, walk.loads().torque_Nm, 2e-4 * walk.loads().torque_Nm);
}

}  // namespace
}  // namespace propwright
