// From readings to stiffness, axes and doubts.
#include "propwright/spar/reduce.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>

#include "propwright/base/constants.h"
#include "test_spars.h"

namespace propwright::spar {
namespace {

using test::measured;
using test::usual_rig;
using test::usual_spar;
using test::Wood;

RC_GTEST_PROP(Reduction, FindsTheModulusOfBothDirectionsInAnyShape, ()) {
  const Shape shape =
      *rc::gen::element(Shape::square, Shape::rectangular, Shape::round, Shape::rounded_square);
  Rig rig = usual_rig();
  rig.zero = *rc::gen::element(Zero::straight_line, Zero::unloaded_spar);
  const Wood wood{test::drawn(0.9e9, 3e9), test::drawn(0.9e9, 3e9), 80};
  const Measured m = measured(
      usual_spar("1", test::drawn(0.9, 1.3), test::drawn(0.9, 1.3), shape, wood), rig, wood);
  RC_ASSERT(std::abs(m.at_0.modulus_Pa.value / wood.modulus_0_Pa - 1) < 1e-7);
  RC_ASSERT(std::abs(m.at_90.modulus_Pa.value / wood.modulus_90_Pa - 1) < 1e-7);
  RC_ASSERT(std::abs(m.density_kg_m3 / 80 - 1) < 1e-12);
}

TEST(Reduction, UniformStiffnessIsThatOfTheStraightSparItself) {
  const Section s{Shape::square, 1.2e-3, 1.2e-3, 0};
  const Spar spar{"1", taper(s, {}, s, 0.178), 20e-6, 0};
  const Measured m = measured(spar, usual_rig());
  EXPECT_NEAR(m.at_0.ei_Nm2 / (1.5e9 * std::pow(1.2e-3, 4) / 12), 1, 1e-8);
  EXPECT_NEAR(m.at_0.ei_root_Nm2 / m.at_0.ei_Nm2, 1, 1e-8);
}

TEST(Reduction, StiffnessFallsAlongTheTaperAsTheSectionDoes) {
  const Measured m = measured(usual_spar("1", 1, 1.1), usual_rig());
  EXPECT_NEAR(ei_at_Nm2(m, Bending::depth, 0) / m.at_0.ei_root_Nm2, 1, 1e-14);
  EXPECT_NEAR(ei_at_Nm2(m, Bending::depth, 0.178) / m.at_0.ei_root_Nm2, std::pow(0.8 / 1.5, 4),
              1e-12);
  EXPECT_NEAR(ei_at_Nm2(m, Bending::width, 0.089) / m.at_90.ei_root_Nm2, std::pow(1.15 / 1.5, 4),
              1e-12);
}

TEST(Reduction, DoubtsAreTheDerivativesOfTheStiffness) {
  Rig rig = usual_rig();
  rig.repeatability_m = 4e-5, rig.load_sigma_kg = 1e-6;
  Spar spar = usual_spar("1");
  spar.size_sigma_m = 5e-6;
  const Readings readings = test::exact_readings(spar, {}, usual_rig());
  const Measured m = reduce(spar, readings, rig).value();
  const double up = readings.at_0_m[0] * 1.001, down = readings.at_0_m[0] * 0.999;
  const Measured high = reduce(spar, {{up}, readings.at_90_m, {}}, rig).value();
  const Measured low = reduce(spar, {{down}, readings.at_90_m, {}}, rig).value();
  const double slope = std::log(low.at_0.ei_Nm2 / high.at_0.ei_Nm2) / std::log(up / down);
  // One-sided derivative over 1 % within the module: curvature of second order, 0.1 %.
  EXPECT_NEAR(m.at_0.ei_sigma_relative, slope * 4e-5 / readings.at_0_m[0], 2e-3 * 4e-5 / 0.01);
  Spar thicker = spar;
  for (Station& s : thicker.taper.stations) s.section.width_m += 5e-6, s.section.depth_m += 5e-6;
  const Measured thick = reduce(thicker, readings, rig).value();
  // By small-deflection theory within the module: within a hundredth of this second-order effect.
  EXPECT_NEAR(
      m.at_0.size_sigma_relative / std::log(m.at_0.modulus_Pa.value / thick.at_0.modulus_Pa.value),
      1, 1e-2);
  EXPECT_NEAR(m.at_0.load_sigma_relative, 1e-6 / 0.27e-3, 1e-15);
  EXPECT_NEAR(std::pow(m.at_0.modulus_sigma_relative, 2),
              std::pow(m.at_0.ei_sigma_relative, 2) + std::pow(m.at_0.size_sigma_relative, 2) +
                  std::pow(m.at_0.load_sigma_relative, 2),
              1e-15);
}

TEST(Reduction, SizesAndLoadDoNotBlurAComparison) {
  Rig rig = usual_rig();
  rig.load_sigma_kg = 1e-5;
  Spar spar = usual_spar("1");
  spar.size_sigma_m = 2e-5;
  const Measured m = measured(spar, rig);
  EXPECT_DOUBLE_EQ(m.at_0.ei_sigma_relative, 0);
  EXPECT_GT(m.at_0.modulus_sigma_relative, 0.05);
}

/// Readings of a uniform round spar whose compliance is a tensor with the soft axis at `axis_deg`.
Readings tensor_readings(const Spar& spar, double ei_soft, double ei_stiff, double axis_deg,
                         const Rig& rig) {
  const auto read = [&](double direction_deg) {
    const double angle = (direction_deg - axis_deg) * base::degree_rad;
    const double compliance =
        std::pow(std::cos(angle), 2) / ei_soft + std::pow(std::sin(angle), 2) / ei_stiff;
    return reading_m({spar.taper, spar.mass_kg, Bending::uniform}, rig, 1 / compliance).value();
  };
  return {{read(0)}, {read(90)}, {read(45)}};
}

RC_GTEST_PROP(Axes, ThreeReadingsGiveBackTheComplianceTensor, ()) {
  const double axis = test::drawn(-89.9, 90), soft = test::drawn(2e-4, 4e-4),
               ratio = test::drawn(1.02, 1.4);
  const Spar spar = usual_spar("1", 1, 1, Shape::round);
  const auto readings = tensor_readings(spar, soft, ratio * soft, axis, usual_rig());
  const Axes axes = reduce(spar, readings, usual_rig()).value().axes;
  RC_ASSERT(axes.from_third_reading && axes.has_direction);
  RC_ASSERT(std::abs(axes.ei_soft_Nm2 / soft - 1) < 1e-6);
  RC_ASSERT(std::abs(axes.ei_stiff_Nm2 / (ratio * soft) - 1) < 1e-6);
  // 1e-7 of stiffness over a ratio of 2 % at least.
  RC_ASSERT(std::abs(std::remainder(axes.soft_axis_deg - axis, 180)) < 1e-3);
}

TEST(Axes, TurnedStiffnessFollowsTheTensorToo) {
  const Spar spar = usual_spar("1", 1, 1, Shape::round);
  const auto readings = tensor_readings(spar, 3e-4, 3.6e-4, 20, usual_rig());
  const Measured m = reduce(spar, readings, usual_rig()).value();
  EXPECT_NEAR(turned(m, 20).ei_Nm2 / 3e-4, 1, 1e-6);
  EXPECT_NEAR(turned(m, -70).ei_Nm2 / 3.6e-4, 1, 1e-6);
  EXPECT_NEAR(turned(m, 65).ei_Nm2 / (2 / (1 / 3e-4 + 1 / 3.6e-4)), 1, 1e-6);
  EXPECT_NEAR(turned(m, 0).ei_Nm2 / m.at_0.ei_Nm2, 1, 1e-12);
}

TEST(Axes, SpreadOfManyNoisyTestsIsTheStatedSigma) {
  Rig rig = usual_rig();
  rig.repeatability_m = 5e-5;
  const Spar spar = usual_spar("1", 1, 1, Shape::round);
  const Readings exact = tensor_readings(spar, 3e-4, 3.6e-4, 30, usual_rig());
  const Axes stated = reduce(spar, exact, rig).value().axes;
  std::mt19937_64 random(11);
  double axis = 0, soft = 0, by = 0;
  const int n = 1000;
  for (int k = 0; k < n; ++k) {
    const Readings r{{test::taken(exact.at_0_m[0], rig, random)},
                     {test::taken(exact.at_90_m[0], rig, random)},
                     {test::taken(exact.at_45_m[0], rig, random)}};
    const Axes a = reduce(spar, r, rig).value().axes;
    axis += std::pow(a.soft_axis_deg - 30, 2);
    soft += std::pow(std::log(a.ei_soft_Nm2 / 3e-4), 2);
    by += std::pow(a.softer_by_relative - stated.softer_by_relative, 2);
  }
  // A standard deviation from 1000 samples is known to 2.2 %; four of those, and a few percent
  // because the errors are not quite linear.
  EXPECT_NEAR(std::sqrt(axis / n) / stated.soft_axis_sigma_deg, 1, 0.12);
  EXPECT_NEAR(std::sqrt(soft / n) / stated.ei_soft_sigma_relative, 1, 0.12);
  EXPECT_NEAR(std::sqrt(by / n) / stated.softer_by_sigma, 1, 0.12);
}

TEST(Axes, ARoundSparWithinTheNoiseHasNoDirection) {
  Rig rig = usual_rig();
  rig.repeatability_m = 1e-4;
  const Spar spar = usual_spar("1", 1, 1, Shape::round);
  std::mt19937_64 random(3);
  int with_direction = 0;
  for (int k = 0; k < 1000; ++k) {
    const Readings r{{test::taken(0.012, rig, random)},
                     {test::taken(0.012, rig, random)},
                     {test::taken(0.012, rig, random)}};
    with_direction += reduce(spar, r, rig).value().axes.has_direction;
  }
  // One in twenty by chance; 1-sigma of the count is 7.
  EXPECT_NEAR(with_direction, 50, 28);
}

TEST(Axes, TwoReadingsTellOnlyWhichFaceIsSofter) {
  const Measured m = measured(usual_spar("1", 1, 1.1), usual_rig());
  EXPECT_FALSE(m.axes.from_third_reading);
  EXPECT_DOUBLE_EQ(m.axes.soft_axis_deg, 90);
  // A tapered and a uniform spar bend alike only to first order; at a tenth of the length the
  // second is a few parts in ten thousand.
  EXPECT_NEAR(m.axes.softer_by_relative, 2 * std::log(1.1), 5e-4);
  EXPECT_DOUBLE_EQ(measured(usual_spar("1", 1.1, 1), usual_rig()).axes.soft_axis_deg, 0);
}

TEST(Axes, AThirdReadingThatFitsNoSparIsNamed) {
  const Spar spar = usual_spar("1", 1, 1, Shape::round);
  const auto m = reduce(spar, {{0.010}, {0.010}, {0.030}}, usual_rig());
  ASSERT_FALSE(m.has_value());
  EXPECT_EQ(m.error().front().field, "reading_45_m");
}

TEST(Questions, NoneAboutOrdinaryBalsa) {
  EXPECT_TRUE(measured(usual_spar("1"), usual_rig()).questions.empty());
}

TEST(Questions, AReadingThatMeansTooStiffAWood) {
  const Wood wood{9e9, 9e9, 80};
  const Measured m = measured(usual_spar("1", 1, 1, Shape::square, wood), usual_rig(), wood);
  ASSERT_EQ(m.questions.size(), 2u);
  const Question& q = m.questions.front();
  EXPECT_EQ(q.field, "reading_0_m");
  EXPECT_NEAR(q.implied / 9e9, 1, 1e-6);
  EXPECT_NEAR(q.high / 3.2e9, 1, 1e-9);  // 40 MJ/kg at 80 kg/m3
  EXPECT_THAT(q.message, testing::HasSubstr("E = 9 GPa: too stiff for balsa of 80 kg/m3"));
  EXPECT_THAT(q.remedy, testing::HasSubstr("weight"));
}

TEST(Questions, AWeightThatIsNoBalsa) {
  Spar spar = usual_spar("1");
  spar.mass_kg *= 10;
  const auto m = reduce(spar, {{0.013}, {0.013}, {}}, usual_rig()).value();
  ASSERT_EQ(m.questions.size(), 1u);
  EXPECT_EQ(m.questions[0].field, "mass_kg");
  EXPECT_NEAR(m.questions[0].implied, 800, 1e-6);
}

TEST(Questions, ExchangedReadingsOfAFlatSpar) {
  const Spar spar = usual_spar("1", 1, 1.5);
  Readings readings = test::exact_readings(spar, {}, usual_rig());
  std::swap(readings.at_0_m, readings.at_90_m);
  const auto m = reduce(spar, readings, usual_rig()).value();
  EXPECT_THAT(m.questions, testing::Contains(
                               testing::Field(&Question::remedy, testing::HasSubstr("exchanged"))));
}

TEST(Questions, ARepeatThatDoesNotFit) {
  Rig rig = usual_rig();
  rig.repeatability_m = 5e-5;
  const auto m = reduce(usual_spar("1"), {{0.0130, 0.0131, 0.0140}, {0.0130}, {}}, rig).value();
  ASSERT_EQ(m.questions.size(), 1u);
  EXPECT_EQ(m.questions[0].field, "reading_0_m");
  EXPECT_NEAR(m.questions[0].implied, 1e-3, 1e-12);
}

TEST(BadInput, EveryProblemOfASparIsNamedAtOnce) {
  Spar spar = usual_spar("1", -1, 1);
  spar.mass_kg = 0, spar.size_sigma_m = -1;
  Rig rig = usual_rig();
  rig.load_at_m = 0.3;
  const auto m = reduce(spar, {{0.01}, {}, {}}, rig);
  ASSERT_FALSE(m.has_value());
  std::vector<std::string> fields;
  for (const base::Problem& p : m.error()) fields.push_back(p.field);
  EXPECT_THAT(fields, testing::ElementsAre("width_root_m", "width_mid_m", "width_tip_m",
                                           "load_at_m", "mass_kg", "size_sigma_m", "reading_90_m"));
}

TEST(BadInput, ADeflectionLargerThanTheSparIsNamedAtItsDirection) {
  const auto m = reduce(usual_spar("1"), {{0.3}, {0.01, -0.001}, {std::nan("")}}, usual_rig());
  ASSERT_FALSE(m.has_value());
  ASSERT_EQ(m.error().size(), 3u);
  EXPECT_EQ(m.error()[0].field, "reading_0_m");
  EXPECT_EQ(m.error()[0].value, "0.3 m");
  EXPECT_EQ(m.error()[1].field, "reading_90_m");
  EXPECT_EQ(m.error()[2].field, "reading_45_m");
  for (const base::Problem& p : m.error()) {
    EXPECT_FALSE(p.allowed.empty() || p.remedy.empty() || p.message.empty());
  }
}

RC_GTEST_PROP(BadInput, NothingHoweverWrongGivesANumberThatIsNone, ()) {
  const auto wild = [](double usual) {
    const double wrong = *rc::gen::element(0.0, -1.0, 1e-3, 1e3, 1e12, 1e-12, std::nan(""),
                                           std::numeric_limits<double>::infinity());
    return *rc::gen::inRange(0, 15) == 0 ? usual * wrong : usual;
  };
  const Shape shape = *rc::gen::element(Shape::square, Shape::round, Shape::rounded_square);
  const auto section = [&](double size_m) {
    return Section{shape, wild(size_m), wild(size_m), wild(1e-4)};
  };
  const Spar spar{"1", taper(section(1.5e-3), section(1.1e-3), section(0.8e-3), wild(0.178)),
                  wild(22e-6), wild(1e-6)};
  Rig rig{.load_kg = wild(0.27e-3), .load_at_m = wild(0.15), .read_at_m = wild(0.15)};
  rig.follows = *rc::gen::element(Follows::point_of_the_spar, Follows::fixed_distance);
  rig.zero = *rc::gen::element(Zero::straight_line, Zero::unloaded_spar);
  rig.zero_reading_m = wild(1e-3), rig.resolution_m = wild(1e-5), rig.repeatability_m = wild(1e-5);
  const auto m = reduce(spar, {{wild(0.012)}, {wild(0.013)}, {wild(0.0125)}}, rig);
  RC_CLASSIFY(m.has_value());
  if (!m) {
    for (const base::Problem& p : m.error()) {
      RC_ASSERT(!p.field.empty() && !p.value.empty() && !p.allowed.empty() && !p.remedy.empty());
    }
    return;
  }
  for (const Direction& d : {m->at_0, m->at_90}) {
    RC_ASSERT(std::isfinite(d.ei_Nm2) && d.ei_Nm2 > 0 && std::isfinite(d.modulus_Pa.low) &&
              std::isfinite(d.modulus_Pa.high) && std::isfinite(d.ei_sigma_relative));
  }
  RC_ASSERT(std::isfinite(m->axes.ei_soft_Nm2) && std::isfinite(m->axes.soft_axis_sigma_deg));
}

}  // namespace
}  // namespace propwright::spar
