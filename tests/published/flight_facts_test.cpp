// Cruise of a large light model, and rotation speeds seen in flight. Source: data/flight_data.csv,
// indoor-construction mailing-list archive 2005-2019; the loads of the three propellers there are
// calculated by a builder, not measured.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "propwright/predict/predict.h"
#include "published_table.h"
#include "record_flight.h"
#include "stand_in.h"

namespace propwright::published {
namespace {

base::Table facts() {
  return table("flight_data.csv", {"value"});
}

double fact(const std::string& model, const std::string& quantity) {
  const base::Table rows = facts();
  return rows.column("value")[row_of(rows, {{"model", model}, {"quantity", quantity}})];
}

TEST(FlightFacts, ThreePropellersTurnTheirTorqueIntoTheCruisePower) {
  const base::Table rows = facts();
  const double useful_W = fact("F1D", "level cruise drag") * fact("F1D", "level cruise V");
  for (const char* const radius : {"0.20", "0.23", "0.27"}) {
    const std::size_t row = row_of(
        rows, {{"model", "F1D"},
               {"quantity", std::string("calculated propeller R=") + radius + " m: torque"}});
    double rpm = 0, efficiency = 0;
    ASSERT_EQ(
        std::sscanf(rows.text(row, "note").c_str(), "%lf rpm, efficiency %lf", &rpm, &efficiency),
        2);
    const double shaft_W = 2 * base::pi * rpm / 60 * rows.column("value")[row];
    // Three digits in each: 0.2 %.
    EXPECT_NEAR(shaft_W / (useful_W / efficiency), 1, 0.002) << radius;
    // None of them passes the ideal disc of its size.
    const double v = fact("F1D", "level cruise V");
    const double r = std::stod(radius);
    const double loading =
        fact("F1D", "level cruise drag") / (0.5 * 1.225 * v * v * base::pi * r * r);
    EXPECT_LT(efficiency, 2 / (1 + std::sqrt(1 + loading))) << radius;
  }
}

TEST(FlightFacts, CruiseSetIsOurLevelFlight) {
  support::StandIn propeller;
  propeller.density_kg_m3 = 1.225;
  propeller.diameter_m = 0.47;
  flight::Setup setup = support::light_model(propeller);
  const double lift = fact("F1D", "level cruise CL");
  setup.airframe.wing_area_m2 = fact("F1D", "level cruise wing area");
  setup.airframe.trim_cl = lift;
  setup.airframe.drag = {.profile_cd_min = 0,
                         .profile_curvature = 0,
                         .profile_cl_at_min = 0,
                         .reference_speed_m_s = 1,
                         .induced_factor = 0,
                         .extra_cd = fact("F1D", "level cruise CD")};
  setup.motor.mass_kg = 0.0004;
  setup.airframe.mass_kg = fact("F1D", "level cruise weight") / base::gravity_m_s2 - 0.0004;
  double low = 1e-6, high = 2e-3;
  for (int i = 0; i < 80; ++i) {
    const double middle = (low + high) / 2;
    (flight::equilibrium(setup, middle).value().climb_m_s < 0 ? low : high) = middle;
  }
  const auto level = flight::equilibrium(setup, low);
  ASSERT_TRUE(level);
  EXPECT_NEAR(level->speed_m_s, fact("F1D", "level cruise V"), 0.005);    // two digits
  EXPECT_NEAR(level->drag_N, fact("F1D", "level cruise drag"), 0.00005);  // two digits
}

// Mean rotation of the models of record_classes.h, on the motor that suits them best. Trim, pitch
// and motors of the flights seen are not known: within a quarter.
TEST(FlightFacts, MeanRotationOfTheClassesIsAsSeenWithinAQuarter) {
  const auto rpm = [](const std::string& job, double roof_m) {
    return 60 * record_flight(job, roof_m).flight.mean_rev_per_s;
  };
  EXPECT_NEAR(rpm(f1d, 30) / fact("F1D", "mean rotation"), 1, 0.25);
  EXPECT_NEAR(rpm(f1m, 15) / fact("F1M", "rotation"), 1, 0.25);
  EXPECT_NEAR(rpm(f1l, 8) / fact("F1L", "rotation 12.25x25 in propeller"), 1, 0.25);
  EXPECT_NEAR(rpm(easy_b, 30) / fact("Easy-B type", "mean rotation"), 1, 0.25);
  EXPECT_NEAR(rpm(pennyplane, 8) / fact("Limited Pennyplane type", "rotation"), 1, 0.25);
}

TEST(FlightFacts, LargestClassFliesAtTheSpeedSeen) {
  // 0.6 to 0.7 m/s were read; the middle of the range is 0.65, our trim is not theirs.
  EXPECT_NEAR(record_flight(f1d, 30).flight.cruise_speed_m_s / fact("F1D", "flight speed"), 1,
              0.15);
}

}  // namespace
}  // namespace propwright::published
