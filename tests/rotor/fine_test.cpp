// The fine mode: designs whose answer is known, refinement, and the states a flight meets.
#include "propwright/rotor/fine.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "blades.h"
#include "lifting_line.h"
#include "propwright/base/constants.h"

namespace propwright {
namespace {

using base::pi;
using rotor::FineRotor;
using section::Family;
using support::fixed_polar;
using support::helical_blade;
using support::room_air;

FineRotor usual_fine(const rotor::FineOptions& options = {}) {
  return FineRotor::make(helical_blade(), Family::thin_arc(), options).value();
}

// Betz: least loss where the wake moves back as a rigid sheet of one pitch, 2 pi (V + w/2)/Omega.
// Where every section sees W along that helix, Q Omega = T (V + w/2) and the efficiency is
// V/(V + w/2) exactly. The blade is made for that with sections at 4 degrees whose drag
// is next to nothing (1e-5).
TEST(FineRotor, FindsTheEfficiencyOfABladeOfLeastInducedLoss) {
  const double tip = 0.2, hub = 0.001 * tip, speed = 1, w = 0.2, lambda = 0.45;
  const double h = lambda * tip, omega = (speed + w / 2) / h;
  std::vector<double> x;
  for (int i = 0; i <= 300; ++i) {
    const double s = 1 - i / 300.0;
    x.push_back(0.0011 + 0.998899 * (1 - s * s) * (0.01 + 0.99 * (1 - s * s)));
  }
  for (const int blades : {2, 3, 4}) {
    const std::vector<double> g = rotor::least_loss_circulation(blades, lambda, x, 48);
    rotor::Blade blade;
    blade.blades = blades;
    blade.hub_radius_m = hub;
    blade.tip_radius_m = tip;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const double r = x[i] * tip, phi = std::atan2(h, r);
      const double flow = (speed + w / 2 * std::pow(std::cos(phi), 2)) / std::sin(phi);
      const double cl = 5.5 * 6 * base::degree_rad;  // fixed_polar at 4 degrees
      const double chord = 2 * g[i] * 2 * pi * h * w / blades / (flow * cl);
      blade.rows.push_back({r, std::max(chord, 0.0), phi + 4 * base::degree_rad, 0});
    }
    const auto made = FineRotor::make(blade, fixed_polar(5.5, 1e-5), {.stations = 48});
    ASSERT_TRUE(made.has_value()) << base::to_line(made.error().front());
    const FineRotor& fine = *made;
    const auto result = fine.solve({speed, omega / (2 * pi)}, room_air);
    ASSERT_TRUE(result.has_value()) << base::to_line(result.error().front());
    const rotor::Loads& loads = result->result.loads;
    // 2e-4: the blade between its rows, the circulation at 48 stations, drag (5e-5).
    EXPECT_NEAR(loads.thrust_N * speed / (loads.torque_Nm * omega), speed / (speed + w / 2), 2e-4)
        << blades;
    for (const auto& s : result->result.stations) {
      const double share = s.radius_m / tip;
      if (share < 0.1 || share > 0.98) continue;
      // The inflow it was made for, to 0.05 degree.
      EXPECT_NEAR(s.inflow_rad, std::atan2(h, s.radius_m), 1e-3) << blades << ' ' << share;
    }
    // Thrust of the optimum: rho Gamma against the turning velocity.
    double thrust = 0;
    for (std::size_t i = 1; i < x.size(); ++i) {
      const auto per_length = [&](std::size_t k) {
        const double r = x[k] * tip, phi = std::atan2(h, r);
        const double turning = omega * r - w / 2 * std::cos(phi) * std::sin(phi);
        return room_air.density_kg_m3 * g[k] * 2 * pi * h * w * turning;
      };
      thrust += (x[i] - x[i - 1]) * tip * (per_length(i) + per_length(i - 1)) / 2;
    }
    EXPECT_NEAR(loads.thrust_N / thrust, 1, 1e-3) << blades;  // trapezoids of 300 rows: 2e-4
  }
}

// Light loading: the blades' thrust, rho B Gamma Omega r summed, is the momentum of the far wake,
// rho V times the mean axial velocity B Gamma/(2 pi h) (Ampere, see helix_test.cpp) over the disc.
TEST(LiftingLine, ThrustIsTheMomentumOfTheWakeInLightLoading) {
  const double speed = 1.1, omega = 12, hub = 0.03, tip = 0.2, h = speed / omega;
  for (const int stations : {12, 24, 48}) {
    const rotor::LiftingLine line(2, hub, tip, stations);
    Eigen::VectorXd circulation(stations);
    double blades_thrust = 0;
    for (int i = 0; i < stations; ++i) {
      const auto k = static_cast<std::size_t>(i);
      const double r = line.controls()[k];
      circulation(i) = std::sqrt((r - hub) * (tip - r)) * (1 + 3 * r / tip);
      blades_thrust += line.loading_weights()[k] * 2 * circulation(i) * omega * r;
    }
    const Eigen::VectorXd shed = line.shed() * circulation;
    double momentum = 0, outside = 0;
    for (int j = stations; j > 0; --j) {
      const auto k = static_cast<std::size_t>(j);
      outside += shed(j);
      const double area = pi * (std::pow(line.nodes()[k], 2) - std::pow(line.nodes()[k - 1], 2));
      momentum += speed * 2 * outside / (2 * pi * h) * area;
    }
    EXPECT_NEAR(shed.sum(), 0, 1e-12);
    // Steps of equal circulation against a smooth curve: of the square of the spacing.
    EXPECT_NEAR(momentum / blades_thrust, 1, 1.0 / (stations * stations)) << stations;
  }
}

TEST(FineRotor, ConvergesWithItsStations) {
  for (const double j : {1.2, 1.4, 1.6, 2.0, 2.2}) {
    const rotor::Condition at{j * 1.5 * 0.39, 1.5};
    const auto thrust = [&](int stations) {
      return usual_fine({.stations = stations}).solve(at, room_air).value().result.loads.thrust_N;
    };
    const double fine = thrust(48);
    const double scale = std::abs(fine);
    // The tip's chord runs to zero like a square root under a Reynolds number that does so too.
    EXPECT_NEAR(thrust(12), fine, 4e-3 * scale) << j;
    EXPECT_NEAR(thrust(24), fine, 1e-3 * scale) << j;
  }
}

TEST(FineRotor, ConvergesFastWhereTheSectionsAreSmooth) {
  const auto thrust = [&](int stations) {
    const auto rotor =
        FineRotor::make(helical_blade(), fixed_polar(), {.stations = stations}).value();
    return rotor.solve({0.9, 1.6}, room_air).value().result.loads.thrust_N;
  };
  const double fine = thrust(96);
  EXPECT_NEAR(thrust(12) / fine, 1, 1e-3);
  EXPECT_NEAR(thrust(24) / fine, 1, 3e-4);
  EXPECT_NEAR(thrust(48) / fine, 1, 1e-4);
}

TEST(FineRotor, SolvesFromCruiseThroughZeroThrustToWindmill) {
  const FineRotor rotor = usual_fine();
  double before = 1;
  bool windmill = false;
  for (double j = 1.0; j < 2.61; j += 0.05) {
    const auto fine = rotor.solve({j * 1.5 * 0.39, 1.5}, room_air);
    ASSERT_TRUE(fine.has_value()) << base::to_line(fine.error().front());
    EXPECT_LT(fine->result.loads.thrust_N, before) << j;  // falls steadily
    before = fine->result.loads.thrust_N;
    for (const auto& s : fine->result.stations) windmill |= s.state == rotor::State::windmill;
    // The models agree to 3 % of the loads or, about their zeros, of the loads at J = 1.2.
    EXPECT_NEAR(fine->difference.thrust_N, 0, std::max(0.03 * std::abs(before), 1e-4)) << j;
    EXPECT_EQ(fine->difference.thrust_N, before - fine->quick.thrust_N);
  }
  EXPECT_LT(before, 0);
  EXPECT_TRUE(windmill);
}

TEST(FineRotor, WithoutLoadAgreesWithTheQuickMode) {
  // Chord to nothing: no induction in either mode, the same section force per chord.
  rotor::Blade thin = helical_blade(0.195, 0.7, 1e-6);
  const auto rotor = FineRotor::make(thin, fixed_polar(), {}, {.stations = 100}).value();
  const auto fine = rotor.solve({0.9, 1.6}, room_air).value();
  // 100 Gauss points against 24 of the cosine rule on the same smooth load.
  EXPECT_NEAR(fine.result.loads.thrust_N / fine.quick.thrust_N, 1, 1e-3);
  EXPECT_NEAR(fine.result.loads.torque_Nm / fine.quick.torque_Nm, 1, 1e-3);
}

TEST(FineRotor, UndisturbedWakeIsTheLightLoadingLimit) {
  // A tenth of the chord: a tenth of the induced flow, and of the share by which it bends its wake.
  const auto thrust = [](double chord_m, rotor::Wake wake) {
    const auto rotor =
        FineRotor::make(helical_blade(0.195, 0.7, chord_m), fixed_polar(), {.wake = wake});
    return rotor->solve({0.9, 1.6}, room_air).value().result.loads.thrust_N;
  };
  const auto gap = [&](double chord_m) {
    return thrust(chord_m, rotor::Wake::own_flow) / thrust(chord_m, rotor::Wake::undisturbed) - 1;
  };
  EXPECT_GT(gap(0.05), 0.002);
  // Of second order in the chord: a first-order effect would leave a tenth.
  EXPECT_LT(gap(0.005) / gap(0.05), 0.05);
}

TEST(FineRotor, AtRestIsTheQuickModesSectionDrag) {
  const auto still = usual_fine().solve({1.0, 0}, room_air).value();
  EXPECT_EQ(still.result.loads.thrust_N, still.quick.thrust_N);
  EXPECT_EQ(still.difference.thrust_N, 0);
  EXPECT_FALSE(still.difference.efficiency_defined);
}

TEST(FineRotor, CountsTheArms) {
  rotor::Blade blade = helical_blade();
  const auto clean = FineRotor::make(blade, Family::thin_arc())->solve({0.9, 1.6}, room_air);
  blade.arm_diameter_m = 0.002;
  const auto armed = FineRotor::make(blade, Family::thin_arc())->solve({0.9, 1.6}, room_air);
  // The same rod in both modes.
  EXPECT_LT(armed->result.loads.thrust_N, clean->result.loads.thrust_N);
  EXPECT_NEAR(armed->difference.thrust_N, clean->difference.thrust_N, 1e-12);
}

TEST(FineRotor, DeepStallIsAProblemWithStationAndCondition) {
  // Standing still with a pitch of 1.8 diameters nearly the whole blade is stalled.
  const auto fine = usual_fine().solve({0, 1.5}, room_air);
  ASSERT_FALSE(fine.has_value());
  const base::Problem& problem = fine.error().front();
  EXPECT_EQ(problem.kind, base::Kind::no_solution);
  EXPECT_THAT(problem.field, testing::HasSubstr("blade station at"));
  EXPECT_THAT(problem.value, testing::HasSubstr("1.500 rev/s"));
}

TEST(FineRotor, RefusesWhatIsOutOfRange) {
  EXPECT_FALSE(FineRotor::make(helical_blade(), Family::thin_arc(), {.stations = 5}).has_value());
  rotor::Blade many = helical_blade();
  many.blades = 7;
  EXPECT_FALSE(FineRotor::make(many, Family::thin_arc()).has_value());
  EXPECT_FALSE(usual_fine().solve({-1, 1}, room_air).has_value());
}

}  // namespace
}  // namespace propwright
