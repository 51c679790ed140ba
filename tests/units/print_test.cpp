#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/units/units.h"

namespace propwright::units {
namespace {

using D = Dimension;
constexpr Profile metric = Profile::metric;
constexpr Profile inch = Profile::inch;

std::string joined(double si, Dimension dimension, Profile profile) {
  const Printed printed = print(si, dimension, profile);
  return printed.number + "|" + printed.unit;
}

struct PrintCase {
  double si;
  Dimension dimension;
  const char* metric;
  const char* inch;
};

TEST(Print, DigitsAreThoseTheTradeWorksTo) {
  for (const PrintCase& test : {PrintCase{0.001016, D::length, "1.02|mm", "0.040|in"},
                                {0.305, D::length, "305.0|mm", "12.008|in"},
                                {1.524, D::length, "1.52|m", "60.00|in"},
                                {8.5, D::length, "8.50|m", "27.9|ft"},
                                {2e-6, D::area, "2.00|mm²", "0.00310|in²"},
                                {0.1, D::area, "1000.0|cm²", "155.00|in²"},
                                {0.000004, D::mass, "4.0|mg", "4.0|mg"},
                                {0.00027, D::mass, "270|mg", "270|mg"},
                                {0.00125, D::mass, "1.250|g", "1.250|g"},
                                {0.0123, D::mass, "12.3|g", "12.3|g"},
                                {80.092, D::density, "80|kg/m³", "5.0|lb/ft³"},
                                {1.19931, D::density, "1.199|kg/m³", "0.0749|lb/ft³"},
                                {0.0005, D::areal_density, "0.50|g/m²", "32.3|mg/100 in²"},
                                {0.0015, D::line_density, "1.500|g/m", "0.0381|g/in"},
                                {0.012, D::force, "12.00|mN", "1.224|gf"},
                                {0.002966, D::torque, "2.966|mN·m", "0.420|in-oz"},
                                {base::pi / 4, D::angle, "45.0|°", "45.0|°"},
                                {294.15, D::temperature, "21.0|°C", "70|°F"},
                                {101325, D::pressure, "1013|hPa", "29.92|inHg"},
                                {0.9, D::speed, "0.90|m/s", "2.95|ft/s"},
                                {1.5, D::rotation, "90.0|rpm", "90.0|rpm"},
                                {25, D::rotation, "1500|rpm", "1500|rpm"},
                                {41.25, D::time, "41.2|s", "41.2|s"},
                                {1.8134e-5, D::viscosity, "18.13|µPa·s", "18.13|µPa·s"},
                                {9000, D::energy_per_mass, "9.00|kJ/kg", "3011|ft·lb/lb"},
                                {4.5e9, D::modulus, "4.50|GPa", "652670|psi"},
                                {1.1e6, D::modulus, "1.10|MPa", "160|psi"},
                                {3.33e-4, D::bending_stiffness, "333.0|N·mm²", "333.0|N·mm²"},
                                {0.01 / 60, D::relative_rate, "1.00|%/min", "1.00|%/min"},
                                {0.06, D::ratio, "0.060|", "0.060|"}}) {
    EXPECT_EQ(joined(test.si, test.dimension, metric), test.metric);
    EXPECT_EQ(joined(test.si, test.dimension, inch), test.inch);
  }
}

TEST(Print, BandIsChosenByTheRoundedNumber) {
  EXPECT_EQ(joined(0.009994, D::length, metric), "9.99|mm");
  EXPECT_EQ(joined(0.009996, D::length, metric), "10.0|mm");
  EXPECT_EQ(joined(0.99996, D::length, metric), "1.00|m");
  EXPECT_EQ(joined(0.0009996, D::mass, metric), "1.000|g");
}

TEST(Print, MinusIsTypographicAndZeroHasNone) {
  EXPECT_EQ(joined(-0.0015, D::length, metric), "\u22121.50|mm");
  EXPECT_EQ(joined(-1e-9, D::length, metric), "0.00|mm");
  EXPECT_EQ(joined(-0.0, D::torque, metric), "0.000|mN·m");
  EXPECT_EQ(joined(268.15, D::temperature, metric), "\u22125.0|°C");
}

TEST(Print, VastNumbersKeepSevenDigits) {
  EXPECT_EQ(joined(1e20, D::length, metric), "1.000000e+20|m");
  EXPECT_EQ(joined(1.5e308, D::mass, metric), "1.500000e+308|kg");
}

TEST(Print, NotFiniteIsABug) {
  EXPECT_THROW(print(std::nan(""), D::length, metric), std::invalid_argument);
  EXPECT_THROW(print_in(std::numeric_limits<double>::infinity(), D::length, "mm", 0),
               std::invalid_argument);
  EXPECT_THROW(to_exact_text(std::nan(""), D::length, metric), std::invalid_argument);
}

TEST(PrintIn, UsesTheNamedUnitAndDecimals) {
  const Printed mass = print_in(0.00125, D::mass, "mg", 0);
  EXPECT_EQ(mass.number, "1250");
  EXPECT_EQ(mass.unit, "mg");
  const Printed gauge = print_in(0.000254, D::length, "thou", 1);
  EXPECT_EQ(gauge.number, "10.0");
  EXPECT_EQ(gauge.unit, "thou");
  EXPECT_EQ(print_in(0.06, D::ratio, "%", 0).number, "6");
  EXPECT_EQ(print_in(0.00706155, D::torque, "in-oz", 2).number, "1.00");
  EXPECT_EQ(print_in(base::pi, D::angle, "deg", 0).unit, "°");
}

TEST(PrintIn, UnitOfAnotherDimensionIsABug) {
  EXPECT_THROW(print_in(1, D::mass, "mm", 0), std::invalid_argument);
  EXPECT_THROW(print_in(1, D::mass, "mg", -1), std::invalid_argument);
}

TEST(ToText, JoinsWithANoBreakSpaceAndDropsEmptyDecimals) {
  EXPECT_EQ(to_text(0.305, D::length, metric), "305\u00a0mm");
  EXPECT_EQ(to_text(0.3054, D::length, metric), "305.4\u00a0mm");
  EXPECT_EQ(to_text(0.00025, D::mass, metric), "250\u00a0mg");
  EXPECT_EQ(to_text(base::pi / 4, D::angle, metric), "45°");
  EXPECT_EQ(to_text(-base::pi / 8, D::angle, metric), "\u221222.5°");
  EXPECT_EQ(to_text(294.15, D::temperature, metric), "21\u00a0°C");
  EXPECT_EQ(to_text(0.125, D::ratio, metric), "0.125");
}

TEST(ToExactText, IsShortInANaturalUnit) {
  EXPECT_EQ(to_exact_text(*parse("305 mm", D::length), D::length, metric), "305 mm");
  EXPECT_EQ(to_exact_text(*parse("12 in", D::length), D::length, inch), "12 in");
  EXPECT_EQ(to_exact_text(*parse("12 in", D::length), D::length, metric), "304.8 mm");
  EXPECT_EQ(to_exact_text(*parse("8.5 m", D::length), D::length, metric), "8.5 m");
  EXPECT_EQ(to_exact_text(*parse("0.42 in-oz", D::torque), D::torque, inch), "0.42 in-oz");
  EXPECT_EQ(to_exact_text(*parse("21 °C", D::temperature), D::temperature, metric), "21 degC");
  EXPECT_EQ(to_exact_text(*parse("45°", D::angle), D::angle, metric), "45 deg");
  EXPECT_EQ(to_exact_text(*parse("1013 hPa", D::pressure), D::pressure, metric), "1013 hPa");
  EXPECT_EQ(to_exact_text(*parse("5 lb/ft3", D::density), D::density, inch), "5 lb/ft3");
  EXPECT_EQ(to_exact_text(*parse("1 %/min", D::relative_rate), D::relative_rate, metric),
            "1 %/min");
  EXPECT_EQ(to_exact_text(0.06, D::ratio, metric), "0.06");
  EXPECT_EQ(to_exact_text(-0.0, D::length, metric), "0 mm");
}

TEST(DurationText, IsRoundedToTheSecond) {
  EXPECT_EQ(duration_text(761), "12 min 41 s");
  EXPECT_EQ(duration_text(41.4), "41 s");
  EXPECT_EQ(duration_text(59.6), "1 min 0 s");
  EXPECT_EQ(duration_text(0), "0 s");
  EXPECT_EQ(duration_text(3661), "61 min 1 s");
  EXPECT_THROW(duration_text(-1), std::invalid_argument);
  EXPECT_THROW(duration_text(std::nan("")), std::invalid_argument);
}

}  // namespace
}  // namespace propwright::units
