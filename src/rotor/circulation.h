/// The factor that ties the circulation of B blades to that of infinitely many.
// x       radius over tip radius
// lambda  helix parameter of the wake, x |tan(phi)|
// G       Goldstein's circulation function, B Gamma/(2 pi l w)
// F       factor on the momentum balance: F = G (x^2 + lambda^2)/x^2
#pragma once

#include <array>

#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// Prandtl's factor F = (2/pi) acos(exp(-f)) with f = (B/2)(1-x)/(x sin phi) (local helix) or
/// f = (B/2)(1-x) sqrt(1+lambda^2)/lambda (tip helix).
double prandtl_factor(int blades, double x, double lambda, WakeHelix helix);

/// The exact factor from data/goldstein_circulation.csv: ln(F/F_Prandtl) interpolated by monotone
/// cubics in ln x and lambda/(1 + lambda). Past the table: lambda -> 0 Prandtl's; lambda ->
/// infinity, B = 2, x sqrt(1-x^2)/(pi lambda^2) for G, other B extrapolated in 1/lambda^2. It
/// exceeds 1 inboard. blades 2..4. Error of the table itself: 0.2 %, 1 % at x > 0.95.
double exact_factor(int blades, double x, double lambda);

/// One station's factor over the inflow angle, tabulated for speed: cubic Hermite in
/// u = lambda/(1 + lambda) = x |sin| / (|cos| + x |sin|), which is smooth through phi = 90 degrees.
class FactorTable {
 public:
  FactorTable() = default;
  FactorTable(int blades, double x, double root_x, const Options& options);

  struct Value {
    double factor, slope;  ///< F and dF/dphi
  };
  Value at(double sine, double cosine) const {
    const double s = sine < 0 ? -sine : sine;
    const double c = cosine < 0 ? -cosine : cosine;
    const double denominator = c + x_ * s;
    const double place = x_ * s / denominator * intervals;
    const int cell = place >= intervals ? intervals - 1 : static_cast<int>(place);
    const double t = place - cell;
    const Knot& low = knots_[static_cast<std::size_t>(cell)];
    const Knot& high = knots_[static_cast<std::size_t>(cell) + 1];
    const double rise = high.value - low.value;
    const double a = low.slope - rise;
    const double b = rise - high.slope;
    const double value = low.value + t * (rise + (1 - t) * (a * (1 - t) + b * t));
    const double slope =
        6 * t * (1 - t) * rise + (1 - t) * (1 - 3 * t) * low.slope + t * (3 * t - 2) * high.slope;
    const double by_phi = slope * intervals * x_ / (denominator * denominator);
    return {value, (sine < 0) == (cosine < 0) ? by_phi : -by_phi};
  }

 private:
  static constexpr int intervals = 48;
  struct Knot {
    double value, slope;  // slope per interval
  };
  double x_ = 0;
  std::array<Knot, intervals + 1> knots_{};
};

}  // namespace propwright::rotor
