// Known spars, read with noise: the stated 90 % interval must hold the truth nine times in ten.
#include <gtest/gtest.h>

#include "test_spars.h"

namespace propwright::spar {
namespace {

constexpr int cases = 2000;

double between(double low, double high, std::mt19937_64& random) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

Rig any_rig(std::mt19937_64& random) {
  Rig rig = test::usual_rig();
  rig.load_kg = between(0.2e-3, 0.4e-3, random), rig.load_at_m = between(0.11, 0.17, random);
  rig.read_at_m = between(0.11, 0.16, random);
  rig.follows = random() % 2 ? Follows::point_of_the_spar : Follows::fixed_distance;
  rig.zero = random() % 2 ? Zero::straight_line : Zero::unloaded_spar;
  rig.zero_reading_m = between(-0.002, 0.002, random);
  rig.repeatability_m = between(2e-5, 2e-4, random);
  rig.resolution_m = between(0, 2, random) * rig.repeatability_m;
  return rig;
}

struct Case {
  Spar spar;
  Rig rig;
  test::Wood wood;
  Readings readings;
};

/// A spar as it is, then as it is measured: sizes off by one common error, the load off by its own.
Case any_case(int repeats, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  Case c;
  c.rig = any_rig(random), c.rig.load_sigma_kg = between(0, 2e-6, random);
  c.wood = {between(1e9, 3e9, random), between(1e9, 3e9, random), between(65, 140, random)};
  const Shape shape = random() % 2 ? Shape::square : Shape::round;
  c.spar =
      test::usual_spar("1", between(0.9, 1.2, random), between(0.9, 1.2, random), shape, c.wood);
  c.spar.size_sigma_m = between(0, 1e-5, random);
  Rig true_rig = c.rig;
  true_rig.load_kg += c.rig.load_sigma_kg * normal(random);
  const Readings exact = test::exact_readings(c.spar, c.wood, true_rig);
  for (int k = 0; k < repeats; ++k) {
    c.readings.at_0_m.push_back(test::taken(exact.at_0_m[0], c.rig, random));
    c.readings.at_90_m.push_back(test::taken(exact.at_90_m[0], c.rig, random));
  }
  const double off = c.spar.size_sigma_m * normal(random);
  for (Station& s : c.spar.taper.stations) s.section.width_m += off, s.section.depth_m += off;
  return c;
}

bool holds(const Interval& interval, double truth) {
  return interval.low <= truth && truth <= interval.high;
}

TEST(Recovery, SingleReadingsHoldTheModulusNineTimesInTen) {
  std::mt19937_64 random(2026);
  int held_0 = 0, held_90 = 0;
  for (int k = 0; k < cases; ++k) {
    const Case c = any_case(1, random);
    const Measured m = reduce(c.spar, c.readings, c.rig).value();
    held_0 += holds(m.at_0.modulus_Pa, c.wood.modulus_0_Pa);
    held_90 += holds(m.at_90.modulus_Pa, c.wood.modulus_90_Pa);
  }
  // 90 +- 3 % of the cases, each direction.
  EXPECT_NEAR(held_0 / double(cases), 0.90, 0.03);
  EXPECT_NEAR(held_90 / double(cases), 0.90, 0.03);
}

TEST(Recovery, MeansOfRepeatsHoldItToo) {
  std::mt19937_64 random(7);
  int held = 0;
  for (int k = 0; k < cases; ++k) {
    const Case c = any_case(4, random);
    held += holds(reduce(c.spar, c.readings, c.rig).value().at_0.modulus_Pa, c.wood.modulus_0_Pa);
  }
  EXPECT_NEAR(held / double(cases), 0.90, 0.03);
}

TEST(Recovery, ARepeatabilityFoundFromThreeReadingsIsAllowedFor) {
  std::mt19937_64 random(99);
  std::normal_distribution<double> normal;
  int held = 0, would_hold = 0;
  const Spar spar = test::usual_spar("1");
  Rig truth = test::usual_rig();
  truth.repeatability_m = 5e-5;
  const Readings exact = test::exact_readings(spar, {}, test::usual_rig());
  for (int k = 0; k < cases; ++k) {
    std::vector<double> repeats;
    for (int i = 0; i < 3; ++i) repeats.push_back(test::taken(0.012, truth, random));
    const Calibration calibration = calibrate({repeats}, 0).value();
    Rig rig = truth;
    rig.repeatability_m = calibration.repeatability_m;
    rig.repeatability_freedom = calibration.freedom;
    const Readings readings{{test::taken(exact.at_0_m[0], truth, random)}, exact.at_90_m, {}};
    held += holds(reduce(spar, readings, rig).value().at_0.modulus_Pa, 1.5e9);
    rig.repeatability_freedom = 0;
    would_hold += holds(reduce(spar, readings, rig).value().at_0.modulus_Pa, 1.5e9);
  }
  EXPECT_NEAR(held / double(cases), 0.90, 0.03);
  // Taken as known, 1.645 sigma of Student's t with 2 degrees of freedom hold 76 %.
  EXPECT_NEAR(would_hold / double(cases), 0.76, 0.03);
}

}  // namespace
}  // namespace propwright::spar
