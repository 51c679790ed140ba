/// A smooth curve through points that never overshoots them.
#pragma once

#include <vector>

#include "propwright/base/problem.h"

namespace propwright::base {

/// Piecewise cubic through (x, y), once continuously differentiable and monotone wherever the data
/// are: Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304, weighted harmonic-mean
/// slopes, with their one-sided end formula. Outside the data the end value is held.
class MonotoneCurve {
 public:
  MonotoneCurve() = default;

  /// Makes the curve. x strictly increasing, at least one point, all values finite.
  /// Problem: bad_input naming the offending row (1-based).
  static Expected<MonotoneCurve> through(std::vector<double> x, std::vector<double> y);

  double value(double x) const;                   ///< y(x); end value outside the data
  double slope(double x) const;                   ///< dy/dx; 0 outside the data
  double integral(double from, double to) const;  ///< exact integral of the cubic pieces

  bool empty() const { return x_.empty(); }
  const std::vector<double>& x() const { return x_; }
  const std::vector<double>& y() const { return y_; }

 private:
  std::size_t piece(double x) const;
  double integral_from_start(double x) const;

  std::vector<double> x_, y_, slope_, cumulative_;
};

}  // namespace propwright::base
