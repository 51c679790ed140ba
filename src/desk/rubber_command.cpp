#include <fmt/format.h>

#include "command.h"
#include "files.h"
#include "floor_files.h"
#include "propwright/answer/json_answers.h"
#include "propwright/base/constants.h"
#include "propwright/rubber/rubber.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

std::string rubber_text(const rubber::Batch& batch, const rubber::TestMotor& motor) {
  const auto text = [](double si, D dimension) {
    const auto printed = units::print(si, dimension, units::Profile::metric);
    return printed.number + " " + printed.unit;
  };
  TextTable table;
  table.add(
      {"energy given back from breaking turns", text(batch.energy_J_per_kg, D::energy_per_mass)});
  table.add(
      {"given back of what was put in", fmt::format("{:.1f} %", 100 * batch.returned_over_stored)});
  table.add(
      {"turns constant (turns = constant · L/√A)", fmt::format("{:.2f}", batch.turns_constant)});
  table.add({"torque constant", text(batch.torque_constant_Pa, D::modulus)});
  table.add(
      {"breaking turns of this motor",
       fmt::format("{:.0f}", rubber::breaking_turns(batch, motor.section_m2, motor.length_m))});
  table.add({"density", text(batch.density_kg_m3, D::density)});
  std::string out = table.text() + "\nTorque while unwinding, of the torque at breaking turns\n";
  TextTable curve({"turns", "torque"});
  for (int i = 0; i <= 10; ++i) {
    curve.add({fmt::format("{} %", 10 * i),
               fmt::format("{:.1f} %", 100 * batch.unwinding.value(i / 10.0))});
  }
  return out + curve.text(true) + bullet_list("Notes", batch.notes);
}

/// The module names a motor's measures as SI members; here they are options.
base::Problems as_options(base::Problems problems) {
  const std::pair<const char*, const char*> names[] = {{"section_m2", "--section"},
                                                       {"length_m", "--length"},
                                                       {"mass_kg", "--mass"},
                                                       {"breaking_turns", "--breaking-turns"}};
  for (base::Problem& problem : problems) {
    for (const auto& [member, option] : names) {
      if (problem.field == member) problem.field = option;
    }
  }
  return problems;
}

/// The measures of the tested motor, which a file of tables has in itself.
base::Problems wanting_measures(const Arguments& arguments) {
  base::Problems problems;
  for (const char* option : {"--section", "--length", "--mass"}) {
    if (arguments.has(option)) continue;
    problems.push_back({.field = option,
                        .remedy = "give the measure of the tested motor, or a file of tables that "
                                  "ends in .toml",
                        .message = "this is needed with a bench test"});
  }
  return problems;
}

Answer answer_rubber(const Arguments& arguments) {
  if (arguments.input.ends_with(".toml")) return answer_rubber_file(arguments);
  if (auto wanting = wanting_measures(arguments); !wanting.empty()) return wrong_usage(wanting);
  OptionReader reader(arguments);
  rubber::TestMotor motor;
  motor.section_m2 = reader.quantity("--section", D::area, {1e-8, 1e-4}).value_or(0);
  motor.length_m = reader.quantity("--length", D::length, {0.01, 5}).value_or(0);
  motor.mass_kg = reader.quantity("--mass", D::mass, {1e-6, 0.1}).value_or(0);
  const auto temperature_K = reader.quantity("--temperature", D::temperature,
                                             {base::celsius_0_K - 20, base::celsius_0_K + 50});
  const double breaking = reader.quantity("--breaking-turns", D::ratio, {1, 1e6}).value_or(0);
  const auto csv = read_text(arguments.input);
  if (!csv) reader.problems.push_back(csv.error().front());
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  auto batch = rubber::batch_from_test(*csv, motor, arguments.input, breaking);
  if (!batch) return no_answer(as_options(std::move(batch.error())));
  if (temperature_K) {
    batch->test_temperature_K = *temperature_K;
  } else {
    batch->notes.push_back("No temperature given: the test is taken to be made at 20 °C.");
  }
  return arguments.json() ? answer::rubber_json(*batch, motor) : rubber_text(*batch, motor);
}

}  // namespace

Command rubber_command() {
  const std::string motor = "The motor of the test", test = "The test";
  return {
      .name = "rubber",
      .purpose =
          "What bench tests say of rubber; breaking turns, a motor's life, strip sizes, torque "
          "meters",
      .input = "TEST.csv|RUBBER.toml",
      .input_help =
          "Columns turns, torque_winding_Nm, torque_unwinding_Nm; or a file of tables "
          "(docs/commands.md)",
      .input_required = true,
      .options = {{"--section", "A", motor, "Of all strands, e.g. \"2.6 mm2\""},
                  {"--length", "L", motor, "Of the loop, unloaded, e.g. \"230 mm\""},
                  {"--mass", "M", motor, "Of the rubber, e.g. \"0.55 g\""},
                  {"--temperature", "T", test, "Of the rubber, e.g. \"21 degC\"; left out: 20 °C"},
                  {"--breaking-turns", "N", test,
                   "Turns at which it broke; left out: the last row of the test"}},
      .example =
          "  propwright rubber my-test.csv --section \"2.6 mm2\" --length \"230 mm\" "
          "--mass \"0.55 g\"\n"
          "  propwright rubber examples/floor/box7.toml",
      .answer = answer_rubber};
}

}  // namespace propwright::desk
