#include "quadrature.h"

#include <algorithm>
#include <boost/math/special_functions/legendre.hpp>
#include <cstddef>

namespace propwright::rotor {

Rule tip_rule(double from, double to, int count) {
  std::vector<double> roots;  // on (-1, 1), increasing
  for (const double root : boost::math::legendre_p_zeros<double>(count)) {
    roots.push_back(root);
    if (root > 0) roots.push_back(-root);
  }
  std::sort(roots.begin(), roots.end());
  Rule rule;
  for (const double root : roots) {
    const double slope = boost::math::legendre_p_prime(count, root);
    const double weight = 2 / ((1 - root * root) * slope * slope);
    const double s = (1 + root) / 2;
    rule.place.push_back(to - (to - from) * (1 - s) * (1 - s));
    rule.weight.push_back(weight / 2 * 2 * (1 - s) * (to - from));
  }
  return rule;
}

}  // namespace propwright::rotor
