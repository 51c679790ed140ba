#include "propwright/bench/ledger.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "bench_test_tools.h"

namespace propwright::bench {
namespace {

using testing::HasSubstr;

std::vector<LedgerPart> small_model() {
  return {{"blade A", 70 * mg, Figure{74 * mg, 0.4 * mg}, true},
          {"blade B", 70 * mg, Figure{73 * mg, 0.4 * mg}, true},
          {"hub", 40 * mg, std::nullopt, true},
          {"wing", 300 * mg, Figure{290 * mg, 0.4 * mg}, false},
          {"patch", std::nullopt, Figure{5 * mg, 0.4 * mg}, false}};
}

TEST(Ledger, RunsItsTotalsAndKnowsThePropellersShare) {
  const auto f = ledger(small_model(), {}).value();
  EXPECT_NEAR(f.rows[1].running_kg.value, 147 * mg, 1e-15);
  EXPECT_NEAR(f.rows[2].running_kg.value, 187 * mg, 1e-15);  // the plan stands in for the hub
  EXPECT_NEAR(f.total_kg.value, 482 * mg, 1e-15);
  EXPECT_NEAR(f.total_kg.sigma, 0.8 * mg, 1e-15);
  EXPECT_NEAR(f.total_planned_kg, 480 * mg, 1e-15);
  EXPECT_NEAR(*f.propeller_share, 187.0 / 482, 1e-12);
  EXPECT_NEAR(f.over_kg->value, -3 * mg, 1e-15);
  EXPECT_EQ(f.unweighed, 1);
  EXPECT_EQ(f.unplanned, 1);
  EXPECT_NEAR(*f.rows[0].over_share, 4.0 / 70, 1e-12);
  EXPECT_FALSE(f.cost_s.has_value());
}

TEST(Ledger, OverweightCostsSecondsByItsOwnRate) {
  LedgerRates rates{.propeller_s_kg = Figure{-0.5 / mg, 0.1 / mg},
                    .model_s_kg = Figure{-0.3 / mg, 0.03 / mg}};
  const auto f = ledger(small_model(), rates).value();
  EXPECT_NEAR(f.rows[0].cost_s->value, 2.0, 1e-12);
  // 4 mg x 0.1 s/mg and 0.5 s/mg x 0.4 mg.
  EXPECT_NEAR(f.rows[0].cost_s->sigma, std::hypot(0.4, 0.2), 1e-12);
  EXPECT_NEAR(*f.rows[0].cost_high_s - f.rows[0].cost_s->value, 1.645 * std::hypot(0.4, 0.2), 1e-9);
  EXPECT_NEAR(f.rows[3].cost_s->value, -3.0, 1e-12);
  EXPECT_FALSE(f.rows[2].cost_s.has_value());
  EXPECT_FALSE(f.rows[4].cost_s.has_value());
  EXPECT_NEAR(f.cost_s->value, 3.5 - 3.0, 1e-12);
  // One rate for both blades: 7 mg x 0.1; for the wing 10 mg x 0.03; weights 0.4 mg each.
  EXPECT_NEAR(f.cost_s->sigma, std::sqrt(0.49 + 2 * 0.04 + 0.09 + 0.0144), 1e-12);
  EXPECT_EQ(*f.dearest, 0u);
  EXPECT_THAT(f.sentences.back(), HasSubstr("blade A"));
}

RC_GTEST_PROP(Ledger, CostsOfRowsAddUp, ()) {
  std::vector<LedgerPart> parts;
  const int count = *rc::gen::inRange(1, 12);
  for (int i = 0; i < count; ++i) {
    parts.push_back({std::to_string(i), *rc::gen::inRange(0, 500) * mg,
                     Figure{*rc::gen::inRange(0, 500) * mg, 0.4 * mg},
                     *rc::gen::arbitrary<bool>()});
  }
  const LedgerRates rates{.propeller_s_kg = Figure{-5e5, 1e5}, .model_s_kg = Figure{-3e5, 3e4}};
  const auto f = ledger(parts, rates).value();
  double cost = 0, over = 0;
  for (const LedgerRow& row : f.rows) cost += row.cost_s->value, over += row.over_kg->value;
  RC_ASSERT(std::abs(cost - f.cost_s->value) < 1e-9);
  RC_ASSERT(std::abs(over - f.over_kg->value) < 1e-15);
  RC_ASSERT(std::abs(f.total_kg.value - f.total_planned_kg - over) < 1e-15);
  RC_ASSERT(std::abs(f.rows.back().running_kg.value - f.total_kg.value) < 1e-18);
}

TEST(Ledger, EverythingUnderItsPlanHasNoDearestPart) {
  const auto f =
      ledger({{"wing", 300 * mg, Figure{290 * mg, 0}, false}}, {.model_s_kg = Figure{-3e5, 0}})
          .value();
  EXPECT_FALSE(f.dearest.has_value());
  EXPECT_FALSE(f.propeller_share.has_value());
  EXPECT_THAT(f.sentences.back(), HasSubstr("gains 3.0 s"));
}

// A tenth of a milligram at half a second a milligram is 0.05 s: told from there on.
TEST(Ledger, SecondsThatCannotBeToldAreSaidToBeNone) {
  const auto told = [](double over_mg) {
    return ledger({{"wing", 300 * mg, Figure{(300 + over_mg) * mg, 0}, false}},
                  {.model_s_kg = Figure{-0.5 / mg, 0}})
        .value();
  };
  const auto none = told(0.09);
  EXPECT_THAT(none.sentences.back(), HasSubstr("which costs no seconds that could be told"));
  EXPECT_FALSE(none.dearest.has_value());
  EXPECT_THAT(told(0).sentences.back(), HasSubstr("The parts weighed are as planned, which costs"));
  EXPECT_EQ(told(0.4).dearest, 0u);
}

TEST(Ledger, BadPartsAreNamedAndAllAtOnce) {
  auto parts = small_model();
  parts[1].name = "blade A";
  parts[2].planned_kg.reset();
  parts[3].weighed_kg->value = -1;
  const auto f = ledger(parts, {});
  ASSERT_FALSE(f.has_value());
  std::vector<std::string> fields;
  for (const auto& p : f.error()) fields.push_back(p.field);
  EXPECT_THAT(fields, testing::ElementsAre("parts[1].name", "parts[2]", "parts[3].weighed_kg"));
  EXPECT_EQ(ledger({}, {}).error()[0].field, "parts");
}

}  // namespace
}  // namespace propwright::bench
