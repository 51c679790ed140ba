#include "propwright/learn/posterior.h"

#include <gtest/gtest.h>

#include <cmath>
#include <utility>

namespace propwright::learn {
namespace {

constexpr double slopes[6][2] = {{0.05, 0.02}, {0.04, -0.03}, {0.06, 0.01},
                                 {0.05, 0.05}, {0.03, -0.02}, {0.05, 0.00}};

/// Two parameters, a straight model: time = 6.5 + slopes z.
std::vector<std::optional<Outcome>> straight(const std::vector<Query>& queries) {
  std::vector<std::optional<Outcome>> all;
  for (const Query& q : queries) {
    Outcome outcome{};
    outcome[0] = 6.5 + slopes[q.flight % 6][0] * q.z[0] + slopes[q.flight % 6][1] * q.z[1];
    all.emplace_back(outcome);
  }
  return all;
}

std::vector<Observed> observed(const std::vector<double>& values) {
  std::vector<Observed> all;
  for (std::size_t i = 0; i < values.size(); ++i) {
    all.push_back({.readings = {{Kind::duration, values[i], 0.04}},
                   .weight = 1,
                   .parameters = {0, 1},
                   .slopes_of = i});
  }
  return all;
}

const std::vector<double> times{6.56, 6.51, 6.60, 6.58, 6.49, 6.55};

TEST(Posterior, NormalCaseIsTheConjugateOne) {
  Beliefs beliefs;
  beliefs.tail_freedom = 1e9;
  beliefs.scatter_spread = 0;
  const auto posterior = learn(2, observed(times), straight, beliefs);
  ASSERT_TRUE(posterior);
  Eigen::Matrix2d normal = Eigen::Matrix2d::Identity();
  Eigen::Vector2d right = Eigen::Vector2d::Zero();
  for (int i = 0; i < 6; ++i) {
    const Eigen::Vector2d j(slopes[i][0], slopes[i][1]);
    normal += j * j.transpose() / 0.0016;
    right += j * (times[static_cast<std::size_t>(i)] - 6.5) / 0.0016;
  }
  // Rounding, and 1e9 for infinity.
  EXPECT_LT((posterior->mode - normal.inverse() * right).norm(), 1e-7);
  EXPECT_LT((posterior->covariance - normal.inverse()).norm(), 1e-7);
  EXPECT_TRUE(posterior->converged);
}

TEST(Posterior, ModeIsTheLowestPointOfTheHeavyTailedDensity) {
  Beliefs beliefs;
  beliefs.scatter_spread = 0;
  std::vector<double> values = times;
  values[3] = 6.2;
  const auto posterior = learn(2, observed(values), straight, beliefs);
  ASSERT_TRUE(posterior);
  const auto objective = [&](double a, double b) {
    double sum = 0.5 * (a * a + b * b);
    for (int i = 0; i < 6; ++i) {
      const double r =
          (values[static_cast<std::size_t>(i)] - 6.5 - slopes[i][0] * a - slopes[i][1] * b) / 0.04;
      sum += 2.5 * std::log1p(r * r / 4);
    }
    return sum;
  };
  const double a = posterior->mode[0], b = posterior->mode[1];
  // The steps end within a thousandth; a hundredth to any side must be uphill.
  for (int side = 0; side < 8; ++side) {
    const double angle = side * 0.785398;
    EXPECT_GT(objective(a + 0.01 * std::cos(angle), b + 0.01 * std::sin(angle)), objective(a, b));
  }
}

TEST(Posterior, OfABentModelTheModeIsItsLowestPointAndFewSlopesAreFlown) {
  int slopes_flown = 0;
  // Far off and bent: the slopes at the sheet are half or twice those at the mode.
  const auto time = [](std::size_t i, double a, double b) {
    return 6.5 + slopes[i % 6][0] * (a + 0.15 * a * a) + slopes[i % 6][1] * b * (1 - 0.1 * a);
  };
  const Fly bent = [&](const std::vector<Query>& queries) {
    std::vector<std::optional<Outcome>> all;
    for (const Query& q : queries) {
      slopes_flown += q.slope ? 1 : 0;
      all.emplace_back(Outcome{time(q.flight, q.z[0], q.z[1])});
    }
    return all;
  };
  std::vector<double> values;
  for (std::size_t i = 0; i < 6; ++i)
    values.push_back(time(i, 2, -1) + (i % 2 == 0 ? 0.004 : -0.004));
  std::vector<Observed> flights = observed(values);
  for (Observed& flight : flights) flight.readings[0].scatter = 0.005;
  Beliefs beliefs;
  beliefs.scatter_spread = 0;
  const auto posterior = learn(2, flights, bent, beliefs);
  ASSERT_TRUE(posterior);
  EXPECT_TRUE(posterior->converged);
  EXPECT_LE(slopes_flown, 4 * 6 * 4);  // four times, six flights, two axes either way
  const auto objective = [&](double a, double b) {
    double sum = 0.5 * (a * a + b * b);
    for (std::size_t i = 0; i < 6; ++i) {
      const double r = (values[i] - time(i, a, b)) / 0.005;
      sum += 2.5 * std::log1p(r * r / 4);
    }
    return sum;
  };
  const double a = posterior->mode[0], b = posterior->mode[1];
  // It ends where a round gains less than a tenth.
  for (int side = 0; side < 8; ++side) {
    const double angle = side * 0.785398;
    EXPECT_GT(objective(a + 0.1 * std::cos(angle), b + 0.1 * std::sin(angle)),
              objective(a, b) - 0.1);
  }
  EXPECT_LT(objective(a, b), objective(2, -1));
}

TEST(Posterior, OfVeryManyFlightsAFewShowTheWay) {
  constexpr std::size_t count = 240;
  const auto time = [](std::size_t i, double a, double b) {
    return 6.5 + slopes[i % 6][0] * (a + 0.15 * a * a) + slopes[i % 6][1] * b * (1 - 0.1 * a);
  };
  std::size_t flown = 0, wholes = 0;
  const Fly bent = [&](const std::vector<Query>& queries) {
    flown += queries.size();
    wholes += queries.size() >= count ? 1 : 0;
    std::vector<std::optional<Outcome>> all;
    for (const Query& q : queries) {
      all.emplace_back(Outcome{time(q.flight, q.z[0], q.z[1])});
      if (q.flight == 2) all.back().reset();  // one that stands for others is not flown
    }
    return all;
  };
  std::vector<double> values;
  for (std::size_t i = 0; i < count; ++i) {
    values.push_back(time(i, 2, -1) + 0.01 * std::sin(2.4 * static_cast<double>(i)));
  }
  std::vector<Observed> own = observed(values), lent = own;
  for (std::size_t i = 24; i < count; ++i) lent[i].slopes_of = lent[i].slopes_of_second = i % 24;
  const auto whole = learn(2, own, bent);
  const std::size_t flown_whole = std::exchange(flown, 0);
  wholes = 0;
  const auto shown = learn(2, lent, bent);
  ASSERT_TRUE(whole && shown);
  EXPECT_TRUE(whole->converged && shown->converged);
  EXPECT_FALSE(shown->fits[2].flown);
  for (Eigen::Index p = 0; p < 2; ++p) {
    const double sigma = std::sqrt(whole->covariance(p, p));
    // Each ends where a round gains less than a tenth of ln of the density: sqrt(2/10) deviations.
    EXPECT_NEAR(shown->mode[p], whole->mode[p], 0.45 * sigma);
    EXPECT_NEAR(std::sqrt(shown->covariance(p, p)), sigma, 0.1 * sigma);
  }
  EXPECT_LE(wholes, 8u);
  EXPECT_LT(flown, flown_whole);
}

TEST(Posterior, IsStoppedBetweenSetsOfFlights) {
  for (const int stop_at : {1, 2, 3}) {
    int sets = 0;
    double before = 0;
    const Fly counted = [&](const std::vector<Query>& queries) {
      ++sets;
      return straight(queries);
    };
    const auto stopped = learn(2, observed(times), counted, {}, [&](double share) {
      EXPECT_GT(share, before);
      EXPECT_LE(share, 1);
      before = share;
      return sets < stop_at;
    });
    ASSERT_FALSE(stopped);
    EXPECT_EQ(sets, stop_at);
    EXPECT_EQ(stopped.error().front().message, learning_stopped().message);
  }
}

TEST(Posterior, WidthIsThatOfTheDensityIntegrated) {
  // One parameter, six flights, heavy tails and a scatter nobody knows: all integrated over on a
  // grid of z and ln c.
  const auto time = [](std::size_t i, double z) { return 6.5 + slopes[i % 6][0] * z; };
  const Fly flying = [&](const std::vector<Query>& queries) {
    std::vector<std::optional<Outcome>> all;
    for (const Query& q : queries) all.emplace_back(Outcome{time(q.flight, q.z[0])});
    return all;
  };
  std::vector<Observed> flights = observed(times);
  for (Observed& flight : flights) flight.parameters = {0};
  const auto posterior = learn(1, flights, flying);
  ASSERT_TRUE(posterior);
  double sum = 0, second = 0;
  for (double z = -4; z < 5; z += 0.01) {
    for (double lambda = -2; lambda < 2.5; lambda += 0.02) {
      double ln = -0.5 * (z * z + 4 * lambda * lambda);
      for (std::size_t i = 0; i < 6; ++i) {
        const double r = (times[i] - time(i, z)) / (0.04 * std::exp(lambda));
        ln -= 2.5 * std::log1p(r * r / 4) + lambda;
      }
      sum += std::exp(ln);
      second += std::pow(z - posterior->mode[0], 2) * std::exp(ln);
    }
  }
  const double sigma = std::sqrt(second / sum);
  // 600 steps, in which the deviation given the scatter and the weights varies by a third from one
  // to the next: 2 % at the correlation they have.
  EXPECT_NEAR(std::sqrt(posterior->covariance(0, 0)), sigma, 0.05 * sigma);
}

TEST(Posterior, OneBadFlightHardlyMovesIt) {
  std::vector<double> spoiled = times;
  spoiled.push_back(5.9);
  const auto without = learn(2, observed(times), straight);
  const auto with = learn(2, observed(spoiled), straight);
  ASSERT_TRUE(without && with);
  EXPECT_LT(with->fits.back().weight, 0.2);
  EXPECT_GT(with->fits.front().weight, 0.8);
  const double sigma = std::sqrt(without->covariance(0, 0));
  EXPECT_LT(std::abs(with->mode[0] - without->mode[0]), 0.8 * sigma);
}

TEST(Posterior, OrderOfFlightsDoesNotMatter) {
  std::vector<Observed> turned = observed(times);
  std::rotate(turned.begin(), turned.begin() + 2, turned.end());
  for (std::size_t i = 0; i < 6; ++i) turned[i].slopes_of = i;
  const Fly rotated = [](std::vector<Query> queries) {
    for (Query& q : queries) q.flight = (q.flight + 2) % 6;
    return straight(queries);
  };
  const auto one = learn(2, observed(times), straight), other = learn(2, turned, rotated);
  ASSERT_TRUE(one && other);
  // Sums in another order.
  EXPECT_LT((one->mode - other->mode).norm(), 1e-9);
}

TEST(Posterior, ScatterIsLearnedToo) {
  std::vector<double> wild;
  for (int i = 0; i < 60; ++i) wild.push_back(6.5 + 0.12 * std::sin(2.4 * i));
  const auto posterior = learn(2, observed(wild), straight);
  ASSERT_TRUE(posterior);
  EXPECT_GT(posterior->scatter_factor[0], 1.5);
  EXPECT_EQ(posterior->scatter_factor[1], 1);
}

TEST(Posterior, FlightsTheModelCannotFlyTeachNothing) {
  const Fly some = [](const std::vector<Query>& queries) {
    auto all = straight(queries);
    for (std::size_t i = 0; i < queries.size(); ++i) {
      if (queries[i].flight == 2) all[i].reset();
    }
    return all;
  };
  const auto posterior = learn(2, observed(times), some);
  ASSERT_TRUE(posterior);
  EXPECT_FALSE(posterior->fits[2].flown);
  const Fly none = [](const std::vector<Query>& queries) {
    return std::vector<std::optional<Outcome>>(queries.size());
  };
  EXPECT_FALSE(learn(2, observed(times), none));
}

TEST(Posterior, WithoutReadingsThatBearOnItAParameterKeepsItsPrior) {
  std::vector<Observed> flights = observed(times);
  for (Observed& flight : flights) flight.parameters = {0};
  const auto posterior = learn(2, flights, straight);
  ASSERT_TRUE(posterior);
  EXPECT_DOUBLE_EQ(posterior->mode[1], 0);
  EXPECT_DOUBLE_EQ(posterior->covariance(1, 1), 1);
}

}  // namespace
}  // namespace propwright::learn
