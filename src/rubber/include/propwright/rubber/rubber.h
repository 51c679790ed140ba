/// Rubber strip motors: one batch curve serves every size.
/// Symbols: A section of all strands, L unloaded loop length (broken in), N turns in the motor,
/// N_break = kappa L/sqrt(A), x = N/N_break, Q = k_Q A^1.5 q(x) with q(1) = 1. turns ~ L/sqrt(A)
/// and torque ~ A^1.5 are the similarity of twisted strip (common practice).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "propwright/base/monotone_curve.h"
#include "propwright/base/problem.h"
#include "propwright/rubber/usual_strip.h"

namespace propwright::rubber {

/// What is known of a batch of strip.
struct Batch {
  base::MonotoneCurve unwinding;  ///< q over x, 0..1; q(1) = 1
  base::MonotoneCurve winding;    ///< the same while winding, >= unwinding; ratio to the same k_Q
  double turns_constant = 0;      ///< kappa, -, 5..20
  double torque_constant_Pa = 0;  ///< k_Q, Pa
  double density_kg_m3 = 0;
  double energy_J_per_kg = 0;       ///< returned from breaking turns (area under q)
  double returned_over_stored = 0;  ///< area under unwinding over area under winding
  double test_temperature_K = 293.15;
  double temperature_coefficient_per_K = 0.0081;  ///< of energy; builders' archive, 15-28 degC
  bool measured = false;  ///< false: the default guess, to be replaced by a bench test
  std::vector<std::string> notes;
};

/// Default strip: shape fitted to the few published facts (docs/method.md, Rubber), a guess to be
/// replaced by the builder's own test. energy_J_per_kg 6e3..16e3, turns_constant 5..20,
/// density_kg_m3 800..1150. Problem: bad_input naming the argument out of range.
base::Expected<Batch> default_batch(double energy_J_per_kg = 12000, double turns_constant = 10.6,
                                    double density_kg_m3 = usual_rubber_density_kg_m3);

/// The motor of a bench test.
struct TestMotor {
  double section_m2 = 0;  ///< all strands
  double length_m = 0;    ///< unloaded loop length, broken in
  double mass_kg = 0;
};

/// A batch from a bench test: CSV columns turns, torque_winding_Nm, torque_unwinding_Nm (rows in
/// order of turns, at least four; the last row is taken as breaking turns unless breaking_turns > 0
/// is given, which may not be below the last row: above it the torque is held, which errs on the
/// low side). A test without a row at zero turns gets the point of no turns and no torque. Between
/// rows monotone cubics. Unwinding may stand above winding by 5 % of the winding torque or 1 % of
/// the greatest, as reading noise. The test temperature stays 293.15 K unless the caller sets it.
/// Problem: bad_input with file, line, column; also where the density m/(A L) is outside
/// 800..1150 kg/m3, the turns constant outside 5..20, or the energy outside 500..25000 J/kg.
base::Expected<Batch> batch_from_test(std::string_view csv, const TestMotor& motor,
                                      const std::string& file, double breaking_turns = 0);

/// A motor cut from a batch.
struct Motor {
  Batch batch;
  double section_m2 = 0;           ///< A, all strands
  double length_m = 0;             ///< L, loop
  double mass_kg = 0;              ///< rubber only
  double spacer_mass_kg = 0;       ///< a partial motor's spacer, carried but giving nothing
  double temperature_K = 293.15;   ///< of the rubber in flight
  double breaking_turns = 0;       ///< N_break
  std::vector<std::string> notes;  ///< what the builder should know of this motor
};

/// Builds a motor; mass from section, length and density where `mass_kg` is 0, else the torque is
/// scaled by mass/(rho A L), so that the energy is energy_J_per_kg times the mass given (a knot and
/// the lubricant weigh too); noted when the two differ by more than 10 %. section_m2 1e-8..1e-4,
/// length_m 0.01..5, masses 0..0.1 kg, temperature_K 250..330. Torque and energy carry the factor
/// 1 + c (T - T_test), held within 0.6..1.2; noted when T is outside 15..28 degC, where c was read.
/// Problem: bad_input naming the argument.
base::Expected<Motor> make_motor(const Batch& batch, double section_m2, double length_m,
                                 double mass_kg, double spacer_mass_kg, double temperature_K);

/// Gives a motor `energy` times its energy and `turns` times its breaking turns, both > 0; the same
/// energy over more turns is less torque.
void scale(Motor& motor, double energy, double turns);

/// Torque at N turns while unwinding, N m. 0 below zero turns; held beyond N_break.
double torque_Nm(const Motor& motor, double turns);
/// Greatest unwinding torque anywhere from no turns to N, N m: a test need not rise all the way.
double greatest_torque_Nm(const Motor& motor, double turns);
/// Torque at N turns while winding, N m. 0 below zero turns; held beyond N_break.
double winding_torque_Nm(const Motor& motor, double turns);
/// Energy given back between N = from and N = to (from > to positive), J; exact integral.
double energy_J(const Motor& motor, double from_turns, double to_turns);
/// Turns at which the unwinding torque is `torque_Nm` (the largest such N <= turns_limit and
/// <= N_break), to 1e-10 of N_break.
/// Problem: no_solution when the motor never gives that torque.
base::Expected<double> turns_at_torque(const Motor& motor, double torque_Nm, double turns_limit);

/// Length and section of a motor with the same batch for a given mass and section: L = m/(rho A).
double loop_length_m(const Batch& batch, double mass_kg, double section_m2);

/// Breaking turns of a loop, N = kappa L/sqrt(A).
double breaking_turns(const Batch& batch, double section_m2, double length_m);

}  // namespace propwright::rubber
