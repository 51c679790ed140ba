#include "propwright/base/table.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace propwright::base {
namespace {

using ::testing::ElementsAre;

const std::vector<ColumnRule> rules{{.name = "turns", .low = 0, .high = 5000},
                                    {.name = "torque_Nm", .low = 0, .high = 0.1},
                                    {.name = "weight", .required = false}};

TEST(Table, ReadsNumbersByColumnName) {
  const auto table = Table::read("turns,torque_Nm\n0,0\n100,1.5e-3\n", rules, "test.csv");
  ASSERT_TRUE(table);
  EXPECT_EQ(table->rows(), 2U);
  EXPECT_THAT(table->column("turns"), ElementsAre(0, 100));
  EXPECT_THAT(table->column("torque_Nm"), ElementsAre(0, 1.5e-3));
  EXPECT_TRUE(table->has("turns"));
  EXPECT_FALSE(table->has("weight"));
  EXPECT_TRUE(table->column("weight").empty());
}

TEST(Table, CommentsBlankLinesCarriageReturnsAndSpacesChangeNothing) {
  const auto table = Table::read(
      "# Source: bench, 3 March\r\n\r\nturns , torque_Nm\r\n# first run\r\n 0,\t0\r\n+100 , "
      "0.0015\r\n",
      rules, "test.csv");
  ASSERT_TRUE(table);
  EXPECT_THAT(table->column("turns"), ElementsAre(0, 100));
  EXPECT_EQ(table->line(0), 5);
  EXPECT_EQ(table->line(1), 6);
}

TEST(Table, LastLineNeedsNoLineEnd) {
  const auto table = Table::read("turns,torque_Nm\n1,0.01", rules, "test.csv");
  ASSERT_TRUE(table);
  EXPECT_EQ(table->rows(), 1U);
}

TEST(Table, MarkOfASpreadsheetBeforeTheFirstColumnIsSkipped) {
  const auto table = Table::read("\xEF\xBB\xBFturns,torque_Nm\n1,0.01\n", rules, "test.csv");
  ASSERT_TRUE(table);
  EXPECT_THAT(table->column("turns"), ElementsAre(1));
}

TEST(Table, QuotesHoldCommas) {
  const auto table =
      Table::read("turns,torque_Nm,note\n1,0.01,\"warm, 21 degC\"\n", rules, "test.csv", true);
  ASSERT_TRUE(table);
  EXPECT_EQ(table->text(0, "note"), "warm, 21 degC");
  EXPECT_EQ(table->text(0, "absent"), "");
  EXPECT_EQ(table->text(7, "note"), "");
}

TEST(Table, SemicolonsPartColumnsWhereDecimalsHaveAComma) {
  const auto table =
      Table::read("turns;torque;words\n100;0,0015;\"a;b\"\n-1,5e2;2;1,2,3\n", {}, "t.csv", true);
  ASSERT_TRUE(table);
  EXPECT_EQ(table->column("torque"), (std::vector<double>{0.0015, 2}));
  EXPECT_EQ(table->column("turns"), (std::vector<double>{100, -150}));
  EXPECT_EQ(table->text(0, "torque"), "0,0015");
  EXPECT_EQ(table->number_text(0, "torque"), "0.0015");
  EXPECT_EQ(table->text(0, "words"), "a;b");
  EXPECT_EQ(table->text(1, "words"), "1,2,3");
}

TEST(Table, QuotedCellsKeepSpacesAndLineBreaksAndLinesAreCountedOn) {
  const auto table = Table::read(
      "# first\nturns,torque_Nm,note\n1,0.01,\" one\ntwo \"\n# more\n2,\" 0.02 \",3/32\" strip\n",
      rules, "test.csv", true);
  ASSERT_TRUE(table);
  EXPECT_EQ(table->text(0, "note"), " one\ntwo ");
  EXPECT_EQ(table->text(1, "note"), "3/32\" strip");
  EXPECT_THAT(table->column("torque_Nm"), ElementsAre(0.01, 0.02));
  EXPECT_EQ(table->line(0), 3);
  EXPECT_EQ(table->line(1), 6);
  EXPECT_THAT(table->passed_over(), ElementsAre(1, 5));
}

TEST(Table, LinesAreCountedOverRemarksWhereAProblemIsTold) {
  const auto table =
      Table::read("# 1\nturns,torque_Nm\n# \"3\n#4,5\n0,x\n#6\n0,0,0\n", rules, "bench.csv");
  ASSERT_FALSE(table);
  ASSERT_EQ(table.error().size(), 2U);
  EXPECT_EQ(table.error()[0].line, 5);
  EXPECT_EQ(table.error()[1].line, 7);
}

TEST(Table, ColumnsMayBePartedByTabs) {
  const auto table = Table::read("turns\ttorque_Nm\n1\t0,01\n", rules, "test.csv");
  ASSERT_TRUE(table);
  EXPECT_THAT(table->column("torque_Nm"), ElementsAre(0.01));
}

TEST(Table, EveryProblemIsReportedAtOnceWithItsLine) {
  const auto table = Table::read(
      "turns,torque_Nm\n"
      "0,0\n"
      "ten,0\n"      // line 3: no number
      "20,0.2\n"     // line 4: out of range
      "30,0.01,5\n"  // line 5: a cell too many
      "-1,nan\n",    // line 6: out of range, and no number
      rules, "bench.csv");
  ASSERT_FALSE(table);
  const Problems& problems = table.error();
  ASSERT_EQ(problems.size(), 5U);
  const int lines[] = {3, 4, 5, 6, 6};
  const char* const fields[] = {"turns", "torque_Nm", "", "turns", "torque_Nm"};
  for (std::size_t i = 0; i < problems.size(); ++i) {
    EXPECT_EQ(problems[i].file, "bench.csv");
    EXPECT_EQ(problems[i].line, lines[i]);
    EXPECT_EQ(problems[i].field, fields[i]);
    EXPECT_FALSE(problems[i].remedy.empty());
  }
  EXPECT_EQ(problems[0].value, "ten");
  EXPECT_EQ(problems[1].allowed, "0 to 0.1");
}

TEST(Table, MissingAndUnknownColumnsAreNamedWithTheNearestKnownOne) {
  const auto table = Table::read("turns,torqe_Nm\n1,0.01\n", rules, "bench.csv");
  ASSERT_FALSE(table);
  ASSERT_EQ(table.error().size(), 2U);
  EXPECT_EQ(table.error()[0].field, "torque_Nm");
  EXPECT_EQ(table.error()[0].message, "this column is missing");
  EXPECT_EQ(table.error()[1].field, "torqe_Nm");
  EXPECT_EQ(table.error()[1].remedy, "did you mean torque_Nm?");
}

TEST(Table, OptionalColumnMayBeThere) {
  const auto table = Table::read("turns,torque_Nm,weight\n1,0.01,2\n", rules, "bench.csv");
  ASSERT_TRUE(table);
  EXPECT_THAT(table->column("weight"), ElementsAre(2));
}

TEST(Table, OtherColumnsPassOnlyWhenAllowed) {
  const char* const csv = "turns,torque_Nm,remark\n1,0.01,good\n";
  EXPECT_FALSE(Table::read(csv, rules, "bench.csv"));
  const auto table = Table::read(csv, rules, "bench.csv", true);
  ASSERT_TRUE(table);
  EXPECT_EQ(table->text(0, "remark"), "good");
}

TEST(Table, ColumnGivenTwiceIsAProblem) {
  const auto table = Table::read("turns,torque_Nm,turns\n1,0.01,2\n", rules, "bench.csv");
  ASSERT_FALSE(table);
  EXPECT_EQ(table.error().front().field, "turns");
  EXPECT_EQ(table.error().front().message, "the column is there twice");
}

TEST(Table, TextWithoutRowsIsAProblem) {
  for (const char* const csv : {"", "# nothing\n", "turns,torque_Nm\n"}) {
    const auto table = Table::read(csv, rules, "bench.csv");
    ASSERT_FALSE(table);
    EXPECT_EQ(table.error().back().message, "no rows found");
  }
}

TEST(Table, SpoiltOnlyRowIsReportedAsSuchAlone) {
  const auto table = Table::read("turns,torque_Nm\n1\n", rules, "bench.csv");
  ASSERT_FALSE(table);
  ASSERT_EQ(table.error().size(), 1U);
  EXPECT_EQ(table.error().front().value, "1 cell");
}

TEST(Table, WhatOnlyLooksLikeANumberIsRefused) {
  for (const char* const cell : {"", "1 mm", "1.2.3", "0x10", "inf", "nan", "+-5", "1e999"}) {
    EXPECT_FALSE(Table::read(fmt::format("turns,torque_Nm\n{},0.01\n", cell), rules, "b.csv"))
        << cell;
  }
}

RC_GTEST_PROP(Table, NumbersPrintedInFullComeBackExactly, ()) {
  const auto values = *rc::gen::nonEmpty(rc::gen::container<std::vector<double>>(
      rc::gen::map(rc::gen::arbitrary<int>(), [](int i) { return i / 977.0; })));
  std::string csv = "value\n";
  for (const double value : values) csv += fmt::format("{}\n", value);
  const auto table = Table::read(csv, {{.name = "value"}}, "numbers.csv");
  RC_ASSERT(table.has_value());
  RC_ASSERT(table->column("value") == values);
}

RC_GTEST_PROP(Table, AnyTextGivesATableOrProblems, ()) {
  const auto text = *rc::gen::container<std::string>(
      rc::gen::elementOf(std::string("turns,tqe_Nm\n\r\"#0123456789.+-e \xEF\xBB\xBF")));
  const auto table = Table::read("turns,torque_Nm\n" + text, rules, "fuzz.csv");
  if (table) {
    RC_ASSERT(table->column("turns").size() == table->rows());
  } else {
    RC_ASSERT(!table.error().empty());
  }
}

}  // namespace
}  // namespace propwright::base
