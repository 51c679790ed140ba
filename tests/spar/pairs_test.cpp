// The best pairs of a batch, and what is said of each.
#include "propwright/spar/pairs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>
#include <set>

#include "test_spars.h"

namespace propwright::spar {
namespace {

using test::measured;
using test::usual_rig;
using test::usual_spar;

/// A spar of which only the stiffness matters; 1-sigma of one reading 0.3 %.
Measured of_stiffness(const std::string& id, double ei_0, double ei_90, double sigma = 0.003) {
  Measured m = measured(usual_spar(id), usual_rig());
  for (auto [direction, ei] : {std::pair{&m.at_0, ei_0}, std::pair{&m.at_90, ei_90}}) {
    direction->ei_Nm2 = ei, direction->ei_sigma_relative = sigma;
  }
  return m;
}

double pair_cost(const Measured& a, const Measured& b) {
  const auto squares = [](double p, double q) { return p * p + q * q; };
  const double a_0 = std::log(a.at_0.ei_Nm2), a_90 = std::log(a.at_90.ei_Nm2);
  const double b_0 = std::log(b.at_0.ei_Nm2), b_90 = std::log(b.at_90.ei_Nm2);
  return std::min(squares(a_0 - b_0, a_90 - b_90), squares(a_0 - b_90, a_90 - b_0));
}

/// Least cost over all ways to pair up, by dynamic programming over subsets; of an odd batch one
/// may stay alone.
double least_cost(const std::vector<Measured>& batch) {
  const unsigned n = static_cast<unsigned>(batch.size()), all = (1u << n) - 1;
  // best[alone][taken]
  std::vector<std::vector<double>> best(2, std::vector<double>(all + 1, 1e9));
  best[0][0] = 0;
  for (unsigned taken = 0; taken < all; ++taken) {
    unsigned i = 0;
    while (taken >> i & 1u) ++i;
    for (unsigned alone = 0; alone < 2; ++alone) {
      const double here = best[alone][taken];
      if (n % 2 == 1 && alone == 0) {
        best[1][taken | 1u << i] = std::min(best[1][taken | 1u << i], here);
      }
      for (unsigned j = i + 1; j < n; ++j) {
        if (taken >> j & 1u) continue;
        double& next = best[alone][taken | 1u << i | 1u << j];
        next = std::min(next, here + pair_cost(batch[i], batch[j]));
      }
    }
  }
  return best[n % 2][all];
}

/// So wide that no advice is worked out: these tests are about the matching.
constexpr Limits any_will_do{.tolerance = 100};

RC_GTEST_PROP(Pairing, IsTheBestOfAllForUpToTenSpars, ()) {
  std::vector<Measured> batch;
  const int n = *rc::gen::inRange(0, 11);
  const double spread = *rc::gen::element(0.02, 0.2, 2.0);
  for (int i = 0; i < n; ++i) {
    batch.push_back(of_stiffness(std::to_string(i), 3e-4 * std::exp(test::drawn(-1, 1) * spread),
                                 3e-4 * std::exp(test::drawn(-1, 1) * spread)));
  }
  const Pairing pairing = pair(batch, usual_rig(), any_will_do);
  RC_ASSERT(pairing.pairs.size() == batch.size() / 2);
  RC_ASSERT(pairing.unpaired.size() == batch.size() % 2);
  // Costs are rounded to 1e-12 for the matching, five pairs.
  RC_ASSERT(std::abs(pairing.cost - least_cost(batch)) < 1e-11);
}

std::vector<Measured> random_batch(int n, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<Measured> batch;
  for (int i = 0; i < n; ++i) {
    batch.push_back(of_stiffness(std::to_string(i), 3e-4 * std::exp(0.1 * normal(random)),
                                 3e-4 * std::exp(0.1 * normal(random))));
  }
  return batch;
}

TEST(Pairing, OfTwoHundredNoSwapOfPartnersIsBetter) {
  const std::vector<Measured> batch = random_batch(200, 42);
  const Pairing pairing = pair(batch, usual_rig(), any_will_do);
  ASSERT_EQ(pairing.pairs.size(), 100u);
  std::set<std::string> seen;
  const auto spar = [&](const std::string& id) { return batch[std::stoul(id)]; };
  for (const Pair& p : pairing.pairs) seen.insert({p.a, p.b});
  EXPECT_EQ(seen.size(), 200u);
  for (const Pair& p : pairing.pairs) {
    for (const Pair& q : pairing.pairs) {
      if (p.a == q.a) continue;
      const double now = pair_cost(spar(p.a), spar(p.b)) + pair_cost(spar(q.a), spar(q.b));
      EXPECT_LE(now, pair_cost(spar(p.a), spar(q.a)) + pair_cost(spar(p.b), spar(q.b)) + 1e-11);
      EXPECT_LE(now, pair_cost(spar(p.a), spar(q.b)) + pair_cost(spar(p.b), spar(q.a)) + 1e-11);
    }
  }
}

TEST(Pairing, LeavesTheOneThatFitsNobody) {
  const std::vector<Measured> batch{of_stiffness("a", 3.00e-4, 3e-4),
                                    of_stiffness("odd", 5e-4, 2e-4),
                                    of_stiffness("b", 3.01e-4, 3e-4)};
  const Pairing pairing = pair(batch, usual_rig(), {});
  ASSERT_EQ(pairing.pairs.size(), 1u);
  EXPECT_EQ(pairing.pairs[0].a, "a");
  EXPECT_EQ(pairing.pairs[0].b, "b");
  EXPECT_THAT(pairing.unpaired, testing::ElementsAre("odd"));
}

TEST(Mounting, TurnsTheSecondByAQuarterWhereThatIsMoreAlike) {
  const Pair p =
      judge(of_stiffness("6", 3.3e-4, 3.0e-4), of_stiffness("10", 3.0e-4, 3.3e-4), usual_rig(), {});
  EXPECT_DOUBLE_EQ(p.turn_a_deg, 0);
  EXPECT_DOUBLE_EQ(p.turn_b_deg, 90);
  EXPECT_NEAR(p.flap.log_ratio, 0, 1e-12);
  EXPECT_NEAR(p.edge.log_ratio, 0, 1e-12);
  EXPECT_EQ(p.verdict, Verdict::matched);
}

/// A round spar measured in three directions.
Measured round_spar(const std::string& id, double ei_soft, double ei_stiff, double axis_deg) {
  Measured m = measured(usual_spar(id, 1, 1, Shape::round), usual_rig());
  const double middle = (1 / ei_soft + 1 / ei_stiff) / 2, swing = (1 / ei_soft - 1 / ei_stiff) / 2;
  const double angle = 2 * axis_deg * base::degree_rad;
  m.at_0.ei_Nm2 = 1 / (middle + swing * std::cos(angle));
  m.at_90.ei_Nm2 = 1 / (middle - swing * std::cos(angle));
  m.at_45 = m.at_0;
  m.at_45->ei_Nm2 = 1 / (middle + swing * std::sin(angle));
  m.axes.soft_axis_deg = axis_deg;
  m.axes.from_third_reading = m.axes.has_direction = true;
  return m;
}

TEST(Mounting, RoundSparsAreTurnedToTheirSoftAxes) {
  const Pair p =
      judge(round_spar("1", 3e-4, 3.6e-4, 25), round_spar("2", 3e-4, 3.6e-4, -50), usual_rig(), {});
  EXPECT_NEAR(p.turn_a_deg, 25, 1e-9);
  EXPECT_NEAR(p.turn_b_deg, -50, 1e-9);
  EXPECT_NEAR(p.mismatch, 0, 1e-12);
}

TEST(Verdict, MatchedNeedsTheDoubtToFitIntoTheToleranceToo) {
  // 1-sigma of the ratio: 1.0 % each, 1.41 % together.
  const auto near = [](double ratio) {
    return judge(of_stiffness("1", 3e-4 * std::exp(ratio), 3e-4, 0.01),
                 of_stiffness("2", 3e-4, 3e-4, 0.01), usual_rig(), {});
  };
  EXPECT_EQ(near(0.021).verdict, Verdict::matched);      // 2.1 + 2.83 = 4.93
  EXPECT_EQ(near(0.023).verdict, Verdict::cannot_tell);  // 2.3 + 2.83 = 5.13
  EXPECT_EQ(near(0.049).verdict, Verdict::cannot_tell);
  EXPECT_EQ(near(0.051).verdict, Verdict::sand);
  EXPECT_NEAR(near(0.023).sigma, std::sqrt(2.0) * 0.01, 1e-12);
}

TEST(Verdict, BelowTheNoiseNothingIsSanded) {
  const Pair p = judge(of_stiffness("1", 3e-4 * std::exp(0.06), 3e-4, 0.03),
                       of_stiffness("2", 3e-4, 3e-4, 0.03), usual_rig(), {});
  EXPECT_EQ(p.verdict, Verdict::cannot_tell);
  EXPECT_TRUE(p.cuts.empty());
}

TEST(Verdict, CountsTheReadingsThatWouldSettleIt) {
  Rig rig = usual_rig();
  rig.repeatability_m = 1.5e-4;
  const auto spar = [&](const std::string& id, double ei_0) {
    Measured m = of_stiffness(id, ei_0, 3e-4, 0.015);
    m.at_0.readings = m.at_90.readings = 2;
    return m;
  };
  const Pair p = judge(spar("1", 3e-4 * std::exp(0.02)), spar("2", 3e-4), rig, {});
  ASSERT_EQ(p.verdict, Verdict::cannot_tell);
  // 2 sqrt(2) 1.5 % sqrt(2/(2 + k)) <= 5 - 2 %: the smallest k is 2.
  EXPECT_EQ(p.more_readings, 2);
  EXPECT_THAT(p.reason, testing::HasSubstr("2 more times"));
}

TEST(Verdict, SaysWhenOnlyAFinerScaleHelps) {
  Rig rig = usual_rig();
  rig.resolution_m = 1e-3;  // no scatter: every repeat falls on the same step
  const Pair p =
      judge(of_stiffness("1", 3e-4, 3e-4, 0.03), of_stiffness("2", 3e-4, 3e-4, 0.03), rig, {});
  ASSERT_EQ(p.verdict, Verdict::cannot_tell);
  EXPECT_FALSE(p.more_readings.has_value());
  EXPECT_THAT(p.reason, testing::HasSubstr("finer scale"));
}

}  // namespace
}  // namespace propwright::spar
