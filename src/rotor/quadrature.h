#pragma once

#include <vector>

namespace propwright::rotor {

/// Places and weights of a rule on [from, to].
struct Rule {
  std::vector<double> place, weight;
};

/// Gauss-Legendre rule of `count` points with the substitution r = to - (to - from)(1 - s)^2: the
/// loading of a blade falls to its tip like a square root, which this turns into a polynomial.
Rule tip_rule(double from, double to, int count);

}  // namespace propwright::rotor
