// The weight budget of the propeller against arithmetic by hand.
#include <gmock/gmock.h>

#include <cmath>

#include "parts.h"
#include "propwright/base/constants.h"
#include "sample_job.h"

namespace propwright::brief {
namespace {

/// A blade 150 mm long and 40 mm wide all along, so that areas can be worked out by hand.
std::vector<form::OutlineRow> plank() {
  std::vector<form::OutlineRow> rows;
  for (const double r : {0.04, 0.09, 0.14, 0.19}) rows.push_back({r, 0.04, 0.016, 0.024});
  return rows;
}

Job flat_job() {
  Job job;
  job.propeller.diameter_m = 0.38;
  job.propeller.camber = 0;
  return job;
}

double mass_of(const std::vector<PartMass>& parts, const std::string& name) {
  for (const auto& part : parts) {
    if (part.part == name) return part.mass_kg;
  }
  ADD_FAILURE() << "no part " << name;
  return 0;
}

TEST(Weights, SheetBladesAreAreaTimesThicknessTimesDensity) {
  Job job = flat_job();
  job.propeller.build.sheet_thickness_m = 0.0008;
  job.propeller.build.wood_density_kg_m3 = 100;
  // 2 x 60 cm2 x 0.8 mm x 100 kg/m3 = 960 mg
  EXPECT_NEAR(mass_of(propeller_weights(job, plank()), "Blades"), 0.96e-3, 1e-12);
}

TEST(Weights, SheetOf5Point3GramsPer36InchesMatchesTheTrade) {
  // 1/32 x 3 x 36 in at 6 lb/ft3 weighs 5.3 g (common practice), here as two halves.
  Job job = flat_job();
  job.propeller.build.sheet_thickness_m = 0.0254 / 32;
  job.propeller.build.wood_density_kg_m3 = 6 * 16.018463374;
  const double chord_m = 3 * 0.0254, length_m = 18 * 0.0254;
  const std::vector<form::OutlineRow> rows = {{0.01, chord_m, 0.03, chord_m - 0.03},
                                              {0.01 + length_m, chord_m, 0.03, chord_m - 0.03}};
  EXPECT_NEAR(mass_of(propeller_weights(job, rows), "Blades"), 5.3e-3, 0.05e-3);
}

TEST(Weights, CamberWidensTheSheet) {
  Job job = flat_job();
  const double flat = mass_of(propeller_weights(job, plank()), "Blades");
  job.propeller.camber = 0.1;
  const double arched = mass_of(propeller_weights(job, plank()), "Blades");
  // Arc over chord for a camber of 0.1: half angle 2 atan(0.2), s/c = a/sin(a) = 1.02650.
  const double half = 2 * std::atan(0.2);
  EXPECT_NEAR(arched / flat, half / std::sin(half), 1e-12);
}

TEST(Weights, BuiltUpBladesAreOutlineRibsAndFilm) {
  Job job = flat_job();
  BladeBuild& b = job.propeller.build;
  b.kind = BladeKind::built_up;
  b.wood_density_kg_m3 = 100;
  b.outline_size_m = 0.001;
  b.rib_count = 5;
  b.rib_depth_m = 0.002;
  b.rib_thickness_m = 0.001;
  b.covering_kg_m2 = 0.001;
  b.covered_sides = 2;
  const auto parts = propeller_weights(job, plank());
  EXPECT_NEAR(mass_of(parts, "Outlines"), 2 * 0.30 * 1e-6 * 100, 1e-12);     // 60 mg
  EXPECT_NEAR(mass_of(parts, "Ribs"), 2 * 5 * 0.04 * 2e-6 * 100, 1e-12);     // 80 mg
  EXPECT_NEAR(mass_of(parts, "Covering"), 2 * 2 * 0.006 * 0.001, 1e-12);     // 24 mg
  EXPECT_NEAR(mass_of(parts, "Glue"), 0.06 * (60 + 80 + 24) * 1e-6, 1e-12);  // 6 %
}

TEST(Weights, TaperedSquareSparMatchesItsFrustum) {
  Job job = flat_job();
  Spar& s = job.propeller.spar;
  s = {0.00203, 0.00203, 0.00089, 0.00089, 0.2, 72, 0};
  const double a = 0.00203 * 0.00203, c = 0.00089 * 0.00089;
  const double frustum_m3 = 0.2 / 3 * (a + c + std::sqrt(a * c));  // pyramid frustum, exact
  EXPECT_NEAR(mass_of(propeller_weights(job, plank()), "Spars"), 2 * frustum_m3 * 72, 1e-12);
  // Builders' archive: about 32.3 mg for 200 mm of it at 72 kg/m3.
  EXPECT_NEAR(mass_of(propeller_weights(job, plank()), "Spars") / 2, 32.3e-6, 0.1e-6);
}

TEST(Weights, SparTaperedInWidthAloneIsAWedge) {
  Job job = flat_job();
  job.propeller.spar = {0.003, 0.002, 0.001, 0.002, 0.1, 100, 0};
  // mean width 2 mm x 2 mm x 100 mm x 100 kg/m3 = 40 mg each
  EXPECT_NEAR(mass_of(propeller_weights(job, plank()), "Spars"), 80e-6, 1e-12);
}

TEST(Weights, ShaftIsWireOfSteel) {
  Job job = flat_job();
  job.propeller.hub.shaft_diameter_m = 0.0005;
  job.propeller.hub.shaft_length_m = 0.045;
  // pi/4 x 0.25 mm2 x 45 mm x 7.86 mg/mm3 = 69.4 mg
  EXPECT_NEAR(mass_of(propeller_weights(job, plank()), "Shaft"), 69.4e-6, 0.1e-6);
}

TEST(Weights, PartsThatAreNotThereAreNotListed) {
  Job job = flat_job();
  job.propeller.hub.shaft_length_m = 0;
  std::vector<std::string> names;
  for (const auto& part : propeller_weights(job, plank())) names.push_back(part.part);
  EXPECT_THAT(names, testing::ElementsAre("Blades", "Glue"));
}

TEST(Weights, BasisSpeaksInTheUnitsOfTheJob) {
  Job job = flat_job();
  job.propeller.build.sheet_thickness_m = 0.0008;
  EXPECT_EQ(propeller_weights(job, plank())[0].basis,
            "2 × 60\u00a0cm² of 0.80\u00a0mm sheet at 80\u00a0kg/m³");
  job.info.units = UnitProfile::inch;
  EXPECT_THAT(propeller_weights(job, plank())[0].basis, testing::HasSubstr("in sheet at 5"));
}

}  // namespace
}  // namespace propwright::brief
