#include <gtest/gtest.h>

#include <functional>
#include <limits>

#include "stand_in.h"

namespace propwright::flight {
namespace {

TEST(Check, EachImpossibleValueIsAProblemNamingItsField) {
  struct Case {
    const char* field;
    std::function<void(flight::Setup&)> spoil;
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const Case cases[] = {
      {"model.mass", [](flight::Setup& s) { s.airframe.mass_kg = 0; }},
      {"model.mass", [&](flight::Setup& s) { s.airframe.mass_kg = nan; }},
      {"model.wing_area", [](flight::Setup& s) { s.airframe.wing_area_m2 = -1; }},
      {"model.trim_lift_coefficient", [](flight::Setup& s) { s.airframe.trim_cl = 0; }},
      {"air.density", [](flight::Setup& s) { s.density_kg_m3 = 0; }},
      {"hall.roof_height", [](flight::Setup& s) { s.hall.roof_m = 1.5; }},
      {"launch.height", [](flight::Setup& s) { s.launch.height_m = 0; }},
      {"propeller.hub.friction", [](flight::Setup& s) { s.friction_fraction = 0.5; }},
      {"propeller.hub.friction", [](flight::Setup& s) { s.friction_fraction = -0.1; }},
      {"launch.wound_turns", [](flight::Setup& s) { s.launch.wound_turns = 0; }},
      {"launch.wound_turns",
       [](flight::Setup& s) { s.launch.wound_turns = 1.01 * s.motor.breaking_turns; }},
      {"launch.turns", [](flight::Setup& s) { s.launch.turns = 0; }},
      {"launch.turns", [](flight::Setup& s) { s.launch.turns = s.launch.wound_turns + 1; }},
  };
  for (const Case& c : cases) {
    flight::Setup setup = support::light_model();
    c.spoil(setup);
    const auto flight = fly(setup);
    ASSERT_FALSE(flight) << c.field;
    EXPECT_EQ(flight.error().front().kind, base::Kind::bad_input) << c.field;
    EXPECT_EQ(flight.error().front().field, c.field);
    EXPECT_FALSE(flight.error().front().allowed.empty()) << c.field;
    EXPECT_FALSE(flight.error().front().remedy.empty()) << c.field;
  }
}

TEST(Check, AllProblemsAreReportedAtOnce) {
  flight::Setup setup = support::light_model();
  setup.airframe.mass_kg = 0;
  setup.airframe.wing_area_m2 = 0;
  setup.launch.wound_turns = -5;
  const auto flight = fly(setup);
  ASSERT_FALSE(flight);
  EXPECT_EQ(flight.error().size(), 3U);
}

}  // namespace
}  // namespace propwright::flight
