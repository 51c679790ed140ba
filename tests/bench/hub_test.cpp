#include "propwright/bench/hub.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "bench_test_tools.h"
#include "propwright/base/constants.h"

namespace propwright::bench {
namespace {

using testing::HasSubstr;
using HubSubject = HubCheck::Subject;
using HubStatus = HubCheck::Status;

const HubCheck& check_of(const HubFigures& f, HubSubject subject) {
  return f.checks.at(static_cast<std::size_t>(subject));
}

TEST(Hub, NothingMeasuredSaysWhatToMeasure) {
  const auto f = hub_figures({}, {}, {}).value();
  ASSERT_EQ(f.checks.size(), 7u);
  for (const HubCheck& c : f.checks) {
    EXPECT_EQ(c.status, HubStatus::not_measured);
    EXPECT_FALSE(c.sentence.empty());
  }
  EXPECT_FALSE(f.over_mass_kg.has_value());
}

TEST(Hub, HookOffsetIsHalfTheRunOutAndTimesThePullAMoment) {
  const auto f = hub_figures({.hook_run_out_m = 2e-3}, {.motor_pull_N = 0.5}, {}).value();
  EXPECT_NEAR(f.hook_offset_m->value, 1e-3, 1e-18);
  const HubCheck& hook = check_of(f, HubSubject::hook);
  EXPECT_EQ(hook.status, HubStatus::suspect);
  EXPECT_NEAR(hook.effect->value, 0.5e-3, 1e-18);
  EXPECT_EQ(hook.effect_unit, "N m");
  EXPECT_THAT(hook.formula, HasSubstr("offset x motor pull"));
  EXPECT_FALSE(check_of(hub_figures({.hook_run_out_m = 2e-3}, {}, {}).value(), HubSubject::hook)
                   .effect.has_value());
}

TEST(Hub, HalfMillimetreRuleCannotTellAFifthOfAMillimetre) {
  const auto f = hub_figures({.hook_run_out_m = 0.4e-3}, {}, {}).value();
  EXPECT_EQ(check_of(f, HubSubject::hook).status, HubStatus::cannot_tell);
}

TEST(Hub, BowedShaftLeansTheDisc) {
  // A circle's arc of 40 mm with a height of 0.2 mm: end slope 2 atan(2 f/L).
  const auto f =
      hub_figures({.shaft_bow_m = 0.2e-3, .shaft_length_m = 0.04}, {.tip_radius_m = 0.23}, {})
          .value();
  const HubCheck& shaft = check_of(f, HubSubject::shaft);
  EXPECT_NEAR(shaft.amount.value, 2 * std::atan(2 * 0.2 / 40), 1e-5);
  EXPECT_NEAR(shaft.effect->value, 0.02 * 0.23, 1e-12);
  EXPECT_EQ(shaft.status, HubStatus::suspect);
}

TEST(Hub, SocketsThatLeanAlikeAreInTrack) {
  const auto lean = [](double a_deg, double b_deg) {
    return check_of(hub_figures({.socket_a_rad = a_deg * degree, .socket_b_rad = b_deg * degree},
                                {.tip_radius_m = 0.23}, {})
                        .value(),
                    HubSubject::track);
  };
  EXPECT_EQ(lean(87, 87).status, HubStatus::ok);
  EXPECT_EQ(lean(90, 88).status, HubStatus::suspect);
  EXPECT_NEAR(lean(90, 88).effect->value, 2 * degree * 0.23, 1e-12);
}

TEST(Hub, BentSocketLineMovesTheCentreOfMassSideways) {
  const auto f =
      hub_figures({.socket_line_rad = 178 * degree}, {.blade_moment_kgm = 7.5e-6}, {}).value();
  // Two moments S at 180 - e add to 2 S sin(e/2).
  EXPECT_NEAR(check_of(f, HubSubject::socket_line).effect->value, 2 * 7.5e-6 * std::sin(1 * degree),
              1e-10);
}

TEST(Hub, ClearanceBetweenNoneAndATenthIsInOrder) {
  const auto fit = [](double clearance_m) {
    return check_of(
        hub_figures({.bore_m = 2e-3 + clearance_m, .root_circle_m = 2e-3}, {}, {}).value(),
        HubSubject::root_fit);
  };
  EXPECT_EQ(fit(0.05e-3).status, HubStatus::ok);
  EXPECT_THAT(fit(-0.05e-3).sentence, HasSubstr("tight"));
  EXPECT_THAT(fit(0.2e-3).sentence, HasSubstr("loose"));
  EXPECT_EQ(fit(0.1e-3).status, HubStatus::cannot_tell);
}

TEST(Hub, WasherFrictionOfABuildersPropeller) {
  // 0.07 x 0.5 N x 0.5 mm = 0.0175 N mm against 0.8 N mm.
  const auto f =
      hub_figures({.washer_radius_m = 0.5e-3}, {.motor_pull_N = 0.5, .motor_torque_Nm = 0.8e-3}, {})
          .value();
  EXPECT_NEAR(check_of(f, HubSubject::friction).amount.value, 0.0175e-3, 1e-12);
  EXPECT_EQ(check_of(f, HubSubject::friction).status, HubStatus::ok);
}

TEST(Hub, PlannedMassIsTubesWireWashersAndGlue) {
  const auto f = hub_figures({.wire_diameter_m = 0.3556e-3,
                              .wire_length_m = 0.04,
                              .washers = 2,
                              .washer_mass_kg = 1 * mg,
                              .tubes_mass_kg = 14 * mg,
                              .glue_mass_kg = 2 * mg,
                              .weighed_mass_kg = 52 * mg},
                             {}, {})
                     .value();
  EXPECT_NEAR(*f.wire_mass_kg, 31.185 * mg, 0.001 * mg);  // 0.77962 mg/mm, data/wire.csv
  EXPECT_NEAR(f.planned_mass_kg, 49.185 * mg, 0.001 * mg);
  EXPECT_NEAR(f.over_mass_kg->value, 2.815 * mg, 0.001 * mg);
}

RC_GTEST_PROP(Hub, StatusNeverGetsBetterAsTheFaultGrows, ()) {
  const auto severity = [](double run_out_m) {
    const auto f = hub_figures({.hook_run_out_m = run_out_m}, {}, {}).value();
    const HubStatus s = check_of(f, HubSubject::hook).status;
    return s == HubStatus::ok ? 0 : s == HubStatus::cannot_tell ? 1 : 2;
  };
  const double smaller = *rc::gen::inRange(0, 300) * 1e-5;
  RC_ASSERT(severity(smaller) <= severity(smaller + *rc::gen::inRange(0, 300) * 1e-5));
}

TEST(Hub, BadMembersAreNamed) {
  const auto f =
      hub_figures({.bore_m = -1e-3, .washers = -1, .shaft_bow_m = 1e-4, .socket_a_rad = 0.1},
                  {.motor_pull_N = -1}, {});
  ASSERT_FALSE(f.has_value());
  std::vector<std::string> fields;
  for (const auto& p : f.error()) fields.push_back(p.field);
  EXPECT_THAT(fields, testing::ElementsAre("bore_m", "shaft_length_m", "washers", "socket_a_rad",
                                           "loads.motor_pull_N"));
}

}  // namespace
}  // namespace propwright::bench
