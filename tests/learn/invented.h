/// Invented logs: flights flown by the model itself under parameters of the test's choice.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "jobs.h"
#include "propwright/learn/flown_log.h"

namespace propwright::learn {

inline Subject subject_of(brief::Job job) {
  auto nominal = predict::predict(job, support::attachments(job));
  EXPECT_TRUE(nominal);
  return {std::move(job), std::move(*nominal)};
}

/// `count` flights of a subject, not yet flown: turns from 88 to 100 % of those the job launches
/// with, mornings and afternoons.
inline std::vector<logbook::Flight> planned(const Subject& subject, int count) {
  std::vector<logbook::Flight> flights(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    logbook::Flight& flight = flights[static_cast<std::size_t>(i)];
    flight.propeller = subject.job.propeller.name;
    const double turns = subject.nominal.flight.turns_at_launch;
    flight.turns_at_launch = std::round(turns * (0.88 + 0.02 * (i % 7)));
    flight.turns_wound = subject.nominal.flight.turns_wound;
    flight.temperature_K = i % 2 == 0 ? 291.15 : 296.15;
    // Of everything something was read, so that the first flying of it finds where to put it.
    flight.duration_s = flight.top_height_m = flight.launch_torque_Nm = 1;
    flight.turns_left = 1;
  }
  return flights;
}

/// Fills in what the model reads at z, with scatter `share` of what is expected of it.
inline void fly_them(std::vector<logbook::Flight>& flights, const FlownLog& log,
                     const Eigen::VectorXd& z, double share, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::chi_squared_distribution<double> chi2(4);
  std::vector<Query> queries;
  for (std::size_t i = 0; i < log.used().size(); ++i) queries.push_back({i, z});
  const auto outcomes = log.fly(queries);
  for (std::size_t i = 0; i < log.used().size(); ++i) {
    logbook::Flight& flight = flights[log.used()[i]];
    ASSERT_TRUE(outcomes[i]);
    const double tail = share / std::sqrt(chi2(random) / 4);
    const auto at = [&](Kind kind) { return (*outcomes[i])[static_cast<std::size_t>(kind)]; };
    flight.duration_s = std::exp(at(Kind::duration) + 0.04 * tail * normal(random));
    flight.top_height_m = at(Kind::top_height) + 0.4 * tail * normal(random);
    flight.turns_left = std::max(
        0.0, at(Kind::turns_left) + 0.03 * *flight.turns_at_launch * tail * normal(random));
    flight.launch_torque_Nm = std::exp(at(Kind::launch_torque) + 0.06 * tail * normal(random));
  }
}

inline Eigen::Index place_of(const FlownLog& log, const std::string& key) {
  for (std::size_t p = 0; p < log.parameters().size(); ++p) {
    if (log.parameters()[p].doubt.key == key) return static_cast<Eigen::Index>(p);
  }
  ADD_FAILURE() << "no parameter " << key;
  return 0;
}

}  // namespace propwright::learn
