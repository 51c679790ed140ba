#include "propwright/air/air.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace propwright::air {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Weather fair() {
  return {.temperature_K = 293.15, .pressure_Pa = 100000.0};
}

std::vector<std::string> fields(const base::Expected<Air>& air) {
  std::vector<std::string> names;
  if (air) return names;
  for (const base::Problem& problem : air.error()) {
    names.push_back(problem.field);
    EXPECT_EQ(problem.kind, base::Kind::bad_input);
    EXPECT_FALSE(problem.allowed.empty() || problem.remedy.empty() || problem.message.empty());
  }
  return names;
}

TEST(MoistAir, StationPressureInRangeNeedsNoNote) {
  const auto air = moist_air(fair());
  ASSERT_TRUE(air);
  // CIPM-2007 at 20 degC, 1000 hPa, 50 %, printed to 1e-6.
  EXPECT_NEAR(air->density_kg_m3, 1.183557, 1e-6);
  // Sutherland at 20 degC, printed to 1e-11 Pa s.
  EXPECT_NEAR(air->viscosity_Pa_s, 1.813406e-5, 1e-11);
  EXPECT_EQ(air->pressure_Pa, 100000.0);
  EXPECT_EQ(air->temperature_K, 293.15);
  EXPECT_THAT(air->notes, IsEmpty());
}

TEST(MoistAir, WithoutPressureAndAltitudeSeaLevelIsAssumedAndSaid) {
  const auto air = moist_air({});
  ASSERT_TRUE(air);
  EXPECT_DOUBLE_EQ(air->pressure_Pa, 101325.0);
  EXPECT_NEAR(air->density_kg_m3, 1.199314, 1e-6);
  EXPECT_THAT(air->notes, ElementsAre(HasSubstr("sea level, 1013.25 hPa, was assumed")));
}

TEST(MoistAir, WithoutPressureTheStandardAtmosphereAtTheAltitudeIsTakenAndSaid) {
  Weather weather;
  weather.altitude_m = 500;
  const auto air = moist_air(weather);
  ASSERT_TRUE(air);
  EXPECT_NEAR(air->pressure_Pa, 95460.84, 0.005);  // ISO 2533:1975, printed to 0.01 Pa
  EXPECT_THAT(air->notes, ElementsAre(HasSubstr("standard atmosphere at 500 m, 954.6 hPa")));
}

TEST(MoistAir, ReducedPressureIsTakenBackToTheHall) {
  Weather weather{.temperature_K = 284.90, .pressure_Pa = 101325.0, .pressure_is_reduced = true};
  weather.altitude_m = 500;
  const auto air = moist_air(weather);
  ASSERT_TRUE(air);
  EXPECT_NEAR(air->pressure_Pa, 95460.84, 0.005);
  EXPECT_THAT(air->notes, Contains(HasSubstr("1013.2 hPa reduced to sea level are 954.6 hPa")));
}

TEST(MoistAir, ReducedPressureWithoutAltitudeIsRefused) {
  Weather weather = fair();
  weather.pressure_is_reduced = true;
  EXPECT_THAT(fields(moist_air(weather)), ElementsAre("altitude"));
}

TEST(MoistAir, ReadingThatLooksReducedIsNoted) {
  Weather weather = fair();
  weather.pressure_Pa = 101300.0;
  weather.altitude_m = 600;
  EXPECT_THAT(moist_air(weather)->notes, ElementsAre(HasSubstr("unusual at 600 m")));
  weather.altitude_m = 100;
  EXPECT_THAT(moist_air(weather)->notes, IsEmpty());
}

TEST(MoistAir, OutsideTheStatedRangeOfTheFormulaIsNoted) {
  Weather weather = fair();
  weather.temperature_K = 288.15;
  EXPECT_THAT(moist_air(weather)->notes, IsEmpty());
  weather.temperature_K = 287.15;
  EXPECT_THAT(moist_air(weather)->notes,
              ElementsAre(HasSubstr("14.0\u00a0°C is outside the 15 to 27")));
  weather.temperature_K = 301.15;
  weather.pressure_Pa = 59e3;
  EXPECT_THAT(moist_air(weather)->notes, ElementsAre(HasSubstr("28.0\u00a0°C is outside"),
                                                     HasSubstr("590.0 hPa is outside the 600")));
}

TEST(MoistAir, EveryValueOutOfRangeIsReportedAtOnce) {
  const Weather weather{.temperature_K = 20,
                        .pressure_Pa = 1013.0,
                        .pressure_is_reduced = false,
                        .altitude_m = 8848,
                        .relative_humidity = 50};
  EXPECT_THAT(fields(moist_air(weather)),
              ElementsAre("temperature", "pressure", "altitude", "humidity"));
}

TEST(MoistAir, EndsOfTheRangesAreAllowedAndBeyondIsNot) {
  for (const double temperature_K : {253.15, 323.15}) {
    for (const double pressure_Pa : {50e3, 110e3}) {
      for (const double humidity : {0.0, 1.0}) {
        const auto air = moist_air({.temperature_K = temperature_K,
                                    .pressure_Pa = pressure_Pa,
                                    .pressure_is_reduced = false,
                                    .altitude_m = std::nullopt,
                                    .relative_humidity = humidity});
        ASSERT_TRUE(air);
        EXPECT_TRUE(std::isfinite(air->density_kg_m3));
      }
    }
  }
  Weather weather = fair();
  weather.temperature_K = 253.14;
  EXPECT_THAT(fields(moist_air(weather)), ElementsAre("temperature"));
  weather = fair();
  weather.pressure_Pa = 110001.0;
  EXPECT_THAT(fields(moist_air(weather)), ElementsAre("pressure"));
  weather = fair();
  weather.relative_humidity = 1.01;
  EXPECT_THAT(fields(moist_air(weather)), ElementsAre("humidity"));
  weather = fair();
  weather.altitude_m = -501;
  EXPECT_THAT(fields(moist_air(weather)), ElementsAre("altitude"));
}

TEST(MoistAir, NotANumberIsRefused) {
  Weather weather;
  weather.temperature_K = std::nan("");
  weather.pressure_Pa = std::nan("");
  weather.altitude_m = std::nan("");
  weather.relative_humidity = std::nan("");
  EXPECT_THAT(fields(moist_air(weather)),
              ElementsAre("temperature", "pressure", "altitude", "humidity"));
}

TEST(MoistAir, HallTooHighForTheReducedPressureIsRefused) {
  Weather weather = fair();
  weather.pressure_Pa = 60e3;
  weather.pressure_is_reduced = true;
  weather.altitude_m = 5000;
  const auto air = moist_air(weather);
  ASSERT_THAT(fields(air), ElementsAre("pressure"));
  EXPECT_THAT(air.error().front().value, HasSubstr("in the hall"));
}

TEST(StationPressure, InStandardAirIsTheStandardAtmosphere) {
  for (const double altitude_m : {-500.0, 0.0, 300.0, 500.0, 1829.0, 5000.0}) {
    const StandardAtmosphere standard = standard_atmosphere(altitude_m);
    // The same power of the same ratio, reached by two roundings each: 5.26 * 4 * 1.1e-16.
    EXPECT_NEAR(
        station_pressure_Pa(101325, altitude_m, standard.temperature_K) / standard.pressure_Pa, 1.0,
        3e-15);
  }
}

TEST(StationPressure, ReducingBackGivesTheReducedPressure) {
  // Seen from the station the sea lies at minus its altitude and is warmer by the lapse.
  for (const double altitude_m : {-200.0, 150.0, 500.0, 1829.0}) {
    for (const double temperature_K : {263.15, 293.15, 308.15}) {
      const double station_Pa = station_pressure_Pa(100800, altitude_m, temperature_K);
      const double sea_level_K = temperature_K + 0.0065 * altitude_m;
      EXPECT_NEAR(station_pressure_Pa(station_Pa, -altitude_m, sea_level_K), 100800, 1e-9);
    }
  }
}

TEST(StationPressure, ColdAirThinsFasterThanWarm) {
  EXPECT_LT(station_pressure_Pa(101325, 1000, 263.15), station_pressure_Pa(101325, 1000, 303.15));
}

TEST(CipmDensity, MoistAirIsLighterThanDryAir) {
  EXPECT_LT(cipm_density_kg_m3(298.15, 101325, 1.0), cipm_density_kg_m3(298.15, 101325, 0.0));
}

TEST(AirFormulas, CallsOutsideTheirRangeAreBugs) {
  EXPECT_THROW(cipm_density_kg_m3(20, 101325, 0.5), std::invalid_argument);
  EXPECT_THROW(cipm_density_kg_m3(293.15, 1013, 0.5), std::invalid_argument);
  EXPECT_THROW(cipm_density_kg_m3(293.15, 101325, 50), std::invalid_argument);
  EXPECT_THROW(cipm_density_kg_m3(std::nan(""), 101325, 0.5), std::invalid_argument);
  EXPECT_THROW(sutherland_viscosity_Pa_s(20), std::invalid_argument);
  EXPECT_THROW(standard_atmosphere(11001), std::invalid_argument);
  EXPECT_THROW(station_pressure_Pa(101325, 20000, 288.15), std::invalid_argument);
  EXPECT_THROW(station_pressure_Pa(std::nan(""), 0, 288.15), std::invalid_argument);
}

}  // namespace
}  // namespace propwright::air
