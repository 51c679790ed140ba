#include "propwright/learn/flown_log.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "invented.h"
#include "propwright/air/air.h"
#include "propwright/learn/findings.h"
#include "propwright/learn/next_propeller.h"

namespace propwright::learn {
namespace {

/// The example's own propeller and one of more pitch.
const std::vector<Subject>& two_propellers() {
  static const std::vector<Subject> subjects = [] {
    brief::Job other = support::example("lantern46");
    other.propeller.name = "L46-B";
    other.propeller.pitch_m = 0.84;
    return std::vector<Subject>{subject_of(support::example("lantern46")), subject_of(other)};
  }();
  return subjects;
}

std::vector<logbook::Flight> twenty() {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 10);
  const std::vector<logbook::Flight> others = planned(two_propellers()[1], 10);
  flights.insert(flights.end(), others.begin(), others.end());
  return flights;
}

Posterior learned_from(const FlownLog& log) {
  const auto posterior = learn(log.parameters().size(), log.observed(),
                               [&](const auto& queries) { return log.fly(queries); });
  EXPECT_TRUE(posterior);
  return *posterior;
}

TEST(FlownLog, ParametersBelongToModelPropellerAndBatch) {
  std::vector<logbook::Flight> flights = twenty();
  flights[0].batch = "box 9";
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  int angles = 0, drags = 0, energies = 0;
  for (const Parameter& p : log.parameters()) {
    if (std::string(p.doubt.key) == "blade_angle") ++angles;
    if (std::string(p.doubt.key) == "airframe_drag") ++drags;
    if (std::string(p.doubt.key) == "rubber_energy") ++energies;
  }
  EXPECT_EQ(angles, 2);
  EXPECT_EQ(drags, 1);
  EXPECT_EQ(energies, 2);
}

TEST(FlownLog, WithoutShiftItFliesAsThePrediction) {
  const std::vector<Subject> subjects{two_propellers()[0]};
  std::vector<logbook::Flight> flights(1);
  flights[0].propeller = subjects[0].job.propeller.name;
  flights[0].duration_s = 1;
  flights[0].turns_at_launch = subjects[0].nominal.flight.turns_at_launch;
  const FlownLog log(subjects, flights, {}, in_turn);
  const Eigen::VectorXd nought =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  const auto flown = log.fly({{0, nought}});
  ASSERT_TRUE(flown[0]);
  // The same flight, but turns given lay out the table of climbs to another greatest torque.
  EXPECT_NEAR(std::exp((*flown[0])[0]), subjects[0].nominal.flight.duration_s, 0.01);
}

TEST(FlownLog, FlownTogetherIsAsFlownAlone) {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 12);
  flights[10] = flights[3];
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  Eigen::VectorXd z =
      Eigen::VectorXd::Constant(static_cast<Eigen::Index>(log.parameters().size()), 0.4);
  std::vector<Query> queries;
  for (std::size_t i = 0; i < flights.size(); ++i) queries.push_back({i, z, false});
  const auto together = log.fly(queries);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    const auto alone = log.fly({{i, z, false}});
    ASSERT_TRUE(together[i] && alone[0]);
    EXPECT_EQ(*together[i], *alone[0]) << i;
  }
  EXPECT_EQ(*together[10], *together[3]);
  EXPECT_NE(*together[11], *together[3]);
  // The same flight under other parameters is another.
  const auto two = log.fly({{3, z, false}, {3, -z, false}, {10, z, false}});
  EXPECT_NE(*two[0], *two[1]);
  EXPECT_EQ(*two[0], *two[2]);
}

TEST(FlownLog, SharedSteadyStatesFlyAsOnesOwn) {
  const Subject& subject = two_propellers()[0];
  const air::Air& own = subject.nominal.assembly.air;
  std::vector<logbook::Flight> flights = planned(subject, 4);
  // So little off the job's own air that its map serves them all.
  for (std::size_t i = 0; i < flights.size(); ++i) {
    flights[i].temperature_K = own.temperature_K - 0.4 + 0.25 * static_cast<double>(i);
  }
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  Eigen::VectorXd z = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  z[place_of(log, "airframe_drag")] = 0.7;
  z[place_of(log, "rubber_turns")] = -0.5;
  z[place_of(log, "circle_radius")] = 0.5;
  const predict::Draw draw = log.draw_of(0, subject.job.rubber.name, z);
  const auto map =
      predict::moved_map(subject.nominal, draw, {own.density_kg_m3, own.viscosity_Pa_s});
  ASSERT_TRUE(map);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    const auto air = air::moist_air({.temperature_K = *flights[i].temperature_K,
                                     .pressure_Pa = own.pressure_Pa,
                                     .relative_humidity = subject.job.air.relative_humidity});
    ASSERT_TRUE(air);
    flight::Setup setup = subject.nominal.setup;
    setup.density_kg_m3 = air->density_kg_m3;
    setup.motor.temperature_K = air->temperature_K;
    setup.launch.margin_m.reset();
    setup.launch.torque_Nm.reset();
    setup.launch.turns = flights[i].turns_at_launch;
    setup.launch.wound_turns = *flights[i].turns_wound;
    const auto alone =
        flight::fly(predict::moved_setup(setup, draw, map->in_density(air->density_kg_m3)));
    const auto shared = log.fly({{i, z, false}});
    ASSERT_TRUE(alone && shared[0]);
    // 2e-5 in the steady states, and as much again in a climb, which is a difference.
    EXPECT_NEAR((*shared[0])[0], std::log(alone->duration_s), 5e-5) << i;
    EXPECT_NEAR((*shared[0])[1], alone->top_height_m, 5e-4) << i;
  }
}

TEST(FlownLog, FlaggedAndForeignFlightsAreLeftOutWithAReason) {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 5);
  flights[0].aborted = true;
  flights[0].reason = "stab slipped";
  flights[1].propeller = "unknown";
  flights[2].duration_s = flights[2].turns_left = flights[2].top_height_m =
      flights[2].launch_torque_Nm = std::nullopt;
  flights[3].steered = true;
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  EXPECT_EQ(log.entries()[0].left_out, "aborted: stab slipped");
  EXPECT_EQ(log.entries()[1].left_out, "no job with this propeller");
  EXPECT_EQ(log.entries()[2].left_out, "nothing read of it");
  EXPECT_THAT(log.used(), testing::ElementsAre(3, 4));
  EXPECT_EQ(log.observed()[0].weight, 0.5);
}

TEST(FlownLog, AHeightAtTheRoofIsALowerLimit) {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 5);
  for (logbook::Flight& flight : flights) flight.top_height_m = 8.0;
  flights[1].touches = 2;
  flights[2].top_height_m = flights[2].roof_m = 8.2;
  flights[3].top_height_m.reset();  // nobody read it, but it touched the job's roof
  flights[3].touches = 1;
  // Launched as the job plans, to stay under the roof: that it touched says nothing of the model.
  flights[4].touches = 1;
  flights[4].turns_at_launch = flights[4].turns_wound = flights[4].launch_torque_Nm = std::nullopt;
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  const auto height_of = [&](std::size_t i) {
    const auto& readings = log.observed()[i].readings;
    const auto at = std::find_if(readings.begin(), readings.end(), [](const Reading& reading) {
      return reading.kind == Kind::top_height;
    });
    return at == readings.end() ? std::nullopt : std::optional(*at);
  };
  ASSERT_TRUE(height_of(0) && height_of(1) && height_of(2) && height_of(3));
  EXPECT_FALSE(height_of(0)->at_least);
  EXPECT_TRUE(height_of(1)->at_least);
  EXPECT_EQ(height_of(1)->value, 8.0);
  EXPECT_TRUE(height_of(2)->at_least);
  EXPECT_EQ(height_of(2)->value, 8.2);
  EXPECT_TRUE(height_of(3)->at_least);
  EXPECT_EQ(height_of(3)->value, two_propellers()[0].job.hall.roof_height_m);
  EXPECT_FALSE(height_of(4));
}

TEST(FlownLog, TheModelsHeightIsThatWithoutARoof) {
  const std::vector<Subject> subjects{two_propellers()[0]};
  std::vector<logbook::Flight> flights = planned(subjects[0], 2);
  flights[0].turns_at_launch = subjects[0].nominal.flight.turns_at_launch;
  flights[1] = flights[0];
  flights[0].roof_m = 6.0;
  flights[1].roof_m = 60.0;
  const FlownLog log(subjects, flights, {}, in_turn);
  const Eigen::VectorXd nought =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  const auto flown = log.fly({{0, nought}, {1, nought}});
  ASSERT_TRUE(flown[0] && flown[1]);
  EXPECT_GT((*flown[0])[1], 6.5);
  EXPECT_NEAR((*flown[0])[1], (*flown[1])[1], 1e-9);
  EXPECT_LT((*flown[0])[0], (*flown[1])[0]);  // but the roof cost it time
}

TEST(FlownLog, WarmerAirAndALighterModelFlyLonger) {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 1);
  flights[0].temperature_K.reset();
  flights.resize(3, flights[0]);
  flights[1].model_mass_kg = 0.9 * two_propellers()[0].job.model.mass_kg;
  flights[2].motor_part = 0.5;
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  const Eigen::VectorXd nought =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  const auto flown = log.fly({{0, nought}, {1, nought}});
  EXPECT_GT((*flown[1])[0], (*flown[0])[0]);
}

/// Ten flights of one propeller, five on each of two days; nobody read the first day's temperature.
std::vector<logbook::Flight> two_days() {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 10);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    flights[i].time = i < 5 ? "2026-11-21T10:00" : "2026-11-22T10:00";
    if (i < 5) flights[i].temperature_K.reset();
  }
  return flights;
}

TEST(FlownLog, ADayWhoseTemperatureNobodyReadMayHaveBeenWarmer) {
  std::vector<logbook::Flight> flights = two_days();
  flights[9] = flights[4];
  flights[9].temperature_K = two_propellers()[0].job.air.temperature_K + 5;
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  const Eigen::Index day = place_of(log, "temperature");
  const Parameter& parameter = log.parameters()[static_cast<std::size_t>(day)];
  EXPECT_EQ(parameter.owner, "2026-11-21");
  EXPECT_EQ(parameter.doubt.sigma, 5);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    const auto& bearing = log.observed()[i].parameters;
    const bool bears =
        std::find(bearing.begin(), bearing.end(), static_cast<std::size_t>(day)) != bearing.end();
    EXPECT_EQ(bears, i < 5) << i;
  }
  const Eigen::VectorXd nought =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  const Eigen::VectorXd warmer = Eigen::VectorXd::Unit(nought.size(), day);
  const auto flown = log.fly({{4, nought}, {4, warmer}, {9, nought}, {9, warmer}});
  ASSERT_TRUE(flown[0] && flown[1] && flown[2] && flown[3]);
  EXPECT_GT((*flown[1])[0], (*flown[0])[0] + 0.01);
  // One deviation warmer is a thermometer 5 K up; moist air is not quite as 1/T (5e-4 of density).
  EXPECT_NEAR((*flown[1])[0], (*flown[2])[0], 1e-3);
  EXPECT_EQ(*flown[2], *flown[3]);
  // The job's own flights and those of a log where it is said to be known have no such doubt.
  EXPECT_EQ(log.own_flights(0, {warmer})[0]->duration_s,
            log.own_flights(0, {nought})[0]->duration_s);
  const FlownLog known(two_propellers(), flights, {.unread_temperature_K = 0}, in_turn);
  EXPECT_EQ(known.parameters().size() + 1, log.parameters().size());
}

TEST(Learn, WarmthThatNobodyReadIsNotTakenForBetterRubber) {
  const std::vector<Subject> subjects{two_propellers()[0]};
  std::vector<logbook::Flight> flights = planned(subjects[0], 12);
  for (logbook::Flight& flight : flights) flight.temperature_K.reset();
  const FlownLog plan(subjects, flights, {}, in_turn);
  Eigen::VectorXd truth =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(plan.parameters().size()));
  truth[place_of(plan, "temperature")] = 1.6;  // 8 K: the energy is the sheet's
  std::mt19937 random(6);
  fly_them(flights, plan, truth, 0.3, random);
  const auto energy_of = [&](const Scatter& scatter) {
    const FlownLog log(subjects, flights, scatter, in_turn);
    return findings(log,
                    learned_from(log))[static_cast<std::size_t>(place_of(log, "rubber_energy"))];
  };
  const Finding doubted = energy_of({}), believed = energy_of({.unread_temperature_K = 0});
  EXPECT_LT(doubted.low, 1);
  EXPECT_GT(believed.low, 1);
  EXPECT_GT(doubted.sigma, 1.2 * believed.sigma);
  const FlownLog log(subjects, flights, {}, in_turn);
  const Finding warmth =
      findings(log, learned_from(log))[static_cast<std::size_t>(place_of(log, "temperature"))];
  EXPECT_EQ(warmth.measure, Measure::temperature_K);
  EXPECT_LT(warmth.low, 8);
  EXPECT_GT(warmth.high, 8);
  EXPECT_THAT(warmth.sentence, testing::HasSubstr("temperature of the day (no date)"));
}

TEST(Learn, FindsTheDragAndTheRubberOfInventedFlights) {
  std::vector<logbook::Flight> flights = twenty();
  const FlownLog plan(two_propellers(), flights, {}, in_turn);
  Eigen::VectorXd truth =
      Eigen::VectorXd::Zero(static_cast<Eigen::Index>(plan.parameters().size()));
  truth[place_of(plan, "airframe_drag")] = 1.6;
  truth[place_of(plan, "rubber_energy")] = -1.5;
  std::mt19937 random(2);
  fly_them(flights, plan, truth, 0.5, random);
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  const Posterior posterior = learned_from(log);
  const std::vector<Finding> found = findings(log, posterior);
  const auto finding = [&](const std::string& key) {
    return found[static_cast<std::size_t>(place_of(log, key))];
  };
  const Finding energy = finding("rubber_energy");
  EXPECT_EQ(energy.state, State::moved);
  EXPECT_LT(energy.low, std::exp(-1.5 * 0.03));
  EXPECT_GT(energy.high, std::exp(-1.5 * 0.03));
  EXPECT_THAT(energy.sentence, testing::HasSubstr("below the sheet"));
  EXPECT_TRUE(posterior.converged);
  EXPECT_GT(finding("airframe_drag").posterior, 1);
  // Predictions as learned lie nearer to the truth than the sheet's, and are surer.
  const auto all = changes(log, 2, posterior);
  ASSERT_EQ(all.size(), 2u);
  for (const Change& change : all) {
    const auto true_flight = log.own_flights(change.subject, {truth});
    const double truth_s = true_flight[0]->duration_s;
    EXPECT_LT(std::abs(change.after_s - truth_s), 0.5 * std::abs(change.before_s - truth_s));
    EXPECT_LT(change.after_sigma_s, 0.7 * change.before_sigma_s);
    EXPECT_LT(std::abs(change.after_s - truth_s), 2 * change.after_sigma_s);
  }
}

TEST(Learn, SaysWhichFlightDoesNotFitAndWhy) {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 16);
  const FlownLog plan(two_propellers(), flights, {}, in_turn);
  std::mt19937 random(4);
  fly_them(flights, plan,
           Eigen::VectorXd::Zero(static_cast<Eigen::Index>(plan.parameters().size())), 0.3, random);
  *flights[5].duration_s *= 0.6;
  *flights[5].turns_left += 0.3 * *flights[5].turns_at_launch;
  const FlownLog log(two_propellers(), flights, {}, in_turn);
  const auto all = misfits(log, flights, learned_from(log));
  const auto worst = std::min_element(
      all.begin(), all.end(), [](const auto& a, const auto& b) { return a.weight < b.weight; });
  ASSERT_NE(worst, all.end());
  EXPECT_EQ(worst->flight, 5u);
  EXPECT_LT(worst->weight, 0.1);
  EXPECT_THAT(worst->reasons, testing::Contains(testing::HasSubstr("came down early")));
}

TEST(FlownLog, WhereTouchesOfTheRoofFallMakesNoJumpsUnlessAskedFor) {
  const std::vector<Subject> subjects{two_propellers()[0]};
  std::vector<logbook::Flight> flights = planned(subjects[0], 1);
  *flights[0].turns_at_launch = std::round(1.04 * subjects[0].nominal.flight.turns_at_launch);
  const FlownLog log(subjects, flights, {}, in_turn);
  const Eigen::Index energy = place_of(log, "rubber_energy");
  const auto largest_step = [&](bool touch_by_touch) {
    std::vector<Query> queries(200);
    for (std::size_t i = 0; i < queries.size(); ++i) {
      queries[i].z.setZero(static_cast<Eigen::Index>(log.parameters().size()));
      queries[i].z[energy] = 0.01 * static_cast<double>(i);
      queries[i].touch_by_touch = touch_by_touch;
    }
    const auto flown = log.fly(queries);
    double largest = 0;
    for (std::size_t i = 1; i < flown.size(); ++i) {
      largest = std::max(largest, std::abs((*flown[i])[0] - (*flown[i - 1])[0]));
    }
    return largest;
  };
  // A step of 0.03 % of the energy against a touch of the roof.
  EXPECT_LT(largest_step(false), 0.15 * largest_step(true));
}

TEST(FlownLog, OfManyFlightsSomeLendTheirSlopesToThoseBetween) {
  const std::vector<Subject> subjects{two_propellers()[0]};
  std::vector<logbook::Flight> flights = planned(subjects[0], 120);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    *flights[i].turns_at_launch -= static_cast<double>(i % 11);
    flights[i].temperature_K = 293.15;
  }
  const FlownLog log(subjects, flights, {}, in_turn);
  int lent = 0;
  for (std::size_t i = 0; i < flights.size(); ++i) {
    const Observed& one = log.observed()[i];
    if (one.slopes_of == i) continue;
    ++lent;
    EXPECT_EQ(log.observed()[one.slopes_of].slopes_of, one.slopes_of);
    EXPECT_EQ(log.observed()[one.slopes_of_second].slopes_of, one.slopes_of_second);
    EXPECT_GE(*flights[i].turns_at_launch, *flights[one.slopes_of].turns_at_launch);
    EXPECT_LE(*flights[i].turns_at_launch, *flights[one.slopes_of_second].turns_at_launch);
    EXPECT_THAT(one.second_share, testing::AllOf(testing::Ge(0.0), testing::Le(1.0)));
  }
  EXPECT_EQ(lent, 120 - 48);
}

TEST(NextPropeller, RanksChangesByWhatTheyPromise) {
  std::vector<logbook::Flight> flights = planned(two_propellers()[0], 8);
  const std::vector<Subject> subjects{two_propellers()[0]};
  const FlownLog plan(subjects, flights, {}, in_turn);
  std::mt19937 random(8);
  fly_them(flights, plan,
           Eigen::VectorXd::Zero(static_cast<Eigen::Index>(plan.parameters().size())), 0.5, random);
  const FlownLog log(subjects, flights, {}, in_turn);
  const auto next = next_propellers(subjects, 0, support::attachments(subjects[0].job), log,
                                    learned_from(log), in_turn);
  ASSERT_GE(next.size(), 4u);
  for (std::size_t i = 1; i < next.size(); ++i) {
    EXPECT_GE(next[i - 1].expected_improvement_s, next[i].expected_improvement_s);
  }
  for (const Candidate& one : next) {
    EXPECT_GE(one.expected_improvement_s, std::max(one.gain_s, 0.0) - 1e-9);
    EXPECT_FALSE(one.teaches.empty());
  }
}

}  // namespace
}  // namespace propwright::learn
