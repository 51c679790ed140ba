#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <bit>
#include <cmath>
#include <cstdint>

#include "propwright/units/units.h"

namespace propwright::units {
namespace {

constexpr int dimensions = static_cast<int>(Dimension::ratio) + 1;

Dimension any_dimension() {
  return static_cast<Dimension>(*rc::gen::inRange(0, dimensions));
}

Profile any_profile() {
  return *rc::gen::element(Profile::metric, Profile::inch);
}

/// Temperatures are absolute and cannot be negative.
double allowed_for(Dimension dimension, double si) {
  return dimension == Dimension::temperature ? std::abs(si) : si;
}

/// Values a builder meets: three to seventeen digits over many decades.
/// Temperatures from 1 K on: below it a whole degree Fahrenheit rounds to less than absolute zero.
double any_value(Dimension dimension) {
  const double mantissa = *rc::gen::inRange(-9'999'999, 9'999'999) * 1e-6;
  const int decade = *rc::gen::inRange(-9, 7);
  const double value = mantissa * std::pow(10.0, decade);
  return dimension == Dimension::temperature ? 1 + std::abs(value) : value;
}

void expect_a_value_or_a_problem(const std::string& text, Dimension dimension) {
  const auto read = parse(text, dimension);
  if (read) {
    RC_ASSERT(std::isfinite(*read));
  } else {
    RC_ASSERT(read.error().size() == 1u);
    RC_ASSERT(!read.error().front().message.empty());
    RC_ASSERT(!read.error().front().remedy.empty());
  }
}

TEST(ParseProperty, AnyBytesGiveAFiniteValueOrOneProblem) {
  EXPECT_TRUE(rc::check(
      [] { expect_a_value_or_a_problem(*rc::gen::arbitrary<std::string>(), any_dimension()); }));
}

TEST(ParseProperty, AnyMixOfThePiecesOfQuantitiesGivesAFiniteValueOrOneProblem) {
  EXPECT_TRUE(rc::check([] {
    const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
        "1", "0", "9", "12", ".", ",", "-", "+", "/", " ", "e", "E", ":", "in", "mm", "oz", "s",
        "min", "h", "%", "deg", "°", "C", "µ", "·", "²", "−", "½", "\u00a0", "1e308", "1e-308",
        "lb", "ft3", "\"", "'", "(", ")", "^", "*", "\xff", "\xc2", "K", "nan", "inf"));
    std::string text;
    for (const std::string& piece : pieces) text += piece;
    expect_a_value_or_a_problem(text, any_dimension());
  }));
}

TEST(ToExactTextProperty, OrdinaryValuesReadBackToTheSameBits) {
  EXPECT_TRUE(rc::check([] {
    const Dimension dimension = any_dimension();
    const double si = any_value(dimension) + 0.0;
    const std::string text = to_exact_text(si, dimension, any_profile());
    const auto read = parse(text, dimension);
    RC_LOG() << text << "\n";
    RC_ASSERT(read.has_value());
    RC_ASSERT(*read == si);
  }));
}

TEST(ToExactTextProperty, EveryFiniteDoubleReadsBackToTheSameBits) {
  EXPECT_TRUE(rc::check([] {
    const auto bits = *rc::gen::resize(rc::kNominalSize, rc::gen::arbitrary<std::uint64_t>());
    const Dimension dimension = any_dimension();
    const double si = allowed_for(dimension, std::bit_cast<double>(bits));
    RC_PRE(std::isfinite(si));
    const std::string text = to_exact_text(si, dimension, any_profile());
    const auto read = parse(text, dimension);
    RC_LOG() << text << "\n";
    RC_ASSERT(read.has_value());
    RC_ASSERT(*read == si);
  }));
}

TEST(PrintProperty, PrintedTextReadsBackWithinHalfItsLastDigit) {
  EXPECT_TRUE(rc::check([] {
    const Dimension dimension = any_dimension();
    const Profile profile = any_profile();
    const double si = any_value(dimension);
    const Printed printed = print(si, dimension, profile);
    const auto read = parse(printed.number + " " + printed.unit, dimension);
    RC_LOG() << printed.number << " " << printed.unit << "\n";
    RC_ASSERT(read.has_value());
    const auto point = printed.number.find('.');
    const int decimals =
        point == std::string::npos ? 0 : static_cast<int>(printed.number.size() - point) - 1;
    const double unit_step =
        *parse("1 " + printed.unit, dimension) - *parse("0 " + printed.unit, dimension);
    // Half the last printed digit, and the rounding of the conversion to and fro.
    const double allowed = unit_step * 0.5 * std::pow(10.0, -decimals) * (1 + 1e-9);
    RC_ASSERT(std::abs(*read - si) <= allowed + 4e-16 * std::abs(si));
  }));
}

TEST(PrintProperty, ToTextIsReadBackByParse) {
  EXPECT_TRUE(rc::check([] {
    const Dimension dimension = any_dimension();
    RC_ASSERT(
        parse(to_text(any_value(dimension), dimension, any_profile()), dimension).has_value());
  }));
}

}  // namespace
}  // namespace propwright::units
