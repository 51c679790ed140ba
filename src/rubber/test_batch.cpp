/// A batch from a bench test on the torque meter.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "energy_balance.h"
#include "propwright/base/table.h"

namespace propwright::rubber {
namespace {

constexpr double noise_of_reading = 0.05;  // a torque meter read by eye
constexpr double noise_of_greatest = 0.01;
constexpr double energy_low_J_per_kg = 500, energy_high_J_per_kg = 25000;

struct Readings {
  std::vector<double> turns, winding_Nm, unwinding_Nm;
};

base::Problems check_motor(const TestMotor& motor) {
  base::Problems problems;
  const auto check = [&](const char* field, double value, double high) {
    if (value > 0 && value <= high) return;
    problems.push_back({.field = field,
                        .value = fmt::format("{:g}", value),
                        .allowed = fmt::format("above 0, at most {:g}", high),
                        .remedy = "give the measure of the motor tested",
                        .message = "cannot be the measure of a motor"});
  };
  check("section_m2", motor.section_m2, 1e-3);
  check("length_m", motor.length_m, 10);
  check("mass_kg", motor.mass_kg, 1);
  if (!problems.empty()) return problems;
  const double density = motor.mass_kg / (motor.section_m2 * motor.length_m);
  if (density >= density_low_kg_m3 && density <= density_high_kg_m3) return problems;
  const bool heavy = density > density_high_kg_m3;
  problems.push_back(
      {.field = "mass_kg",
       .value = fmt::format("{:.0f} kg/m3 from mass over section times length", density),
       .allowed = fmt::format("{:g} to {:g} kg/m3", density_low_kg_m3, density_high_kg_m3),
       .remedy = heavy
                     ? "check that the section counts all strands, that the length is that of the "
                       "loop, and the scale"
                     : "check that the section counts each strand once, that the length is that "
                       "of the loop and not of the strip, and the scale",
       .message = heavy ? "the motor is too heavy for its section and length"
                        : "the motor is too light for its section and length"});
  return problems;
}

base::Problems check_rows(const base::Table& table, const Readings& readings,
                          const std::string& file) {
  base::Problems problems;
  const std::size_t rows = readings.turns.size();
  if (rows < 4) {
    problems.push_back({.file = file,
                        .line = table.line(rows - 1),
                        .field = "turns",
                        .value = fmt::format("{} rows", rows),
                        .allowed = "4 rows or more",
                        .remedy = "read the torque at more numbers of turns, closely near the end",
                        .message = "too few rows for a curve"});
    return problems;
  }
  const double greatest_Nm =
      *std::max_element(readings.winding_Nm.begin(), readings.winding_Nm.end());
  for (std::size_t i = 0; i < rows; ++i) {
    if (i > 0 && readings.turns[i] <= readings.turns[i - 1]) {
      problems.push_back(
          {.file = file,
           .line = table.line(i),
           .field = "turns",
           .value = fmt::format("{:g}", readings.turns[i]),
           .allowed = fmt::format("above {:g}, the row before", readings.turns[i - 1]),
           .remedy = "put the rows in order of turns, each number once",
           .message = "turns do not rise from row to row"});
    }
    const double allowed_Nm = std::max((1 + noise_of_reading) * readings.winding_Nm[i],
                                       readings.winding_Nm[i] + noise_of_greatest * greatest_Nm);
    if (readings.unwinding_Nm[i] > allowed_Nm) {
      problems.push_back({.file = file,
                          .line = table.line(i),
                          .field = "torque_unwinding_Nm",
                          .value = fmt::format("{:g}", readings.unwinding_Nm[i]),
                          .allowed = fmt::format("at most {:g}, the winding torque and 5 % for "
                                                 "reading noise",
                                                 allowed_Nm),
                          .remedy = "check whether the two torque columns are exchanged",
                          .message = "rubber gives back more torque than it took"});
    }
  }
  if (problems.empty() && readings.unwinding_Nm.back() <= 0) {
    problems.push_back({.file = file,
                        .line = table.line(rows - 1),
                        .field = "torque_unwinding_Nm",
                        .value = fmt::format("{:g}", readings.unwinding_Nm.back()),
                        .allowed = "above 0",
                        .remedy = "end the table with the torque at the greatest turns, before "
                                  "unwinding began",
                        .message = "no torque at the greatest turns"});
  }
  return problems;
}

/// The readings from zero turns to breaking turns: end points the test lacks are added and noted.
base::Expected<double> complete(Readings& readings, double breaking_turns, Batch& batch,
                                const std::string& file) {
  const double last = readings.turns.back();
  const double breaking = breaking_turns > 0 ? breaking_turns : last;
  if (!std::isfinite(breaking) || breaking < last) {
    return base::fail({.file = file,
                       .field = "breaking_turns",
                       .value = fmt::format("{:g}", breaking),
                       .allowed = fmt::format("at least {:g}, the last row", last),
                       .remedy = "give the turns at which this motor would break, or leave it out",
                       .message = "the test goes beyond the breaking turns"});
  }
  if (readings.turns.front() > 0) {
    readings.turns.insert(readings.turns.begin(), 0.0);
    readings.winding_Nm.insert(readings.winding_Nm.begin(), 0.0);
    readings.unwinding_Nm.insert(readings.unwinding_Nm.begin(), 0.0);
    batch.notes.push_back("The test has no row at zero turns: no torque is assumed there.");
  }
  if (breaking > last) {
    readings.turns.push_back(breaking);
    readings.winding_Nm.push_back(readings.winding_Nm.back());
    readings.unwinding_Nm.push_back(readings.unwinding_Nm.back());
    batch.notes.push_back(
        fmt::format("The test ends at {:.0f} % of breaking turns; the torque is held above.",
                    100 * last / breaking));
  } else if (breaking_turns <= 0) {
    batch.notes.push_back("The last row of the test is taken as breaking turns.");
  }
  return breaking;
}

/// Makes both curves, over x and over the unwinding torque at breaking turns.
base::Expected<double> make_curves(const Readings& readings, double breaking, Batch& batch) {
  const double peak_Nm = readings.unwinding_Nm.back();
  std::vector<double> x, unwinding, winding;
  for (std::size_t i = 0; i < readings.turns.size(); ++i) {
    x.push_back(readings.turns[i] / breaking);
    unwinding.push_back(readings.unwinding_Nm[i] / peak_Nm);
    // Reading noise above the winding torque must not make the rubber a source of energy.
    winding.push_back(std::max(readings.winding_Nm[i], readings.unwinding_Nm[i]) / peak_Nm);
  }
  auto given_back = base::MonotoneCurve::through(x, unwinding);
  if (!given_back) return base::fail(given_back.error());
  auto taken = base::MonotoneCurve::through(x, winding);
  if (!taken) return base::fail(taken.error());
  batch.unwinding = *given_back;
  batch.winding = *taken;
  const double area = batch.unwinding.integral(0, 1);
  batch.returned_over_stored = area / batch.winding.integral(0, 1);
  return area;
}

/// `last_line`: of the greatest turns.
base::Problems check_result(const Batch& batch, const std::string& file, int last_line) {
  base::Problems problems;
  if (batch.turns_constant < turns_constant_low || batch.turns_constant > turns_constant_high) {
    problems.push_back({.file = file,
                        .line = last_line,
                        .field = "turns",
                        .value = fmt::format("turns constant {:.3g}", batch.turns_constant),
                        .allowed = fmt::format("{:g} to {:g}, about 10.6 for modern strip",
                                               turns_constant_low, turns_constant_high),
                        .remedy =
                            "check that turns are of the motor and not of the winder's crank, "
                            "the section and the loop length",
                        .message = "breaking turns do not fit the section and length"});
  }
  if (batch.energy_J_per_kg < energy_low_J_per_kg || batch.energy_J_per_kg > energy_high_J_per_kg) {
    problems.push_back({.file = file,
                        .field = "torque_unwinding_Nm",
                        .value = fmt::format("{:.3g} J/kg returned", batch.energy_J_per_kg),
                        .allowed = fmt::format("{:g} to {:g} J/kg, 9000 to 14300 for modern strip",
                                               energy_low_J_per_kg, energy_high_J_per_kg),
                        .remedy = "check the unit of the torque columns (N m) and the mass",
                        .message = "the energy returned cannot be that of rubber"});
  }
  return problems;
}

}  // namespace

base::Expected<Batch> batch_from_test(std::string_view csv, const TestMotor& motor,
                                      const std::string& file, double breaking_turns) {
  base::Problems problems = check_motor(motor);
  const auto table = base::Table::read(csv,
                                       {{.name = "turns", .low = 0, .high = 1e6},
                                        {.name = "torque_winding_Nm", .low = 0, .high = 10},
                                        {.name = "torque_unwinding_Nm", .low = 0, .high = 10}},
                                       file, true);
  if (!table) problems.insert(problems.end(), table.error().begin(), table.error().end());
  if (!problems.empty()) return base::fail(std::move(problems));

  Readings readings{table->column("turns"), table->column("torque_winding_Nm"),
                    table->column("torque_unwinding_Nm")};
  problems = check_rows(*table, readings, file);
  if (!problems.empty()) return base::fail(std::move(problems));

  Batch batch;
  batch.measured = true;
  const auto breaking = complete(readings, breaking_turns, batch, file);
  if (!breaking) return base::fail(breaking.error());
  const auto area = make_curves(readings, *breaking, batch);
  if (!area) return base::fail(area.error());
  batch.turns_constant = *breaking * std::sqrt(motor.section_m2) / motor.length_m;
  batch.density_kg_m3 = motor.mass_kg / (motor.section_m2 * motor.length_m);
  batch.energy_J_per_kg =
      2 * base::pi * *breaking * readings.unwinding_Nm.back() * *area / motor.mass_kg;
  set_torque_constant(batch, *area);
  problems = check_result(batch, file, table->line(table->rows() - 1));
  if (!problems.empty()) return base::fail(std::move(problems));
  return batch;
}

}  // namespace propwright::rubber
