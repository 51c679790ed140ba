// Jobs put together for the computations, the examples first.
#include <gmock/gmock.h>

#include "parts.h"
#include "propwright/base/constants.h"
#include "propwright/flex/parts.h"
#include "sample_job.h"

namespace propwright::brief {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

Assembly example(const std::string& name) {
  const Job job = read_sample(example_text(name));
  Attachments attachments;
  if (!job.rubber.test_file.empty()) {
    attachments.rubber_test_csv = file_text("examples/" + job.rubber.test_file);
  }
  auto made = assemble(job, attachments);
  if (!made) throw std::logic_error(to_line(made.error().front()));
  return *made;
}

void expect_sound(const Assembly& made) {
  EXPECT_GT(made.air.density_kg_m3, 1.1);
  EXPECT_LT(made.air.density_kg_m3, 1.3);
  EXPECT_TRUE(rotor::Rotor::make(made.blade, made.family, made.rotor_options).has_value());
  EXPECT_GT(made.outline.size(), 30u);
  EXPECT_GT(made.motor.breaking_turns, made.launch.wound_turns);
  EXPECT_GT(made.airframe.trim_cl, 0.4);
  EXPECT_LT(made.airframe.trim_cl, 1.2);
  for (const auto& part : made.weights) {
    EXPECT_GT(part.mass_kg, 0) << part.part;
    EXPECT_FALSE(part.basis.empty());
  }
  EXPECT_THAT(made.notes, Not(Contains(HasSubstr("Outside the rules"))));
  EXPECT_THAT(made.notes, Not(Contains(HasSubstr("Lift over drag"))));
}

TEST(Assemble, Lantern46) {
  const Assembly made = example("lantern46");
  expect_sound(made);
  EXPECT_NEAR(made.set_pitch_m, 0.78, 1e-12);
  EXPECT_EQ(made.form.pitch_m, 0.76);
  EXPECT_GT(made.reset_turn_rad, 0);
  // Propellers of 3 g models weigh 0.5 to 0.8 g (builders' lists).
  EXPECT_GT(made.propeller_mass_kg, 0.5e-3);
  EXPECT_LT(made.propeller_mass_kg, 0.8e-3);
  EXPECT_EQ(made.launch.margin_m, 0.5);
  EXPECT_EQ(made.hall.contact, flight::Contact::light);
  EXPECT_EQ(made.friction_fraction, 0.02);
}

TEST(Assemble, Heron55) {
  const Assembly made = example("heron55");
  expect_sound(made);
  // Propellers of this class weigh 0.24 to 0.30 g (builders' lists).
  EXPECT_GT(made.propeller_mass_kg, 0.24e-3);
  EXPECT_LT(made.propeller_mass_kg, 0.30e-3);
  EXPECT_EQ(made.hall.contact, flight::Contact::light);
  // Breaking turns 10.6 L/sqrt(A).
  EXPECT_NEAR(made.motor.breaking_turns, 10.6 * 0.167 / std::sqrt(2 * 1.25e-3 * 1.03e-3), 1e-6);
  EXPECT_NEAR(made.launch.wound_turns, 0.92 * made.motor.breaking_turns, 1e-9);
}

TEST(Assemble, Sparrow16) {
  const Assembly made = example("sparrow16");
  expect_sound(made);
  EXPECT_NEAR(made.set_pitch_m, 16 * 0.0254, 1e-12);
  // The motor's mass follows from its size: A L rho.
  EXPECT_NEAR(made.motor.mass_kg, 2 * 0.052 * 0.042 * 16 * std::pow(0.0254, 3) * 930, 1e-9);
  EXPECT_GT(made.propeller_mass_kg, 0.4e-3);
  EXPECT_LT(made.propeller_mass_kg, 1.2e-3);
}

Assembly sample_assembly(const std::string& more = {}) {
  return assemble(read_sample(std::string(sample) + more), {}).value();
}

TEST(Assemble, MassIsTheSumOfTheParts) {
  const Assembly made = sample_assembly();
  double sum_kg = 0;
  for (const auto& part : made.weights) sum_kg += part.mass_kg;
  EXPECT_DOUBLE_EQ(made.propeller_mass_kg, sum_kg);
}

TEST(Assemble, MotorOfKnownMassAloneGetsItsSection) {
  const std::string text = sample_with("strip_width = \"2.3 mm\"", "mass = \"1.4 g\"");
  const Assembly made = assemble(read_sample(text), {}).value();
  EXPECT_NEAR(made.motor.section_m2, 1.4e-3 / (930 * 0.315), 1e-15);
  EXPECT_NEAR(made.motor.mass_kg, 1.4e-3, 1e-15);
}

TEST(Assemble, MotorTakesTheHallsTemperatureUnlessItHasItsOwn) {
  EXPECT_DOUBLE_EQ(sample_assembly("[air]\ntemperature = \"25 degC\"\n").motor.temperature_K,
                   298.15);
  const std::string own = sample_with("strip_width", "temperature = \"18 degC\"\nstrip_width");
  EXPECT_DOUBLE_EQ(assemble(read_sample(own), {}).value().motor.temperature_K, 291.15);
}

TEST(Assemble, BrokenRulesAreNotedNotRefused) {
  const Assembly made = sample_assembly(
      "[rules]\nleast_mass = \"3.5 g\"\nlargest_rubber = \"1 g\"\nlargest_propeller = \"350 mm\"\n"
      "largest_span = \"450 mm\"\n");
  EXPECT_THAT(made.notes, Contains(HasSubstr("the model weighs 3")));
  EXPECT_THAT(made.notes, Contains(HasSubstr("Outside the rules: the rubber")));
  EXPECT_THAT(made.notes, Contains(HasSubstr("the propeller's diameter is 380\u00a0mm")));
  EXPECT_THAT(made.notes, Contains(HasSubstr("Outside the rules: the span")));
}

TEST(Assemble, LimitsMetExactlyAreWithinTheRules) {
  const Assembly made = sample_assembly(
      "[rules]\nleast_mass = \"3 g\"\nlargest_propeller = \"38 cm\"\nlargest_span = \"0.46 m\"\n");
  EXPECT_THAT(made.notes, Not(Contains(HasSubstr("Outside the rules"))));
}

TEST(Assemble, WoodBalsaNeverHasIsNoted) {
  EXPECT_THAT(sample_assembly("[propeller.blade]\nwood_density = \"350 kg/m3\"\n").notes,
              Contains(HasSubstr("Blade wood of 350\u00a0kg/m³ is unusual")));
}

TEST(Assemble, NotesOfAirAndRubberAreCarried) {
  const Assembly made = sample_assembly();
  EXPECT_THAT(made.notes, Contains(HasSubstr("sea level")));
  EXPECT_FALSE(made.motor.batch.measured);
}

TEST(Assemble, WindingPastBreakingTurnsIsAProblem) {
  const auto made =
      assemble(read_sample(std::string(sample) + "[launch]\nwound_turns = 5000\n"), {});
  ASSERT_FALSE(made.has_value());
  EXPECT_EQ(made.error().front().field, "launch.wound_turns");
  EXPECT_THAT(made.error().front().allowed, HasSubstr("up to "));
}

TEST(Assemble, MissingAttachmentsAreProblems) {
  Job job = read_sample();
  job.propeller.polar_file = "polars.csv";
  EXPECT_EQ(assemble(job, {}).error().front().field, "propeller.polar_file");
  job.propeller.polar_file.clear();
  job.rubber.test_file = "test.csv";
  EXPECT_EQ(assemble(job, {}).error().front().field, "rubber.test_file");
}

TEST(Assemble, BenchTestReplacesTheDefaultBatch) {
  Job job = read_sample();
  job.rubber.test_file = "test.csv";
  job.rubber.test_section_m2 = 5e-6;
  job.rubber.test_length_m = 0.3;
  job.rubber.test_mass_kg = 1.4e-3;
  job.rubber.test_temperature_K = 295.15;
  const std::string csv =
      "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n300,0.0012,0.0009\n700,0.0018,0.0013\n"
      "1000,0.0023,0.0017\n1200,0.004,0.003\n1300,0.008,0.008\n";
  const auto made = assemble(job, {.rubber_test_csv = csv, .polar_csv = {}});
  ASSERT_TRUE(made.has_value()) << to_line(made.error().front());
  EXPECT_TRUE(made->motor.batch.measured);
  EXPECT_EQ(made->motor.batch.test_temperature_K, 295.15);
  // kappa = N sqrt(A)/L of the test.
  EXPECT_NEAR(made->motor.batch.turns_constant, 1300 * std::sqrt(5e-6) / 0.3, 1e-9);
}

TEST(Assemble, ImportedPolarReplacesTheBuiltInFamily) {
  Job job = read_sample();
  job.propeller.polar_file = "plate.csv";
  std::string csv = "alpha_deg,cl,cd\n";
  for (int a = -4; a <= 10; ++a) {
    csv += std::to_string(a) + "," + std::to_string(0.1 * a) + "," +
           std::to_string(0.03 + 0.0005 * a * a) + "\n";
  }
  const auto made = assemble(job, {.rubber_test_csv = {}, .polar_csv = csv});
  ASSERT_TRUE(made.has_value()) << to_line(made.error().front());
  EXPECT_NEAR(made->family.at_camber(0.06).at(2 * base::degree_rad, std::log(5000.0)).cl, 0.2,
              1e-6);
}

TEST(MakeSetup, CarriesTheAssembly) {
  const Assembly made = sample_assembly("[propeller.hub]\nfriction = 0.03\nfreewheels = true\n");
  const flight::Setup setup = make_setup(made, {});
  EXPECT_EQ(setup.friction_fraction, 0.03);
  EXPECT_TRUE(setup.freewheels);
  EXPECT_EQ(setup.density_kg_m3, made.air.density_kg_m3);
  EXPECT_EQ(setup.launch.wound_turns, made.launch.wound_turns);
  EXPECT_EQ(setup.airframe.wing_area_m2, made.airframe.wing_area_m2);
}

TEST(Assemble, BladeFliesRigidUnlessTheJobSaysOtherwise) {
  EXPECT_FALSE(example("lantern46").beam);
  Job job = read_sample(example_text("heron55"));
  job.propeller.flex.fly = true;
  const auto made = assemble(job, {});
  ASSERT_TRUE(made);
  ASSERT_TRUE(made->beam);
  EXPECT_DOUBLE_EQ(made->beam->rows.front().radius_m, job.propeller.spar.root_radius_m);
  EXPECT_NEAR(made->beam->rows.back().radius_m, job.propeller.diameter_m / 2, 1e-9);
  // 2 mm square at 75 kg/m3 and 21.25 MJ/kg.
  EXPECT_NEAR(made->beam->rows.front().flapwise_Nm2, 21.25e6 * 75 * 16e-12 / 12, 1e-9);
}

TEST(Assemble, BendTestSetsTheStiffnessOfTheBlade) {
  Job job = read_sample(example_text("heron55"));
  job.propeller.flex = {.fly = true,
                        .twist_mass_kg = {},
                        .twist_arm_m = {},
                        .twist_radius_m = {},
                        .twist_angle_rad = {},
                        .bend_mass_kg = 0.3e-3,
                        .bend_radius_m = 0.2,
                        .bend_deflection_m = 0.006};
  const auto made = assemble(job, {});
  ASSERT_TRUE(made);
  EXPECT_NEAR(flex::bend_compliance(*made->beam, 0.2), 0.006 / (0.3e-3 * base::gravity_m_s2), 1e-6);
}

}  // namespace
}  // namespace propwright::brief
