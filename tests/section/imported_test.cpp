// Tables the builder brings along.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "propwright/base/constants.h"
#include "propwright/section/section.h"
#include "simple_polars.h"

namespace propwright::section {
namespace {

using base::degree_rad;

const std::string two_re =
    "# made up for this test\n"
    "re,camber,alpha_deg,cl,cd,cm\n"
    "2000,0.05,-4,-0.10,0.090,-0.05\n"
    "2000,0.05,0,0.20,0.080,-0.08\n"
    "2000,0.05,5,0.70,0.095,-0.08\n"
    "2000,0.05,10,0.90,0.150,-0.10\n"
    "8000,0.05,-4,-0.05,0.050,-0.06\n"
    "8000,0.05,0,0.35,0.040,-0.10\n"
    "8000,0.05,5,0.85,0.050,-0.10\n"
    "8000,0.05,10,1.10,0.110,-0.11\n";

TEST(ImportedPolar, ReturnsItsOwnRows) {
  const auto family = Family::read(two_re, "two_re.csv");
  ASSERT_TRUE(family) << base::to_line(family.error().front());
  const Polar polar = family->at_camber(0.05);
  const Coefficients c = polar.at(5 * degree_rad, std::log(8000));
  EXPECT_NEAR(c.cl, 0.85, 1e-12);  // rounding only
  EXPECT_NEAR(c.cd, 0.050, 1e-12);
  EXPECT_NEAR(polar.cm(5 * degree_rad, std::log(8000)), -0.10, 1e-12);
  EXPECT_NEAR(polar.at(-4 * degree_rad, std::log(2000)).cd, 0.090, 1e-12);
}

TEST(ImportedPolar, IsMonotoneWhereItsRowsAre) {
  const Polar polar = Family::read(two_re, "two_re.csv")->at_camber(0.05);
  for (const double re : {2000.0, 8000.0}) {
    double last = -1e9;
    for (double degree = -4; degree <= 10; degree += 0.05) {
      const double cl = polar.at(degree * degree_rad, std::log(re)).cl;
      EXPECT_GE(cl, last) << degree;
      last = cl;
    }
    double last_cd = 1e9;
    for (double degree = -4; degree <= 0; degree += 0.05) {
      const double cd = polar.at(degree * degree_rad, std::log(re)).cd;
      EXPECT_LE(cd, last_cd + 1e-12) << degree;
      last_cd = cd;
    }
  }
  double last = 0;
  for (double re = 2000; re <= 8000; re += 50) {
    const double cl = polar.at(2 * degree_rad, std::log(re)).cl;
    EXPECT_GE(cl, last) << re;
    last = cl;
  }
}

TEST(ImportedPolar, OneCamberServesEveryCamber) {
  const auto family = Family::read(two_re, "two_re.csv");
  EXPECT_DOUBLE_EQ(family->at_camber(0.0).at(0.05, 8).cl, family->at_camber(0.1).at(0.05, 8).cl);
}

TEST(ImportedPolar, WithoutReynoldsColumnNothingDependsOnIt) {
  const Polar polar = test::linear_family(5.7, -0.02, 0.03).at_camber(0);
  for (const double re : {500.0, 1e4, 1e5}) {
    const Coefficients c = polar.at(0.1, std::log(re));
    EXPECT_NEAR(c.cl, 5.7 * 0.12, 1e-12) << re;  // rounding
    EXPECT_NEAR(c.cd, 0.03, 1e-12) << re;
    EXPECT_DOUBLE_EQ(c.cl_ln_re, 0);
    EXPECT_NEAR(c.cd_ln_re, 0, 1e-12);
    EXPECT_TRUE(polar.in_table(0.1, std::log(re)));
  }
}

TEST(ImportedPolar, OneReynoldsNumberMeansNoDependence) {
  const Polar polar =
      Family::read("re,alpha_deg,cl,cd\n5000,-4,-0.2,0.05\n5000,0,0.2,0.04\n5000,8,0.9,0.08\n",
                   "one_re.csv")
          ->at_camber(0.03);
  EXPECT_NEAR(polar.at(0, std::log(500)).cd, 0.04, 1e-12);
  EXPECT_NEAR(polar.at(0, std::log(50000)).cd, 0.04, 1e-12);
}

TEST(ImportedPolar, WithoutMomentColumnSaysSo) {
  const auto family = Family::read("alpha_deg,cl,cd\n0,0.2,0.04\n8,0.9,0.08\n", "plain.csv");
  ASSERT_TRUE(family);
  EXPECT_FALSE(family->has_cm());
  EXPECT_DOUBLE_EQ(family->at_camber(0).cm(0.05, 8), 0);
}

TEST(ImportedPolar, PlateDragIsTheOneAskedFor) {
  const auto family = Family::read("alpha_deg,cl,cd\n0,0.2,0.04\n8,0.9,0.08\n", "plain.csv", 1.9);
  // 1.9 for the plate and the table's least drag for friction.
  EXPECT_NEAR(family->at_camber(0).at(base::pi / 2, 9).cd, 1.94, 1e-9);
}

TEST(ImportedPolar, BadRowsAreNamedWithLineAndColumn) {
  const auto family =
      Family::read("# a comment\nalpha_deg,cl,cd\n0,0.2,0.04\n4,x,0.05\n8,0.9,-0.08\n", "bad.csv");
  ASSERT_FALSE(family);
  const auto has = [&](int line, const std::string& field) {
    return std::any_of(
        family.error().begin(), family.error().end(), [&](const base::Problem& problem) {
          return problem.file == "bad.csv" && problem.line == line && problem.field == field;
        });
  };
  EXPECT_TRUE(has(4, "cl"));
  EXPECT_TRUE(has(5, "cd"));
  EXPECT_EQ(family.error().size(), 2u);
}

TEST(ImportedPolar, MissingColumnIsNamed) {
  const auto family = Family::read("alpha_deg,cl\n0,0.2\n4,0.5\n", "bad.csv");
  ASSERT_FALSE(family);
  EXPECT_EQ(family.error().front().field, "cd");
}

TEST(ImportedPolar, RepeatedAngleIsNamedWithItsLine) {
  const auto family =
      Family::read("alpha_deg,cl,cd\n0,0.2,0.04\n4,0.5,0.05\n4,0.6,0.05\n", "b.csv");
  ASSERT_FALSE(family);
  EXPECT_EQ(family.error().front().line, 4);
  EXPECT_EQ(family.error().front().field, "alpha_deg");
}

TEST(ImportedPolar, OneAngleIsTooFew) {
  const auto family = Family::read("alpha_deg,cl,cd\n0,0.2,0.04\n", "short.csv");
  ASSERT_FALSE(family);
  EXPECT_EQ(family.error().front().field, "alpha_deg");
}

TEST(ImportedPolar, EmptyTextIsAProblemNotACrash) {
  for (const char* text : {"", "# nothing here\n", "alpha_deg,cl,cd\n"}) {
    const auto family = Family::read(text, "empty.csv");
    ASSERT_FALSE(family) << text;
    EXPECT_EQ(family.error().front().file, "empty.csv");
  }
}

// A table over the whole turn leaves no room for an extension.
TEST(ImportedPolar, FullCircleTableIsUsedAsItIs) {
  std::string csv = "alpha_deg,cl,cd\n";
  for (int degree = -180; degree <= 180; degree += 15) {
    csv += std::to_string(degree) + "," + std::to_string(std::sin(2 * degree * degree_rad)) + "," +
           std::to_string(0.05 + 1.2 * std::pow(std::sin(degree * degree_rad), 2)) + "\n";
  }
  const auto family = Family::read(csv, "round.csv");
  ASSERT_TRUE(family) << base::to_line(family.error().front());
  const Polar polar = family->at_camber(0);
  EXPECT_NEAR(polar.at(45 * degree_rad, 9).cl, 1, 1e-6);  // six decimals in the text
  EXPECT_NEAR(polar.at(135 * degree_rad, 9).cl, -1, 1e-6);
  EXPECT_NEAR(polar.at(-90 * degree_rad, 9).cd, 1.25, 1e-6);
}

}  // namespace
}  // namespace propwright::section
