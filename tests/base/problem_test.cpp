#include "propwright/base/problem.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace propwright::base {
namespace {

TEST(ToLine, CompleteProblemNamesEverythingInOrder) {
  const Problem problem{.file = "job.toml",
                        .line = 12,
                        .field = "propeller.diameter",
                        .value = "52 mm",
                        .allowed = "60 to 700 mm",
                        .remedy = "did you mean 52 cm?",
                        .message = "the propeller is too small"};
  EXPECT_EQ(to_line(problem),
            "job.toml:12: propeller.diameter: the propeller is too small (given: 52 mm); allowed: "
            "60 to 700 mm; did you mean 52 cm?");
}

TEST(ToLine, UnknownPartsAreLeftOut) {
  EXPECT_EQ(to_line({.message = "no rows found"}), "no rows found");
  EXPECT_EQ(to_line({.file = "a.csv", .message = "no rows found"}), "a.csv: no rows found");
  EXPECT_EQ(to_line({.line = 3, .message = "not a number"}), "line 3: not a number");
  EXPECT_EQ(to_line({.field = "turns", .remedy = "wind less", .message = "too many"}),
            "turns: too many; wind less");
}

TEST(Fail, KeepsEveryProblemOfTheList) {
  const Expected<int> one = fail(Problem{.message = "first"});
  ASSERT_FALSE(one.has_value());
  EXPECT_EQ(one.error().size(), 1U);
  const Expected<int> two = fail(Problems{{.message = "first"}, {.message = "second"}});
  ASSERT_FALSE(two.has_value());
  EXPECT_EQ(two.error().back().message, "second");
}

const std::vector<std::string> names{"turns", "torque_winding_Nm", "torque_unwinding_Nm", "note"};

TEST(NearestName, FindsTheNameOneSlipAway) {
  EXPECT_EQ(nearest_name("tunrs", names), "turns");
  EXPECT_EQ(nearest_name("torque_winding_nm", names), "torque_winding_Nm");
  EXPECT_EQ(nearest_name("torque_unwindin_Nm", names), "torque_unwinding_Nm");
}

TEST(NearestName, GivesNothingWhenMoreThanAThirdOfTheLettersDiffer) {
  EXPECT_EQ(nearest_name("rpm", names), "");
  EXPECT_EQ(nearest_name("diameter", names), "");
  EXPECT_EQ(nearest_name("turns", {}), "");
}

RC_GTEST_PROP(NearestName, ANameIsNearestToItself, ()) {
  const auto index = *rc::gen::inRange<std::size_t>(0, names.size());
  RC_ASSERT(nearest_name(names[index], names) == names[index]);
}

}  // namespace
}  // namespace propwright::base
