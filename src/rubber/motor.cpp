/// A motor cut from a batch: torque, energy, and turns for a torque.
#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "energy_balance.h"
#include "propwright/base/constants.h"

namespace propwright::rubber {
namespace {

constexpr double factor_low = 0.6, factor_high = 1.2;  // no reading beyond; keeps torque positive

double unclamped_temperature_factor(const Batch& batch, double temperature_K) {
  return 1 + batch.temperature_coefficient_per_K * (temperature_K - batch.test_temperature_K);
}

/// Unwinding torque at breaking turns, N m.
double peak_torque_Nm(const Motor& motor) {
  const double section = motor.section_m2;
  const double cut_mass_kg = motor.batch.density_kg_m3 * section * motor.length_m;
  const double warm = std::clamp(unclamped_temperature_factor(motor.batch, motor.temperature_K),
                                 factor_low, factor_high);
  return motor.batch.torque_constant_Pa * section * std::sqrt(section) *
         (motor.mass_kg / cut_mass_kg) * warm;
}

base::Problems check_sizes(double section_m2, double length_m, double mass_kg,
                           double spacer_mass_kg, double temperature_K) {
  base::Problems problems;
  const auto check = [&](const char* field, double value, double low, double high,
                         const char* remedy) {
    if (value >= low && value <= high) return;
    problems.push_back({.field = field,
                        .value = fmt::format("{:g}", value),
                        .allowed = fmt::format("{:g} to {:g}", low, high),
                        .remedy = remedy,
                        .message = "outside what a motor can be"});
  };
  check("section_m2", section_m2, 1e-8, 1e-4, "give the section of all strands together");
  check("length_m", length_m, 0.01, 5, "give the unloaded length of the loop");
  check("mass_kg", mass_kg, 0, 0.1, "give the mass of the rubber, or 0 to compute it");
  check("spacer_mass_kg", spacer_mass_kg, 0, 0.1, "give the mass of the spacer, or 0");
  check("temperature_K", temperature_K, 250, 330, "give the temperature of the rubber in flight");
  return problems;
}

void add_notes(Motor& motor) {
  const double cut_mass_kg = motor.batch.density_kg_m3 * motor.section_m2 * motor.length_m;
  if (std::abs(motor.mass_kg / cut_mass_kg - 1) > 0.1) {
    motor.notes.push_back(
        fmt::format("The motor's mass, {:.4g} g, is {:.0f} % of density times section times "
                    "length, {:.4g} g: the torque is scaled with it; check section and length.",
                    1e3 * motor.mass_kg, 100 * motor.mass_kg / cut_mass_kg, 1e3 * cut_mass_kg));
  }
  const double celsius = motor.temperature_K - base::celsius_0_K;
  if (motor.temperature_K == motor.batch.test_temperature_K) return;
  if (celsius < 15 || celsius > 28) {
    motor.notes.push_back(
        fmt::format("At {:.0f}\u00a0°C ({:.0f}\u00a0°F) the temperature effect is carried beyond "
                    "where it was read (15 to 28\u00a0°C, 59 to 82\u00a0°F); some batches go soft "
                    "above 27\u00a0°C (81\u00a0°F).",
                    celsius, 1.8 * celsius + 32));
  }
  const double factor = unclamped_temperature_factor(motor.batch, motor.temperature_K);
  if (factor < factor_low || factor > factor_high) {
    motor.notes.push_back(fmt::format("The temperature factor {:.2f} is held within {} to {}.",
                                      factor, factor_low, factor_high));
  }
}

}  // namespace

void scale(Motor& motor, double energy, double turns) {
  motor.batch.energy_J_per_kg *= energy;
  motor.batch.torque_constant_Pa *= energy / turns;
  motor.breaking_turns *= turns;
}

base::Expected<Motor> make_motor(const Batch& batch, double section_m2, double length_m,
                                 double mass_kg, double spacer_mass_kg, double temperature_K) {
  auto problems = check_sizes(section_m2, length_m, mass_kg, spacer_mass_kg, temperature_K);
  if (!problems.empty()) return base::fail(std::move(problems));
  Motor motor;
  motor.batch = batch;
  motor.section_m2 = section_m2;
  motor.length_m = length_m;
  motor.mass_kg = mass_kg > 0 ? mass_kg : batch.density_kg_m3 * section_m2 * length_m;
  motor.spacer_mass_kg = spacer_mass_kg;
  motor.temperature_K = temperature_K;
  motor.breaking_turns = breaking_turns(batch, section_m2, length_m);
  add_notes(motor);
  return motor;
}

double torque_Nm(const Motor& motor, double turns) {
  if (turns < 0) return 0;
  return peak_torque_Nm(motor) * motor.batch.unwinding.value(turns / motor.breaking_turns);
}

double winding_torque_Nm(const Motor& motor, double turns) {
  if (turns < 0) return 0;
  return peak_torque_Nm(motor) * motor.batch.winding.value(turns / motor.breaking_turns);
}

double energy_J(const Motor& motor, double from_turns, double to_turns) {
  const double from = std::max(from_turns, 0.0) / motor.breaking_turns;
  const double to = std::max(to_turns, 0.0) / motor.breaking_turns;
  return 2 * base::pi * motor.breaking_turns * peak_torque_Nm(motor) *
         motor.batch.unwinding.integral(to, from);
}

double greatest_torque_Nm(const Motor& motor, double turns) {
  // Each piece of the curve is monotone, so the greatest value is at a node or at the end.
  double greatest = torque_Nm(motor, turns);
  for (const double x : motor.batch.unwinding.x()) {
    const double node = x * motor.breaking_turns;
    if (node < turns) greatest = std::max(greatest, torque_Nm(motor, node));
  }
  return greatest;
}

base::Expected<double> turns_at_torque(const Motor& motor, double torque_Nm, double turns_limit) {
  const auto& curve = motor.batch.unwinding;
  const double wanted = torque_Nm / peak_torque_Nm(motor);
  const auto excess = [&](double x) { return curve.value(x) - wanted; };
  double upper = std::min(turns_limit / motor.breaking_turns, 1.0);
  if (upper >= 0 && excess(upper) == 0) return upper * motor.breaking_turns;
  // Each piece of the curve is monotone, so the first change of sign from above holds the answer.
  for (auto node = curve.x().rbegin(); node != curve.x().rend(); ++node) {
    if (*node >= upper) continue;
    if (excess(*node) == 0) return *node * motor.breaking_turns;
    if (excess(*node) * excess(upper) < 0) {
      boost::uintmax_t steps = 200;
      const auto close = [](double a, double b) { return std::abs(b - a) < 1e-12; };
      const auto root = boost::math::tools::toms748_solve(excess, *node, upper, close, steps);
      return (root.first + root.second) / 2 * motor.breaking_turns;
    }
    upper = *node;
  }
  const double at_limit_Nm = rubber::torque_Nm(motor, std::min(turns_limit, motor.breaking_turns));
  return base::fail({.kind = base::Kind::no_solution,
                     .field = "torque_Nm",
                     .value = fmt::format("{:.4g}", torque_Nm),
                     .allowed = fmt::format("0 to {:.4g}, the torque at {:.0f} turns", at_limit_Nm,
                                            std::min(turns_limit, motor.breaking_turns)),
                     .remedy = "wind more, or take a thicker motor",
                     .message = "the motor does not give this torque"});
}

double loop_length_m(const Batch& batch, double mass_kg, double section_m2) {
  return mass_kg / (batch.density_kg_m3 * section_m2);
}

double breaking_turns(const Batch& batch, double section_m2, double length_m) {
  return batch.turns_constant * length_m / std::sqrt(section_m2);
}

}  // namespace propwright::rubber
