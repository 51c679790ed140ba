/// A batch from several tested motors: the mean curve with its scatter, and two batches compared.
#pragma once

#include <string>
#include <vector>

#include "propwright/rubber/rubber.h"

namespace propwright::rubber {

/// Mean and scatter of one figure over the motors of a batch.
struct Spread {
  double mean = 0;
  double scatter = 0;  ///< standard deviation from motor to motor; 0 with one motor
  double low = 0,
         high = 0;  ///< 90 % interval of the mean (Student's t); equal to mean for one motor
  int motors = 0;
};
/// Mean, standard deviation (n - 1) and the t interval of the mean. `values` not empty.
Spread spread_of(const std::vector<double>& values);

/// One point of the batch curve, all at a share x of breaking turns and over the batch's mean
/// k_Q A^1.5, so that a motor with more torque stands higher.
struct CurvePoint {
  double x = 0;
  double q = 0, q_scatter = 0;                  ///< unwinding
  double q_winding = 0, q_winding_scatter = 0;  ///< winding
};

struct BatchOfTests {
  Batch mean;  ///< fit for make_motor
  Spread energy_J_per_kg, turns_constant, torque_constant_Pa, density_kg_m3, returned_over_stored;
  std::vector<CurvePoint> curve;  ///< 41 points over 0..1
  /// Each motor at the rows of its own test, drawn to the same scale; without scatter.
  std::vector<std::vector<CurvePoint>> motors = {};
  std::vector<std::string> notes = {};
};

/// The mean of the tests. Each is brought to the temperature of the first by the batch's own
/// coefficient before it is averaged. `tests` not empty, at most 100.
/// Problem: bad_input "tests" where it is empty.
base::Expected<BatchOfTests> batch_of_tests(const std::vector<Batch>& tests);

/// The bench test that one motor of the mean rubber would give, as batch_from_test reads it:
/// energy, turns constant and density come back within the digits written (1e-9).
struct MeanTest {
  TestMotor motor;
  std::string csv;  ///< turns, torque_winding_Nm, torque_unwinding_Nm
};
/// `mean` of a batch of tests; section_m2 1e-8..1e-4, length_m 0.01..5 of that motor.
MeanTest mean_test(const Batch& mean, double section_m2, double length_m);

/// How sure a difference is.
enum class Difference {
  clear,     ///< the 90 % interval does not hold zero
  not_seen,  ///< it does
  unknown,   ///< fewer than two motors on one side
};

/// The second batch over the first in one figure.
struct FigureComparison {
  std::string name;          ///< "energy_J_per_kg"
  double ratio = 1;          ///< second mean over first mean
  double low = 1, high = 1;  ///< 90 % interval of the ratio (Welch; delta method)
  Difference difference = Difference::unknown;
};
/// Energy, turns constant and torque constant compared; those of the second brought to the
/// temperature of the first by its own coefficient.
std::vector<FigureComparison> compare_batches(const BatchOfTests& first,
                                              const BatchOfTests& second);

}  // namespace propwright::rubber
