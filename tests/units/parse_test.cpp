#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <thread>

#include "propwright/base/constants.h"
#include "propwright/units/units.h"

namespace propwright::units {
namespace {

using D = Dimension;

struct ParseCase {
  const char* text;
  Dimension dimension;
  double si;
};

// Factors are rounded once, products and quotients once each: three roundings of 1.1e-16.
constexpr double rounding = 4e-16;

void expect_read(const ParseCase& test) {
  const auto read = parse(test.text, test.dimension);
  ASSERT_TRUE(read) << test.text << ": " << base::to_line(read.error().front());
  EXPECT_NEAR(*read, test.si, rounding * std::abs(test.si)) << test.text;
}

// Derived here from the inch, the pound and standard gravity, so that no number is taken from the
// unit database it checks.
constexpr double inch_m = 0.0254, foot_m = 0.3048, pound = 0.45359237, ounce = pound / 16;
constexpr double g0 = base::gravity_m_s2;

TEST(Parse, ReadsTheExamplesOfTheHeader) {
  for (const ParseCase& test : {ParseCase{"12 in", D::length, 0.3048},
                                {"0.040in", D::length, 0.001016},
                                {"40 thou", D::length, 0.001016},
                                {"1/32 in", D::length, 0.00079375},
                                {"1 1/2 in", D::length, 0.0381},
                                {"305 mm", D::length, 0.305},
                                {"0.5 g", D::mass, 0.0005},
                                {"20 mg", D::mass, 2e-5},
                                {"5 lb/ft3", D::density, 5 * pound / (foot_m * foot_m * foot_m)},
                                {"0.42 in-oz", D::torque, 0.42 * ounce * g0 * inch_m},
                                {"21 °C", D::temperature, 294.15},
                                {"1013 hPa", D::pressure, 101300},
                                {"45 deg", D::angle, base::pi / 4},
                                {"90 rpm", D::rotation, 1.5},
                                {"8.5 m", D::length, 8.5},
                                {"50 %", D::ratio, 0.5},
                                {"1 %/min", D::relative_rate, 0.01 / 60}}) {
    expect_read(test);
  }
}

TEST(Parse, ReadsTheQuantitiesScriptsWrite) {
  for (const ParseCase& test : {ParseCase{"0.9 m/s", D::speed, 0.9},
                                {"1.5 rev/s", D::rotation, 1.5},
                                {"1.19 kg/m3", D::density, 1.19},
                                {"1.8e-5 Pa.s", D::viscosity, 1.8e-5},
                                {"72 degF", D::temperature, (72 + 459.67) / 1.8},
                                {"0.06", D::ratio, 0.06},
                                {"6 %", D::ratio, 0.06}}) {
    expect_read(test);
  }
}

TEST(Parse, DecimalUnitsGiveTheNearestDouble) {
  // Exact: the literal on the right is the double nearest to the decimal.
  EXPECT_EQ(*parse("0.7 mm", D::length), 0.0007);
  EXPECT_EQ(*parse("305 mm", D::length), 0.305);
  EXPECT_EQ(*parse("12 in", D::length), 0.3048);
  EXPECT_EQ(*parse("13 thou", D::length), 0.0003302);
  EXPECT_EQ(*parse("3 oz", D::mass), 0.085048569375);
  EXPECT_EQ(*parse("37 mg", D::mass), 37e-6);
  EXPECT_EQ(*parse("21 degC", D::temperature), 294.15);
  EXPECT_EQ(*parse("90 rpm", D::rotation), 1.5);
  EXPECT_EQ(*parse("36 km/h", D::speed), 10.0);
}

TEST(Parse, EveryUnitOfTheTradeHasItsFactor) {
  const double in_oz = ounce * g0 * inch_m;
  for (const ParseCase& test : {ParseCase{"1 um", D::length, 1e-6},
                                {"1 µm", D::length, 1e-6},
                                {"1 μm", D::length, 1e-6},
                                {"1 micron", D::length, 1e-6},
                                {"1 cm", D::length, 0.01},
                                {"1 ft", D::length, foot_m},
                                {"1 feet", D::length, foot_m},
                                {"1 inch", D::length, inch_m},
                                {"1 mil", D::length, 2.54e-5},
                                {"1 thousandths", D::length, 2.54e-5},
                                {"1 mm2", D::area, 1e-6},
                                {"1 cm²", D::area, 1e-4},
                                {"1 m2", D::area, 1},
                                {"1 in2", D::area, inch_m * inch_m},
                                {"1 sq in", D::area, inch_m * inch_m},
                                {"1 ft2", D::area, foot_m * foot_m},
                                {"1 kg", D::mass, 1},
                                {"1 oz", D::mass, ounce},
                                {"1 lb", D::mass, pound},
                                {"1 g/cm3", D::density, 1000},
                                {"1 kg/m³", D::density, 1},
                                {"1 kg/m^3", D::density, 1},
                                {"1 lb/cu ft", D::density, pound / (foot_m * foot_m * foot_m)},
                                {"1 g/m2", D::areal_density, 1e-3},
                                {"1 kg/m2", D::areal_density, 1},
                                {"1 mg/cm2", D::areal_density, 0.01},
                                {"1 mg/100in2", D::areal_density, 1e-6 / (100 * inch_m * inch_m)},
                                {"1 mg/100 in²", D::areal_density, 1e-6 / (100 * inch_m * inch_m)},
                                {"1 g/m", D::line_density, 1e-3},
                                {"1 kg/m", D::line_density, 1},
                                {"1 g/in", D::line_density, 1e-3 / inch_m},
                                {"1 mg/10cm", D::line_density, 1e-5},
                                {"1 mg/10 cm", D::line_density, 1e-5},
                                {"1 mg/m", D::line_density, 1e-6},
                                {"1 N", D::force, 1},
                                {"1 mN", D::force, 1e-3},
                                {"1 gf", D::force, 1e-3 * g0},
                                {"1 kgf", D::force, g0},
                                {"1 ozf", D::force, ounce * g0},
                                {"1 lbf", D::force, pound * g0},
                                {"1 in-oz", D::torque, in_oz},
                                {"1 oz-in", D::torque, in_oz},
                                {"1 in.oz", D::torque, in_oz},
                                {"1 oz·in", D::torque, in_oz},
                                {"1 ozf-in", D::torque, in_oz},
                                {"1 oz in", D::torque, in_oz},
                                {"1 oz*in", D::torque, in_oz},
                                {"1 in-lb", D::torque, pound * g0 * inch_m},
                                {"1 g-cm", D::torque, 1e-5 * g0},
                                {"1 gf-cm", D::torque, 1e-5 * g0},
                                {"1 mN·m", D::torque, 1e-3},
                                {"1 mNm", D::torque, 1e-3},
                                {"1 N·mm", D::torque, 1e-3},
                                {"1 N.m", D::torque, 1},
                                {"1 Nm", D::torque, 1},
                                {"1 N m", D::torque, 1},
                                {"1 rad", D::angle, 1},
                                {"180°", D::angle, base::pi},
                                {"180 degrees", D::angle, base::pi},
                                {"300 K", D::temperature, 300},
                                {"20 C", D::temperature, 293.15},
                                {"68 °F", D::temperature, 293.15},
                                {"68 F", D::temperature, 293.15},
                                {"−40 °C", D::temperature, 233.15},
                                {"-40 degF", D::temperature, 233.15},
                                {"20 deg C", D::temperature, 293.15},
                                {"1 hPa", D::pressure, 100},
                                {"1 mbar", D::pressure, 100},
                                {"1 kPa", D::pressure, 1000},
                                {"1 Pa", D::pressure, 1},
                                {"1 ft/s", D::speed, foot_m},
                                {"3.6 km/h", D::speed, 1},
                                {"1 mph", D::speed, 0.44704},
                                {"60 rev/min", D::rotation, 1},
                                {"1 Hz", D::rotation, 1},
                                {"1 rad/s", D::rotation, 1 / (2 * base::pi)},
                                {"1 s", D::time, 1},
                                {"1 min", D::time, 60},
                                {"1.5 h", D::time, 5400},
                                {"1 Pa·s", D::viscosity, 1},
                                {"1 mPa.s", D::viscosity, 1e-3},
                                {"1 µPa·s", D::viscosity, 1e-6},
                                {"1 J/kg", D::energy_per_mass, 1},
                                {"1 kJ/kg", D::energy_per_mass, 1000},
                                {"1 ft-lb/lb", D::energy_per_mass, foot_m * g0},
                                {"1 ft.lbf/lb", D::energy_per_mass, foot_m * g0},
                                {"1 GPa", D::modulus, 1e9},
                                {"1 MPa", D::modulus, 1e6},
                                {"1 N/mm2", D::modulus, 1e6},
                                {"1 Pa", D::modulus, 1},
                                {"1 psi", D::modulus, pound * g0 / (inch_m * inch_m)},
                                {"1 N·m2", D::bending_stiffness, 1},
                                {"1 N·mm²", D::bending_stiffness, 1e-6},
                                {"1 %/h", D::relative_rate, 0.01 / 3600},
                                {"2 1/s", D::relative_rate, 2},
                                {"0.5 /min", D::relative_rate, 0.5 / 60}}) {
    expect_read(test);
  }
}

TEST(Parse, ColumnsOfMercuryAreConventional) {
  // Conventional inch and millimetre of mercury, 3386.389 Pa and 133.3224 Pa, NIST SP 811 App. B
  // (from memory), printed to 7 digits.
  EXPECT_NEAR(*parse("1 inHg", D::pressure), 3386.389, 0.0005);
  EXPECT_NEAR(*parse("1 mmHg", D::pressure), 133.3224, 0.00005);
}

TEST(Parse, ReadsFractionsAndMixedNumbers) {
  EXPECT_EQ(*parse("1/32 in", D::length), 0.0254 / 32);
  EXPECT_EQ(*parse("1-1/2 in", D::length), 0.0381);
  EXPECT_EQ(*parse("1½ in", D::length), 0.0381);
  EXPECT_EQ(*parse("½in", D::length), 0.0127);
  EXPECT_EQ(*parse("-1 1/2 in", D::length), -0.0381);
  EXPECT_EQ(*parse("−1/4 in", D::length), -0.00635);
  EXPECT_EQ(*parse("3/4", D::ratio), 0.75);
  EXPECT_EQ(*parse("2 1/2 %", D::ratio), 0.025);
}

TEST(Parse, ReadsSignsExponentsAndTheSpacesOfTypography) {
  EXPECT_EQ(*parse("  +12\u00a0mm ", D::length), 0.012);
  EXPECT_EQ(*parse("12\u202fmm", D::length), 0.012);
  EXPECT_EQ(*parse("1.2E+1mm", D::length), 0.012);
  EXPECT_EQ(*parse(".5 m", D::length), 0.5);
  EXPECT_EQ(*parse("5. m", D::length), 5.0);
  EXPECT_EQ(*parse("12 in.", D::length), 0.3048);
  EXPECT_EQ(*parse("1e-3 kg / m^3", D::density), 1e-3);
}

TEST(Parse, ReadsDurationsInParts) {
  EXPECT_EQ(*parse("12 min 41 s", D::time), 761);
  EXPECT_EQ(*parse("12min41s", D::time), 761);
  EXPECT_EQ(*parse("1 h 2 min 3.5 s", D::time), 3723.5);
  EXPECT_EQ(*parse("12:41", D::time), 761);
  EXPECT_EQ(*parse("0:07.5", D::time), 7.5);
  EXPECT_EQ(*parse("75 min 3 s", D::time), 4503);
}

TEST(Parse, IsSafeFromManyThreads) {
  std::vector<double> read(8, 0.0);
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < read.size(); ++i) {
    threads.emplace_back([&read, i] { read[i] = parse("12 in", D::length).value_or(0); });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_THAT(read, testing::Each(0.3048));
}

TEST(AcceptedUnits, ListsWhatToType) {
  EXPECT_EQ(accepted_units(D::length), "mm, cm, m, in, thou, ft, um");
  EXPECT_EQ(accepted_units(D::ratio), "a pure number, %");
}

}  // namespace
}  // namespace propwright::units
