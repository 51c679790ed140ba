#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "program.h"

namespace propwright::desk::test {
namespace {

TEST(Air, GivesTheKeysOfTheContract) {
  const Outcome air =
      run("air --temperature '15 degC' --pressure '1013.25 hPa' --humidity 0 --json");
  ASSERT_EQ(air.status, 0) << air.err;
  const auto json = air.json();
  // ISO 2533 has 1.225 kg/m3 and 1.7894e-5 Pa s for dry air; CIPM-2007 adds 400 ppm of CO2 and the
  // compressibility, 5e-4 together.
  EXPECT_NEAR(json.at("density_kg_m3").get<double>(), 1.225, 1e-3);
  EXPECT_NEAR(json.at("viscosity_Pa_s").get<double>(), 1.7894e-5, 1e-9);
  EXPECT_TRUE(json.at("notes").is_array());
}

TEST(Air, TakesInchUnitsAndGivesBothToPeople) {
  const Outcome air = run("air --temperature '59 degF' --pressure '29.92 inHg' --humidity '50 %'");
  ASSERT_EQ(air.status, 0) << air.err;
  EXPECT_THAT(air.out, testing::HasSubstr("kg/m³"));
  EXPECT_THAT(air.out, testing::HasSubstr("lb/ft³"));
}

TEST(Air, WithAnAltitudeThePressureMustBeSaidToBeOneOrTheOther) {
  const std::string words =
      "air --temperature '15 degC' --pressure '1009 hPa' --humidity 0.5 --altitude '420 m' --json";
  const Outcome unsaid = run(words);
  EXPECT_EQ(unsaid.status, 3);
  EXPECT_EQ(problem_of(unsaid, "--pressure").at("allowed"), "with --station or --reduced");
  const Outcome station = run(words + " --station"), reduced = run(words + " --reduced");
  EXPECT_EQ(station.json().at("pressure_Pa"), 100900.0);
  // 420 m of air weigh about 49 hPa (12 Pa a metre near the ground).
  EXPECT_NEAR(reduced.json().at("pressure_Pa").get<double>(), 96000, 300);
  EXPECT_EQ(run(words + " --station --reduced").status, 2);
}

TEST(Air, TakesANegativeAltitude) {
  const Outcome air = run("air --temperature '15 degC' --altitude '-20 m' --json");
  ASSERT_EQ(air.status, 0) << air.out;
  EXPECT_GT(air.json().at("pressure_Pa").get<double>(), 101325);
}

}  // namespace
}  // namespace propwright::desk::test
